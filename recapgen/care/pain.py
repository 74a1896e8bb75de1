"""Pain that the student wrote down near the day on which a page is read.

Only what was typed counts: a day with a yes, with or without a place. Nothing is inferred from
balls, effort or clips.
"""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from msgspec import Struct

from recapgen.care import bounds
from recapgen.care.areas import is_chest
from recapgen.care.load import days_before
from recapgen.model.practice_log import LogEntry, PracticeLog


class WrittenPain(Struct, frozen=True):
    """``days`` with pain within two weeks; ``last`` is the newest line of them.

    ``chest`` is True where any of the lines names the chest.
    """

    days: int
    last: LogEntry
    chest: bool


def written_pain(log: PracticeLog, read_on: Sequence[date]) -> WrittenPain | None:
    """The pain of the two weeks up to one of the days ``read_on``: the two with most such days."""
    windows = [found for day in sorted(read_on) if (found := _near(log, day))]
    if not windows:
        return None
    chosen = max(reversed(windows), key=_days)  # of two with as many days the later
    lines = [line for window in windows for line in window]
    return WrittenPain(
        days=_days(chosen),
        last=chosen[-1],
        chest=any(is_chest(line.pain_place) for line in lines if line.pain_place),
    )


def next_change(log: PracticeLog, today: date) -> date | None:
    """The first day after ``today`` on which a line of pain begins or ceases to count."""
    return min((day for day in _turns(log) if day > today), default=None)


def _turns(log: PracticeLog) -> Iterator[date]:
    for line in log.entries:
        if line.pain:
            yield line.on
            if date.max - line.on > timedelta(days=bounds.PAIN_DAYS):
                yield line.on + timedelta(days=bounds.PAIN_DAYS + 1)


def _near(log: PracticeLog, day: date) -> list[LogEntry]:
    near = [e for e in log.entries if e.pain and 0 <= days_before(e, day) <= bounds.PAIN_DAYS]
    return sorted(near, key=lambda line: line.on)


def _days(lines: Sequence[LogEntry]) -> int:
    return len({line.on for line in lines})
