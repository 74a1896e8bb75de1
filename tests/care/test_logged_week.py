"""What the log says of the last seven days, beside the time before them, at each bound."""

from datetime import timedelta

import pytest

from recapgen.care.load import week_up_to
from recapgen.model.care import NoteCode
from recapgen.model.practice_log import LogEntry
from tests.care.setting import HERE, ON, entry, log

BEFORE = [entry(back * 7 + 8, 100) for back in range(4)]  # four weeks of one session of 100


def raised(*entries: LogEntry) -> set[NoteCode]:
    week = week_up_to(log(*entries), ON)
    return set(week.raised) if week else set()


@pytest.mark.parametrize(
    ("balls", "codes"),
    [
        (110, set()),
        (111, {NoteCode.SESSION_STEP}),
        (150, {NoteCode.SESSION_STEP}),
        (151, {NoteCode.SESSION_STEP, NoteCode.WEEK_STEP}),
        (200, {NoteCode.SESSION_STEP, NoteCode.WEEK_STEP}),
        (201, {NoteCode.SESSION_STEP, NoteCode.WEEK_STEP, NoteCode.WEEK_VOLUME}),
    ],
)
def test_one_session_this_week(balls: int, codes: set[NoteCode]) -> None:
    assert raised(*BEFORE, entry(2, balls)) == codes


def test_many_small_sessions_raise_the_week_alone() -> None:
    assert raised(*BEFORE, *(entry(day, 31) for day in range(5))) == {NoteCode.WEEK_STEP}
    assert raised(*BEFORE, *(entry(day, 30) for day in range(5))) == set()


def test_the_week_ends_today_and_tomorrow_is_not_yet() -> None:
    assert raised(*BEFORE, entry(6, 300))
    assert raised(*BEFORE, entry(7, 300)) == set()
    assert raised(*BEFORE, entry(-1, 300)) == set()
    assert raised(*BEFORE, entry(0, 300))


def test_without_a_history_only_the_count_itself_speaks() -> None:
    assert raised(entry(2, 200)) == set()
    assert raised(entry(2, 201)) == {NoteCode.WEEK_VOLUME}
    assert week_up_to(log(entry(2, minutes=40)), ON) is None
    assert week_up_to(log(), ON) is None


@pytest.mark.parametrize(
    ("effort", "minutes", "product"),
    [(4.0, 30, 120.0), (0.0, 30, 0.0), (None, 30, None), (4.0, None, None)],
)
def test_effort_times_minutes_is_known_where_both_are(
    effort: float | None, minutes: int | None, product: float | None
) -> None:
    line = LogEntry(ON - timedelta(days=1), HERE, minutes=minutes, effort=effort)
    assert line.effort_minutes == product
