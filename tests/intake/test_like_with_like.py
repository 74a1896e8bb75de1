"""Swings and balls of each block: only like is compared with like."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.lesson_folder import read_lesson
from recapgen.intake.settings import read_coach
from recapgen.model.comparable import lessons_alike, swing_in
from recapgen.model.lesson import Conditions, Notes, Swing
from recapgen.model.people import Student
from recapgen.model.problem import Code
from recapgen.model.shots import Block
from recapgen.model.source import SourceRef

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
DECLARED = "number: carry\nwant: higher\nmatters: 2 m\nshots: {before: 1-6, after: 7-12}"
NOTES = "Marta/2027-04-11/notes.md"


@pytest.fixture
def read(lessons: MakeFolder) -> Callable[..., tuple[Notes, list[Code]]]:
    def make(*lines: str, declared: str = DECLARED) -> tuple[Notes, list[Code]]:
        text = "\n".join(["---", declared, *lines, "---", ""])
        found, _ = survey(lessons({NOTES: text}))
        assert found is not None
        coach, _ = read_coach(found.root)
        assert coach is not None
        (paths,) = found.students[0].lessons
        lesson, problems = read_lesson(found.root, paths, coach, Student("Marta", "Marta"))
        assert lesson is not None
        return lesson.notes, [problem.code for problem in problems]

    return make


Read = Callable[..., tuple[Notes, list[Code]]]


def test_swings_of_each_block_full_where_nothing_is_said(read: Read) -> None:
    notes, codes = read("swings: {drill: half, warm-up: rehearsal}")
    assert codes == []
    assert swing_in(notes, Block.DRILL) is Swing.HALF
    assert swing_in(notes, Block.WARM_UP) is Swing.REHEARSAL
    assert {swing_in(notes, b) for b in (Block.BEFORE, Block.AFTER, Block.CLOSING)} == {Swing.FULL}


@pytest.mark.parametrize(("lines", "expected"), [
    (["swings: {before: half, after: half swings}"], []),
    (["swings: {after: half}"], [Code.SWINGS_DIFFER]),
    (["swings: {before: half}"], [Code.SWINGS_DIFFER]),
    (["swings: {closing: half}"], [Code.SWINGS_DIFFER]),
    (["swings: {after: half}", "compare: full with half"], []),
    (["swings: {after: half}", "compare: half with full"], [Code.COMPARE_UNFIT]),
    (["swings: {after: half}", "compare: full with part"], [Code.COMPARE_UNFIT]),
    (["compare: everything"], [Code.COMPARE_UNREADABLE]),
    (["swings: {after: hlaf}"], [Code.WORD_MISSPELT]),
    (["conditions: {ball: range}"], []),
    (["conditions: {ball: {before: range, after: Range}}"], []),
    (["conditions: {ball: {before: range, after: premium}}"], [Code.BALLS_DIFFER]),
    (["conditions: {ball: {drill: foam, before: range, after: range}}"], []),
])  # fmt: skip
def test_blocks_that_differ_are_asked_about(
    read: Read, lines: list[str], expected: list[Code]
) -> None:
    assert read(*lines)[1] == expected


def test_without_a_number_nothing_is_compared(read: Read) -> None:
    spans = "shots: {before: 1-6, after: 7-12}"
    assert read("swings: {after: half}", declared=spans)[1] == []


def test_lessons_with_another_ball_or_swing_are_not_alike() -> None:
    def notes(ball: str | None) -> Notes:
        return Notes(SourceRef("notes.md"), "", club="driver", conditions=Conditions(ball=ball))

    assert lessons_alike(notes("range"), notes("Range"))
    assert lessons_alike(notes("range"), notes(None))
    assert not lessons_alike(notes("range"), notes("premium"))
