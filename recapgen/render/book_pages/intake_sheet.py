"""The intake sheet of the coach's book: one page of questions, on paper or as student.yml."""

from recapgen.model.page import Page
from recapgen.model.people import Area, Condition
from recapgen.render.environment import fill
from recapgen.words import catalogue
from recapgen.words.care_sentences import tell_chest, tell_part
from recapgen.words.catalogue import Words, key_of
from recapgen.words.languages import OWN_NAMES

SHEET_PAGE = "questions.html"
SHEET = "1"
"""The version that is printed: another one as soon as it asks for anything else."""
_AGREED = (
    ("page", "sheet.yes-no"),
    ("clips", "sheet.yes-no"),
    ("body", "sheet.yes-no"),
    ("cases", "sheet.yes-words-no"),
    ("case-clips", "sheet.yes-no"),
)
# The file's keys and what to write there; a line without words is a heading of those below it.
_FILE = (
    ("name:", "name"),
    ("hand:", "hand"),
    ("age band:", "age"),
    ("born:", "born"),
    ("first year: no", ""),
    ("language:", "language"),
    ("body: []", "body"),
    ("health: []", "health"),
    ("agreed:", ""),
    ("  page: no", ""),
    ("  clips: no", ""),
    ("  body: no", ""),
    ("  cases: no", ""),
    ("  case clips: no", ""),
    ("  since:", "asked"),
    (f"  sheet: {SHEET}", "sheet"),
    ("guardian:", "guardian"),
    ("asked:", "asked"),
    ("clinician asked:", "clinician"),
)


def sheet_page(words: Words, emergency: str | None, *, first: bool = True) -> Page:
    """The questions in the language of ``words``; the ``first`` sheet has the plain address.

    ``emergency`` is the number the coach set for the place, if any.
    """
    title = words.say("sheet.title")
    book, own = catalogue.words("en"), OWN_NAMES[words.language]
    return Page(
        path=SHEET_PAGE if first else f"questions-{words.language}.html",
        title=title if words is book else book.say("book.sheet.title", language=own),
        body=fill(
            "book/pages/questions.html.jinja",
            words,
            title=title,
            language=words.language,
            areas=tuple(dict.fromkeys(tell_part(area, words) for area in Area)),
            chest=tell_chest(words, emergency),
            conditions=[words.say(f"care.condition.{key_of(c)}") for c in Condition],
            agreed=_AGREED,
            version=SHEET,
            file=student_file(words),
        ),
    )


def student_file(words: Words) -> str:
    """The lines to copy; filled in or not, the reader takes them without a problem but a name."""
    lines = []
    for key, what in _FILE:
        remark = f"  # {words.say(f'sheet.file.{what}')}" if what else ""
        lines.append(f"{key:<17}{remark}".rstrip())
    return "\n".join(lines)
