"""Days as people write them: 2027-04-11, 11 April 2027, Apr 11 2027, 11.4.2027, 25/4/2027."""

import re
from datetime import date
from enum import StrEnum

_MONTHS = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_MONTHS_IN_YEAR = 12
_YEARS = range(1900, 2201)
_NAMED = re.compile(
    r"(?:(?P<d1>\d{1,2})(?:st|nd|rd|th)?\.?[ \-/]*(?P<m1>[a-z]{3,9})\.?"
    r"|(?P<m2>[a-z]{3,9})\.?[ \-/]*(?P<d2>\d{1,2})(?:st|nd|rd|th)?),?[ \-/]*(?P<y>\d{4})"
)
_ISO = re.compile(r"(\d{4})([-./])(\d{1,2})\2(\d{1,2})(?:[t ]\d{1,2}:\d{2}.*)?")
_NUMBERS = re.compile(r"(\d{1,2})([-./ ])(\d{1,2})\2(\d{4})")


class DayFault(StrEnum):
    UNREADABLE = "unreadable"
    AMBIGUOUS = "ambiguous"
    IMPOSSIBLE = "impossible"


def read_day(text: str) -> date | DayFault:
    """The day in ``text``, or why there is none.

    With slashes or dashes, a day and a month that could change places are ambiguous; with
    dots the day comes first, as everywhere that dots are used.
    """
    day = " ".join(text.casefold().split())
    if iso := _ISO.fullmatch(day):
        return _day(int(iso[1]), int(iso[3]), int(iso[4]))
    if named := _NAMED.fullmatch(day):
        month = _month(named["m1"] or named["m2"])
        if month is not None:
            return _day(int(named["y"]), month, int(named["d1"] or named["d2"]))
    if numbers := _NUMBERS.fullmatch(day):
        day_first = numbers[2] == "."
        return _day_or_month(int(numbers[1]), int(numbers[3]), int(numbers[4]), day_first)
    return DayFault.UNREADABLE


def _day_or_month(first: int, second: int, year: int, day_first: bool) -> date | DayFault:
    if day_first or first == second or first > _MONTHS_IN_YEAR:
        return _day(year, second, first)
    return _day(year, first, second) if second > _MONTHS_IN_YEAR else DayFault.AMBIGUOUS


def days_meant(text: str) -> tuple[date, ...]:
    """The two days that an ambiguous one may be, day first and month first; else none."""
    numbers = _NUMBERS.fullmatch(" ".join(text.casefold().split()))
    if numbers is None or read_day(text) is not DayFault.AMBIGUOUS:
        return ()
    first, second, year = int(numbers[1]), int(numbers[3]), int(numbers[4])
    meant = (_day(year, second, first), _day(year, first, second))
    return tuple(day for day in meant if not isinstance(day, DayFault))


def _month(word: str) -> int | None:
    bare = "sep" if word == "sept" else word
    found = [i for i, name in enumerate(_MONTHS, 1) if name.startswith(bare)]
    return found[0] if len(found) == 1 else None


def _day(year: int, month: int, day: int) -> date | DayFault:
    try:
        found = date(year, month, day)
    except ValueError:
        return DayFault.IMPOSSIBLE
    return found if year in _YEARS else DayFault.IMPOSSIBLE
