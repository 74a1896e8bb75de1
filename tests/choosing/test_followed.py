"""Travel read from clips: one reading a clip, on the shot that the clip shows."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from msgspec.structs import replace

from recapgen.choosing.followed import Followed, with_travel
from recapgen.evidence.sorting import sorted_shots, tally
from recapgen.model.films import Travel
from recapgen.model.lesson import (
    ClipFile,
    Declaration,
    Direction,
    Guard,
    GuardKind,
    Lesson,
    MishitTag,
    Notes,
    ShotSpan,
    View,
    Want,
)
from recapgen.model.problem import Code
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, Shot, ShotStatus, ShotTable
from recapgen.model.source import SourceRef

LINE = SourceRef("anna/2027-04-11/notes.md", 9, 3)
ACROSS, UP = Quantity.TRAVEL_ACROSS, Quantity.TRAVEL_UP
STEADY = Travel(0.4, 0.1, 0.9, steady=True)
LOST = Travel(0.4, 0.1, 0.3, steady=False)
Row = tuple[int, Block | None, ShotStatus, float | None]


def told(quantity: Quantity, guard: Guard | None = None) -> Declaration:
    return Declaration(quantity, Want(Direction.LOWER), None, guard, True, LINE)


def lesson(shots: Sequence[Shot] | None, declaration: Declaration | None) -> Lesson:
    table = None if shots is None else ShotTable(tuple(shots), ("shots.csv",))
    notes = Notes(LINE, "Well done.", declaration=declaration)
    folder = Path("anna/2027-04-11")
    return Lesson("2027-04-11", date(2027, 4, 11), folder, LINE, notes, None, None, table, ())


def shot(number: int, block: Block) -> Shot:
    return Shot(number, LINE, {Quantity.CARRY: 40.0}, block)


def clip(name: str, number: int | None, block: Block | None) -> ClipFile:
    return ClipFile(Path(name), LINE, View.FACE_ON, block, number, None, LINE)


def followed(
    given: Lesson, *clips: ClipFile, lost: Sequence[str] = (), unmarked: Sequence[str] = ()
) -> Followed:
    """The n-th clip goes n tenths of a width to the right."""
    travels = {
        each.path: replace(LOST if each.path.name in lost else STEADY, across=n / 10)
        for n, each in enumerate(clips, 1)
        if each.path.name not in unmarked
    }
    return with_travel(given, clips, travels)


def rows(found: Followed, quantity: Quantity = ACROSS) -> list[Row]:
    return [
        (s.shot.number, s.block, s.status, s.shot.readings.get(quantity))
        for s in sorted_shots(found.lesson)
    ]


TABLE = (
    shot(1, Block.BEFORE), shot(2, Block.BEFORE), shot(3, Block.AFTER), shot(4, Block.AFTER),
)  # fmt: skip


def test_a_clip_adds_its_travel_to_the_shot_it_shows() -> None:
    given = lesson(TABLE, told(ACROSS))
    found = followed(given, clip("a", 2, None), clip("b", 3, None), clip("c", 4, None), lost="c")
    assert rows(found) == [
        (1, Block.BEFORE, ShotStatus.NOT_READ, None),
        (2, Block.BEFORE, ShotStatus.USED, 0.1),
        (3, Block.AFTER, ShotStatus.USED, 0.2),
        (4, Block.AFTER, ShotStatus.NOT_READ, None),
    ]
    assert rows(found, UP)[1][3] == STEADY.up
    assert found.problems == ()
    counted = tally(sorted_shots(found.lesson))
    assert (counted.read, counted.used, counted.not_read) == (4, 2, 2)


def test_a_clip_of_a_block_is_a_shot_of_its_own_behind_the_others_of_it() -> None:
    clips = (clip("late", None, Block.AFTER), clip("early", None, Block.BEFORE),
             clip("nowhere", None, None), clip("told", 1, None))  # fmt: skip
    found = followed(lesson(TABLE, told(ACROSS)), *clips)
    assert rows(found) == [
        (1, Block.BEFORE, ShotStatus.USED, 0.4),
        (2, Block.BEFORE, ShotStatus.NOT_READ, None),
        (5, Block.BEFORE, ShotStatus.USED, 0.2),
        (3, Block.AFTER, ShotStatus.NOT_READ, None),
        (4, Block.AFTER, ShotStatus.NOT_READ, None),
        (6, Block.AFTER, ShotStatus.USED, 0.1),
        (7, None, ShotStatus.SET_ASIDE, 0.3),
    ]
    assert [each.shot for each in found.clips] == [6, 5, 7, 1]


def test_without_a_table_the_clips_are_the_shots() -> None:
    given = lesson(None, told(UP))
    notes = replace(
        given.notes,
        spans=(ShotSpan(Block.BEFORE, 1, 2, LINE), ShotSpan(Block.AFTER, 3, 5, LINE)),
        mishits=(MishitTag(3, "thin", LINE),),
    )
    clips = (clip("b", 3, None), clip("a", 1, None), clip("c", None, Block.AFTER))
    found = followed(replace(given, notes=notes), *clips)
    assert rows(found) == [
        (1, Block.BEFORE, ShotStatus.USED, 0.2),
        (3, Block.AFTER, ShotStatus.USED, 0.1),
        (6, Block.AFTER, ShotStatus.USED, 0.3),
    ]
    assert [s.shot.tag for s in sorted_shots(found.lesson)] == [None, "thin", None]


def test_two_clips_of_one_shot_are_one_reading_and_a_shot_that_is_not_there_none() -> None:
    clips = (clip("a", 1, None), clip("again", 1, None), clip("c", 44, None))
    read = rows(followed(lesson(TABLE, told(ACROSS)), *clips))
    assert [row[3] for row in read] == [0.1, None, None, None]


def test_what_is_read_from_no_clip_is_left_as_it_is() -> None:
    clips = (clip("a", 1, None), clip("b", None, Block.AFTER))
    for declaration in (None, told(Quantity.CARRY)):
        given = lesson(TABLE, declaration)
        assert followed(given, *clips) == Followed(given, clips)
    given = lesson(TABLE, told(ACROSS))
    assert followed(given, *clips, unmarked="ab") == Followed(given, clips)


def test_a_guard_may_be_read_from_clips_as_well() -> None:
    guard = Guard(UP, GuardKind.LEVEL, 0.2, LINE)
    found = followed(lesson(TABLE, told(Quantity.CARRY, guard)), clip("a", 1, None))
    assert rows(found, UP)[0] == (1, Block.BEFORE, ShotStatus.USED, STEADY.up)


def test_where_none_is_steady_the_coach_is_told() -> None:
    clips = (clip("a", 1, None), clip("b", None, Block.AFTER))
    (problem,) = followed(lesson(TABLE, told(ACROSS)), *clips, lost="ab").problems
    assert (problem.code, problem.where) == (Code.NUMBER_NOT_STEADY, LINE)
    assert problem.facts == {"number": "travel across", "files": "a, b"}
