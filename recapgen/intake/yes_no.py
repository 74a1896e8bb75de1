"""Yes and no as coaches write them: English and the other languages of the pages."""

from unicodedata import normalize

_YES = frozenset(
    {
        "yes", "y", "true", "on",
        "ja", "wahr", "oui", "vrai", "sí", "si", "verdadero", "はい", "예", "네",
    }
)  # fmt: skip
_NO = frozenset(
    {
        "no", "n", "false", "off",
        "nein", "falsch", "non", "faux", "falso", "いいえ", "아니요", "아니오",
    }
)  # fmt: skip


def yes_or_no(text: str) -> bool | None:
    """What ``text`` says; None where it is neither, or more than the one word."""
    plain = normalize("NFKC", text.strip()).casefold()
    if plain in _YES:
        return True
    return False if plain in _NO else None
