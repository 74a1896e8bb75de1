"""E-mail addresses and phone numbers in a text, known again however they are typed."""

import re
from unicodedata import normalize

_EMAIL = re.compile(r"[\w.+'-]+@[\w-]+(?:\.[\w-]+)+")
# As it is typed among other words: with a plus or a zero first. No day and no decimals.
_PHONE = re.compile(
    r"(?<![\w.,+-])(?!\d\d[-/ ]\d\d[-/ ]\d{2,4})"
    r"\(?(?:\+\(?|0)\d(?:[ /()-]{0,3}\d){6,19}(?![\w.,]\d)"
)
_BETWEEN = r"[ \u00a0\u202f./()\u2010-\u2015-]{0,3}"  # signs that people set between the digits
_SHORTEST = 6
_SURELY_ONE = 9  # digits that stand in no other number by chance
# Codes of countries by their beginning: one digit, two, and three for all others.
_ONE_DIGIT = ("1", "7")
_TWO_DIGITS = frozenset(
    """20 27 30 31 32 33 34 36 39 40 41 43 44 45 46 47 48 49 51 52 53 54 55 56 57 58 60 61 62 63
    64 65 66 81 82 84 86 90 91 92 93 94 95 98""".split()  # noqa: SIM905  (reads as a list)
)


def emails_in(text: str) -> frozenset[str]:
    """Every e-mail address in ``text``, in small letters."""
    if "@" not in text and "＠" not in text:
        return frozenset()
    return frozenset(_EMAIL.findall(normalize("NFKC", text).casefold()))


def phones_in(text: str) -> tuple[str, ...]:
    """Whatever among the words of ``text`` is surely a phone number, as it stands there."""
    return tuple(_PHONE.findall(normalize("NFKC", text)))


def dialled_at_home(phone: str) -> str | None:
    """The digits of a number less the country and the zero before the area; None: no number."""
    plain = normalize("NFKC", phone).strip()
    digits = re.sub(r"\D", "", plain)
    abroad = plain.startswith(("+", "(+")) or digits.startswith("00")
    digits = digits.lstrip("0")
    if abroad:
        country = 1 if digits.startswith(_ONE_DIGIT) else 2 if digits[:2] in _TWO_DIGITS else 3
        digits = digits[country:].lstrip("0")
    return digits if len(digits) >= _SHORTEST else None


def phone_pattern(dialled: str) -> re.Pattern[str]:
    """Finds a number by its digits at home, with or without its country, however it is parted."""
    alone = r"(?<![\d.,])0?" if len(dialled) < _SURELY_ONE else ""
    return re.compile(f"{alone}{_BETWEEN.join(dialled)}(?!\\d)")
