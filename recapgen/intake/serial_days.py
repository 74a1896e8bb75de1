"""Days as a spreadsheet counts them: 46480 stands for 3 April 2027, or for 4 April 2031.

Most count from the end of 1899, some from the beginning of 1904, and a file says nothing of
which. The days of the lessons may settle it.
"""

import re
from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

_COUNTED = re.compile(r"(\d{5})(?:[.,](\d+))?")
_SECONDS_A_DAY = 86_400
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


def moments_on(cells: Sequence[str], on: date) -> list[str] | None:
    """Counts of days, with parts of a day or without, as days and times written out.

    None where they are no counts, or in neither system all of the day ``on``.
    """
    days = [counted_day(cell) for cell in cells if cell.strip()]
    known = [day for day in days if day is not None]
    if not known or len(known) < len(days):
        return None
    if not ({day.from_1900 for day in known} == {on} or {day.from_1904 for day in known} == {on}):
        return None
    return [_written(cell, on) if cell.strip() else "" for cell in cells]


def _written(cell: str, on: date) -> str:
    match = _COUNTED.fullmatch(cell.strip())
    if match is None or match[2] is None:
        return on.isoformat()
    seconds = min(round(float(f"0.{match[2]}") * _SECONDS_A_DAY), _SECONDS_A_DAY - 1)
    hours, rest = divmod(seconds, 3600)
    return f"{on.isoformat()} {hours:02d}:{rest // 60:02d}:{rest % 60:02d}"


def _near(day: date, lessons: Sequence[date]) -> bool:
    return any(abs(day - lesson) <= _NEAR for lesson in lessons)
