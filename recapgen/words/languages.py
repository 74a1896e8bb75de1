"""The languages of the students' sites, and what each must have."""

LANGUAGES = ("en", "es", "de", "fr", "ja", "ko")
OWN_NAMES = {
    "en": "English",
    "es": "español",
    "de": "Deutsch",
    "fr": "français",
    "ja": "日本語",
    "ko": "한국어",
}
STUDENT_FACING = (
    "amounts",
    "care",
    "charts",
    "evidence",
    "film",
    "lock",
    "ordinary",
    "page",
    "range",
    "sheet",
    "shots",
)
"""The files that every language has; the coach's book, console and problems are English."""
