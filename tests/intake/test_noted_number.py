"""A number noted on a phone, what they come with, the next lesson, and who is archived."""

from collections.abc import Callable, Mapping
from datetime import date, time
from pathlib import Path

import pytest

from recapgen.evidence.declared import when_declared
from recapgen.evidence.sorting import sorted_shots
from recapgen.model.evidence import Declared
from recapgen.model.problem import Code
from tests.intake.test_by_the_clock import NOTED, shots
from tests.intake.test_notes import FILE, FOLDER, front, read

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
CARRY = ("number: carry", "want: higher")
HELD = ("number: holed", "readings: {before: 3 of 10, after: 7 of 10}")


@pytest.mark.parametrize(
    ("at", "lines", "declared", "codes"),
    [
        ("10:19", (*CARRY, NOTED), Declared.NOTED, []),
        ("10:19", (*CARRY, "shots: {before: 1-8, after: 13-21}"), Declared.NOTED, []),
        ("10:25", (*CARRY, NOTED), Declared.AFTERWARDS, [Code.NOTED_TOO_LATE]),
        ("10:19", (*HELD, NOTED), Declared.NOTED, []),
        ("10:25", (*HELD, NOTED), Declared.AFTERWARDS, [Code.NOTED_TOO_LATE]),
        ("10:19", HELD, Declared.STATED, [Code.NOTED_UNCHECKED]),
        ("23:58", (*HELD, "shots: {after: 00:05-00:20}"), Declared.NOTED, []),
    ],
)
def test_it_counts_as_noted_where_it_was_in_time(
    lessons: MakeFolder,
    at: str,
    lines: tuple[str, ...],
    declared: Declared,
    codes: list[Code],
) -> None:
    notes = front(f"chosen: noted on a phone at {at}", *lines)
    table = shots() if lines[0] == CARRY[0] else None
    lesson, problems = read(lessons({FILE: notes, f"{FOLDER}/shots.csv": table}))
    assert [p.code for p in problems] == codes
    assert lesson is not None
    assert lesson.notes.declaration is not None
    told = when_declared(lesson.notes.declaration, lesson.seal, sorted_shots(lesson), lesson.on)
    assert told is declared


def test_a_time_that_is_none_is_told(lessons: MakeFolder) -> None:
    _, problems = read(lessons({FILE: front("chosen: noted on a phone at 25:19")}))
    assert [p.code for p in problems] == [Code.SPAN_UNREADABLE]


@pytest.mark.parametrize(
    ("said", "at"),
    [
        ("2027-05-02 10:30", time(10, 30)),
        ("2 May 2027, 10:30", time(10, 30)),
        ("in 3 weeks at 9:05", time(9, 5)),
        ("2.5.2027 um 18:00 Uhr", time(18)),
        ("2027-05-02T10:30", time(10, 30)),
        ("2027-05-02", None),
    ],
)
def test_the_next_lesson_may_have_a_time(lessons: MakeFolder, said: str, at: time | None) -> None:
    lesson, problems = read(lessons({FILE: front(f"next: {said}")}))
    assert problems == ()
    assert lesson is not None
    assert (lesson.notes.next_on, lesson.notes.next_at) == (date(2027, 5, 2), at)


def test_a_time_of_the_next_lesson_that_is_none_is_told(lessons: MakeFolder) -> None:
    _, problems = read(lessons({FILE: front("next: 2027-05-02 25:30")}))
    assert [p.code for p in problems] == [Code.DATE_IMPOSSIBLE]


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("2027-05-02", date(2027, 5, 2)),
        ("in 3 weeks", date(2027, 5, 2)),
        ("two weeks", date(2027, 4, 25)),
        ("a week", date(2027, 4, 18)),
    ],
)
def test_the_next_lesson_has_a_day(lessons: MakeFolder, said: str, day: date) -> None:
    lesson, problems = read(lessons({FILE: front(f"next: {said}", "usual miss: a high block")}))
    assert problems == ()
    assert lesson is not None
    assert (lesson.notes.next_on, lesson.notes.usual_miss) == (day, "a high block")


def test_a_next_lesson_before_this_one_is_a_slip(lessons: MakeFolder) -> None:
    _, problems = read(lessons({FILE: front("next: 2027-04-11")}))
    assert [p.code for p in problems] == [Code.NEXT_DAY_PAST]
