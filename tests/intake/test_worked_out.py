"""What follows from the readings, and what happens where they contradict each other."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.intake.folder import survey
from recapgen.intake.lesson_folder import read_lesson
from recapgen.intake.settings import read_coach
from recapgen.intake.worked_out import work_out
from recapgen.model.lesson import Declaration, Direction, Lesson, Notes, Want
from recapgen.model.people import Coach, Hand, Student
from recapgen.model.problem import Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Shot, ShotTable, WorkedFrom
from recapgen.model.source import SourceRef

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
Read = Callable[..., tuple[Lesson, tuple[Problem, ...]]]
FOLDER = "Marta/2027-04-11"
BLOCKS = "shots: {before: 1-3, after: 4-6}"
LAUNCHED = "Shot,Ball Speed (m/s),Launch Angle (deg),Spin Rate (rpm),Carry (m)\n"
FAIR = "{n},51.4,16.3,7097,{carry}\n"  # a middle iron, which flies about 140 m


@pytest.fixture
def read(lessons: MakeFolder) -> Read:
    def make(
        table: str, *lines: str, columns: str = "", hand: Hand | None = Hand.RIGHT
    ) -> tuple[Lesson, tuple[Problem, ...]]:
        notes = "\n".join(["---", *lines, "---", ""])
        coach_file = f"coach: Ines Falk\nunits: {{speed: m/s, length: m}}\n{columns}"
        changes = {
            "coach.yml": coach_file,
            f"{FOLDER}/notes.md": notes,
            f"{FOLDER}/shots.csv": table,
        }
        found, _ = survey(lessons(changes))
        assert found is not None
        coach, _ = read_coach(found.root)
        assert coach is not None
        (paths,) = found.students[0].lessons
        lesson, problems = read_lesson(
            found.root, paths, coach, Student("Marta", "Marta", hand=hand)
        )
        assert lesson is not None
        return lesson, problems

    return make


def carries(*metres: float) -> str:
    return LAUNCHED + "".join(FAIR.format(n=n, carry=m) for n, m in enumerate(metres, start=1))


def doubts_of(lesson: Lesson) -> dict[int, tuple[str, ...]]:
    assert lesson.shots is not None
    return {
        shot.number: tuple(rule.name for rule in shot.doubts)
        for shot in lesson.shots.shots
        if shot.doubts
    }


def test_what_was_not_read_is_kept_apart_from_what_was(read: Read) -> None:
    lesson, _ = read("Shot,Club Speed (m/s),Ball Speed (m/s)\n1,30,42\n2,31,43\n", "club: 7 iron")
    assert lesson.shots is not None
    shot = lesson.shots.shots[0]
    assert Quantity.SMASH_FACTOR not in shot.readings
    assert shot.derived is not None
    worked = shot.derived[Quantity.SMASH_FACTOR]
    assert worked.value == pytest.approx(1.4)
    assert worked.way is WorkedFrom.SPEEDS
    assert worked.doubt > 0


def test_a_carry_far_from_its_launch_is_doubted_and_said_with_its_line(read: Read) -> None:
    lesson, problems = read(carries(140, 141, 80, 139, 142, 140), "club: 7 iron")
    assert doubts_of(lesson) == {3: ("carry-far-from-launch",)}
    (told,) = [p for p in problems if p.code is Code.SHOTS_ROW_DOUBTFUL]
    assert (told.where.line, told.facts["rows"], told.facts["lines"]) == (4, "1", "4")


@pytest.mark.parametrize(("wind", "doubted"), [("2 m/s", {3}), ("6 m/s", set())])
def test_in_a_strong_wind_no_carry_is_doubted(read: Read, wind: str, doubted: set[int]) -> None:
    conditions = f"conditions: {{wind: {wind} from 250 at 2 m}}"
    lesson, _ = read(carries(140, 141, 80, 139, 142, 140), "club: 7 iron", conditions)
    assert set(doubts_of(lesson)) == doubted


def test_balls_are_flown_through_the_air_of_their_own_block(read: Read) -> None:
    """A carry that fits thin air alone is doubted in the block that had thick air."""
    there = "conditions: {altitude: 5000 m, temperature: 30 C, before: {temperature: 30 C}}"
    lesson, _ = read(carries(140, 141, 112, 139, 112, 140), "club: 7 iron")
    assert doubts_of(lesson) == {}
    thin, _ = read(carries(140, 141, 112, 139, 112, 140), "club: 7 iron", BLOCKS, there)
    assert thin.shots is not None
    assert lesson.shots is not None
    flown = [
        shot.derived[Quantity.APEX].value for shot in (*lesson.shots.shots, *thin.shots.shots)
        if shot.derived
    ]  # fmt: skip
    assert min(flown[:6]) > max(flown[6:])


def test_a_calculated_column_is_remarked_on_and_raises_no_problem(read: Read) -> None:
    rule = "columns:\n  Carry (m): {is: carry, source: calculated}\n"
    lesson, problems = read(carries(140, 141, 80, 139, 142, 140), "club: 7 iron", columns=rule)
    assert lesson.shots is not None
    assert lesson.shots.calculated == (Quantity.CARRY,)
    assert doubts_of(lesson) == {3: ("carry-far-from-launch",)}
    assert [p.code for p in problems if p.code is Code.SHOTS_ROW_DOUBTFUL] == []


def test_a_measured_column_still_raises_one(read: Read) -> None:
    rule = "columns:\n  Carry (m): {is: carry, source: measured}\n"
    _, problems = read(carries(140, 141, 80, 139, 142, 140), "club: 7 iron", columns=rule)
    assert [p.code for p in problems].count(Code.SHOTS_ROW_DOUBTFUL) == 1


def test_a_source_misspelt_is_answered(read: Read, lessons: MakeFolder) -> None:
    del read
    text = "coach: Ines Falk\ncolumns:\n  Carry: {is: carry, source: calculatd}\n"
    _, problems = read_coach(lessons({"coach.yml": text}))
    assert [(p.code, p.where.line) for p in problems if p.where.line == 3] == [
        (Code.WORD_MISSPELT, 3)
    ]


FACES = "Shot,Club Path (R+),Face Angle (R+)\n" + "".join(
    f"{n},{n / 2 - 1},{n / 4}\n" for n in range(1, 7)
)


def test_a_number_that_is_arithmetic_of_two_others_counts_as_read(read: Read) -> None:
    declared = ("number: face to path", "want: less open", BLOCKS)
    lesson, problems = read(FACES, *declared)
    assert lesson.shots is not None
    assert lesson.shots.worked_number is WorkedFrom.FACE_AND_PATH
    assert [s.readings[Quantity.FACE_TO_PATH] for s in lesson.shots.shots] == pytest.approx(
        [n / 4 - (n / 2 - 1) for n in range(1, 7)]
    )
    assert Code.NUMBER_NOT_IN_SHOTS not in [p.code for p in problems]


def test_a_number_that_only_a_model_gives_is_never_taken_as_read(read: Read) -> None:
    table = "Shot,Ball Speed (m/s),Launch Angle (deg),Spin Rate (rpm)\n" + "".join(
        f"{n},51.4,16.3,7097\n" for n in range(1, 7)
    )
    lesson, problems = read(table, "club: 7 iron", "number: carry", "want: higher", BLOCKS)
    assert lesson.shots is not None
    assert lesson.shots.worked_number is None
    assert Code.NUMBER_NOT_IN_SHOTS in [p.code for p in problems]


WANTS = (
    ("club path", "more in-to-out", "higher"),
    ("face to path", "more closed", "lower"),
    ("curve", "more of a draw", "lower"),
    ("spin axis", "more slice", "higher"),
)


@pytest.mark.parametrize(("number", "want", "right_handed"), WANTS)
def test_a_goal_in_the_players_terms_turns_with_the_hand(
    read: Read, number: str, want: str, right_handed: str
) -> None:
    turned = {"higher": "lower", "lower": "higher"}
    for hand, direction in ((Hand.RIGHT, right_handed), (Hand.LEFT, turned[right_handed])):
        lesson, _ = read(FACES, f"number: {number}", f"want: {want}", BLOCKS, hand=hand)
        assert lesson.notes.declaration is not None
        assert lesson.notes.declaration.want.direction == direction


@pytest.mark.parametrize(
    ("number", "want"),
    [
        ("club path", "less out-to-in"),
        ("face angle", "less open"),
        ("face angle", "square"),
        ("curve", "straighter"),
        ("spin axis", "less slice"),
        ("launch direction", "less right"),
        ("carry side", "less right"),
        ("attack angle", "zero"),
    ],
)
@pytest.mark.parametrize("hand", [Hand.RIGHT, Hand.LEFT, None])
def test_less_of_a_side_ends_at_zero_for_either_hand(
    read: Read, number: str, want: str, hand: Hand | None
) -> None:
    lesson, problems = read(FACES, f"number: {number}", f"want: {want}", BLOCKS, hand=hand)
    assert lesson.notes.declaration is not None
    assert lesson.notes.declaration.want == Want(Direction.ZERO)
    assert Code.WANT_HAND_NEEDED not in [p.code for p in problems]


@pytest.mark.parametrize(("number", "want"), [("carry", "square"), ("attack angle", "less open")])
def test_zero_is_no_goal_of_a_number_without_sides(read: Read, number: str, want: str) -> None:
    lesson, problems = read(FACES, f"number: {number}", f"want: {want}", BLOCKS)
    assert lesson.notes.declaration is None
    assert Code.WANT_UNREADABLE in [p.code for p in problems]


@pytest.mark.parametrize(
    ("number", "want", "direction"),
    [
        ("attack angle", "steeper", "lower"),
        ("attack angle", "less down", "higher"),
        ("launch direction", "more left", "lower"),
    ],
)
@pytest.mark.parametrize("hand", [None, Hand.LEFT, Hand.RIGHT])
def test_a_goal_that_is_the_same_for_both_hands_needs_none(
    read: Read, number: str, want: str, direction: str, hand: Hand | None
) -> None:
    lesson, _ = read(FACES, f"number: {number}", f"want: {want}", BLOCKS, hand=hand)
    assert lesson.notes.declaration is not None
    assert lesson.notes.declaration.want.direction == direction


def test_a_players_word_of_another_number_is_not_read(read: Read) -> None:
    _, problems = read(FACES, "number: club path", "want: more open", BLOCKS)
    assert [p.code for p in problems if p.where.file.endswith("notes.md")][:1] == [
        Code.WANT_UNREADABLE
    ]


def test_conditions_of_one_block_take_the_rest_from_the_lesson(read: Read) -> None:
    told = (
        "conditions:",
        "  temperature: 14 C",
        "  altitude: 90 m",
        "  before: {wind: 3 m/s from 070 at 2 m}",
        "  now: {wind: calm, temperature: 16 C}",
    )
    lesson, problems = read(FACES, *told)
    assert [p.code for p in problems if p.where.file.endswith("notes.md")] == []
    blocks = {block.value: there for block, there in lesson.notes.conditions.blocks}
    assert {name: there.temperature_c for name, there in blocks.items()} == {
        "before": 14.0,
        "after": 16.0,
    }
    assert [there.altitude_m for there in blocks.values()] == pytest.approx([90.0, 90.0])
    assert [there.wind.speed_mps for there in blocks.values() if there.wind] == [3.0, 0.0]


WILD = st.floats(-1e4, 1e4) | st.floats(0, 60)
ROWS = st.lists(
    st.dictionaries(st.sampled_from(list(Quantity)), WILD, max_size=9), min_size=1, max_size=8
)


@given(rows=ROWS, number=st.sampled_from(list(Quantity)))
def test_whatever_was_read_stays_as_read_and_no_row_is_lost(
    rows: list[dict[Quantity, float]], number: Quantity
) -> None:
    where = SourceRef("Marta/2027-04-11/shots.csv", 2, 1)
    shots = tuple(Shot(i, where, row, club="7 iron") for i, row in enumerate(rows, start=1))
    declared = Declaration(number, Want(Direction.HIGHER), None, None, stated=False, where=where)
    notes = Notes(where, "", club="7 iron", declaration=declared)
    table, problems = work_out(ShotTable(shots, ("shots.csv",)), notes, Coach("Ines Falk"))
    assert table is not None
    assert [shot.number for shot in table.shots] == [shot.number for shot in shots]
    for before, after in zip(shots, table.shots, strict=True):
        added = set(after.readings) - set(before.readings)
        assert added <= {number}
        assert all(after.readings[q] == value for q, value in before.readings.items())
        assert not set(after.derived or ()) & set(after.readings)
    turned, _ = work_out(ShotTable(shots[::-1], ("shots.csv",)), notes, Coach("Ines Falk"))
    assert turned is not None
    assert {s.number: s.doubts for s in turned.shots} == {s.number: s.doubts for s in table.shots}
    assert all(problem.code is Code.SHOTS_ROW_DOUBTFUL for problem in problems)
