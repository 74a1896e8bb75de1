"""Blocks, mishits and left-outs by the time of day, among shots that have times of their own."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from recapgen.model.lesson import Notes
from recapgen.model.problem import Code, Problem
from tests.intake.test_notes import FILE, FOLDER, front, read

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
TEN = datetime(2027, 4, 11, 10, 0)  # noqa: DTZ001  the clock on the wall
BEFORE, DRILL, AFTER = (3, 8), (12, 4), (21, 9)
BLOCKS = (BEFORE, DRILL, AFTER)
NOTED = "shots: {before: 10:02-10:08, after: 10:20-10:29}"


def shots(
    ahead: timedelta = timedelta(), blocks: Sequence[tuple[int, int]] = BLOCKS, pace_s: int = 35
) -> str:
    """Blocks that begin so many minutes after ten, with so many balls; on a clock that is ahead."""
    rows = [
        TEN + timedelta(minutes=minute, seconds=pace_s * ball) + ahead
        for minute, balls in blocks
        for ball in range(balls)
    ]
    lines = (f"{n},{at.isoformat()},{130 + n % 5}" for n, at in enumerate(rows, 1))
    return "\n".join(("shot,time,carry [m]", *lines, ""))


@pytest.fixture
def told(lessons: MakeFolder) -> Callable[..., tuple[Notes, tuple[Problem, ...]]]:
    def make(table: str, *lines: str) -> tuple[Notes, tuple[Problem, ...]]:
        lesson, problems = read(lessons({FILE: front(*lines), f"{FOLDER}/shots.csv": table}))
        assert lesson is not None
        return lesson.notes, problems

    return make


Told = Callable[..., tuple[Notes, tuple[Problem, ...]]]


def blocks_of(notes: Notes) -> list[tuple[str, int, int]]:
    return [(span.block.value, span.first, span.last) for span in notes.spans]


AS_MEANT = [("before", 1, 8), ("after", 13, 21)]


def test_clocks_that_tell_alike_need_no_word(told: Told) -> None:
    notes, problems = told(shots(), NOTED)
    assert problems == ()
    assert blocks_of(notes) == AS_MEANT


@pytest.mark.parametrize("ahead", [timedelta(hours=2), timedelta(hours=-7), timedelta(minutes=63)])
def test_a_clock_hours_off_is_found_and_told(told: Told, ahead: timedelta) -> None:
    notes, problems = told(shots(ahead), NOTED)
    assert [p.code for p in problems] == [Code.CLOCKS_DIFFER]
    assert blocks_of(notes) == AS_MEANT
    assert problems[0].facts["shots"] == "before 1-8, after 13-21"


def test_what_is_taken_with_another_clock_can_be_kept_in_numbers(told: Told) -> None:
    _, problems = told(shots(timedelta(hours=2)), NOTED)
    (offer,) = problems[0].offers
    assert [change.new for change in offer.changes] == ["1-8", "13-21"]  # type: ignore[union-attr]


def test_several_differences_are_asked(told: Told) -> None:
    """Four blocks alike, noted on a clock that is an hour off: which two are meant?"""
    alike = tuple((minute, 6) for minute in (3, 12, 21, 30))
    notes, problems = told(
        shots(timedelta(hours=1), alike), "shots: {before: 10:03-10:07, after: 10:12-10:16}"
    )
    assert [p.code for p in problems] == [Code.SPANS_TIME_OPEN]
    assert blocks_of(notes) == []
    assert len(problems[0].offers) == 3


def test_an_edge_within_a_run_of_balls_is_asked(told: Told) -> None:
    notes, problems = told(shots(), "shots: {before: 10:05-10:08, after: 10:20-10:29}")
    assert [p.code for p in problems] == [Code.SPANS_TIME_OPEN]
    assert blocks_of(notes) == []
    ways = [[change.new for change in offer.changes] for offer in problems[0].offers]  # type: ignore[union-attr]
    assert ways[0] == ["5-8", "13-21"]  # as both clocks have it


def test_over_midnight(told: Told) -> None:
    late = timedelta(hours=13, minutes=45)
    notes, problems = told(shots(late), "shots: {before: 23:47-23:53, after: 00:05-00:14}")
    assert problems == ()
    assert blocks_of(notes) == AS_MEANT
    notes, problems = told(shots(late), "shots: {before: 23:47-23:53, drill: 23:56-00:00}")
    assert problems == ()
    assert blocks_of(notes) == [("before", 1, 8), ("drill", 9, 12)]


@pytest.mark.parametrize(
    ("noted", "code"),
    [
        ("{before: 10:11-10:02}", Code.SPAN_BACKWARDS),
        ("{before: 10:71-10:80}", Code.SPAN_UNREADABLE),
        ("{before: 10:02-10:11, after: 10:09-10:31}", Code.SPANS_OVERLAP),
        ("{before: 10:02-10:08, after: 13-21}", Code.SPAN_UNREADABLE),
        ("{before: 10:02-10:08, after: 11:20-11:29}", Code.SPANS_TIME_OPEN),
    ],
)
def test_times_that_cannot_be_are_told(told: Told, noted: str, code: Code) -> None:
    _, problems = told(shots(), f"shots: {noted}")
    assert code in [p.code for p in problems]


def test_shots_without_times_are_told(told: Told) -> None:
    table = "shot,carry [m]\n1,130\n2,131\n"
    _, problems = told(table, NOTED)
    assert [p.code for p in problems] == [Code.SHOTS_WITHOUT_TIMES]


def test_marks_by_time_go_to_the_ball_before(told: Told) -> None:
    # Balls: 10:03:00, :35, 10:04:10, :45, 10:05:20, :55, 10:06:30, 10:07:05; drill from 10:12.
    notes, problems = told(
        shots(), NOTED,
        "mishits: {10:04:20: thin, 10:06: heel, 14: toe}",
        "left out: {10:12-10:13: phone rang, 10:05:30: a dog}",
    )  # fmt: skip
    assert problems == ()
    assert [(one.shot, one.tag) for one in notes.mishits] == [(14, "toe"), (3, "thin"), (7, "heel")]
    assert [(one.shot, one.reason) for one in notes.left_out] == [
        (9, "phone rang"), (10, "phone rang"), (11, "phone rang"), (12, "phone rang"), (5, "a dog"),
    ]  # fmt: skip


def test_marks_follow_the_same_difference_of_clocks(told: Told) -> None:
    notes, problems = told(shots(timedelta(hours=2)), NOTED, "mishits: {10:06: heel}")
    assert [p.code for p in problems] == [Code.CLOCKS_DIFFER]
    assert [one.shot for one in notes.mishits] == [7]


@pytest.mark.parametrize(("at", "offered"), [("10:03", ["1", "2"]), ("10:17", ["12", "13"])])
def test_a_mark_that_may_be_several_shots_is_asked(told: Told, at: str, offered: list[str]) -> None:
    _, problems = told(shots(), NOTED, f"mishits: {{{at}: thin}}")
    assert [p.code for p in problems] == [Code.MARK_TIME_OPEN]
    assert [offer.changes[0].new for offer in problems[0].offers] == offered  # type: ignore[union-attr]


def test_a_mark_is_asked_where_the_difference_is_not_known_well_enough(told: Told) -> None:
    """Clocks that are some odd minutes apart: which ball it was may rest on that."""
    _, problems = told(shots(timedelta(minutes=63)), NOTED, "mishits: {10:06: heel}")
    assert [p.code for p in problems] == [Code.CLOCKS_DIFFER, Code.MARK_TIME_OPEN]
