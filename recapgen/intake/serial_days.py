"""Days as a spreadsheet counts them: 46480 stands for 3 April 2027, or for 4 April 2031.

Most count from the end of 1899, some from the beginning of 1904, and a file says nothing of
which. The days of the lessons may settle it.
"""

import re
from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

_COUNTED = re.compile(r"(\d{5})(?:[.,]\d+)?")
_FROM_1900, _FROM_1904 = date(1899, 12, 30), date(1904, 1, 1)
_YEARS = range(2000, 2100)
_NEAR = timedelta(days=400)


class CountedDay(NamedTuple):
    """The day that a count stands for in either system."""

    from_1900: date
    from_1904: date


def counted_day(cell: str) -> CountedDay | None:
    """None where ``cell`` is no such count, or of no day that golf is logged on."""
    match = _COUNTED.fullmatch(cell.strip())
    if match is None:
        return None
    days = timedelta(days=int(match[1]))
    found = CountedDay(_FROM_1900 + days, _FROM_1904 + days)
    return found if found.from_1900.year in _YEARS else None


def counts_from_1900(days: Sequence[CountedDay], lessons: Sequence[date]) -> bool:
    """Whether the lessons lie near the days counted from 1900, and not near the others."""
    near_1900 = all(_near(day.from_1900, lessons) for day in days)
    return near_1900 and not any(_near(day.from_1904, lessons) for day in days)


def _near(day: date, lessons: Sequence[date]) -> bool:
    return any(abs(day - lesson) <= _NEAR for lesson in lessons)
