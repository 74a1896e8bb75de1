"""Which file was hit first, and which is an export of another: said, timed, or asked."""

from collections.abc import Callable, Sequence

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.lesson_folder import read_lesson
from recapgen.intake.settings import read_coach
from recapgen.model.people import Student
from recapgen.model.problem import Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, ShotTable
from tests.intake.conftest import MakeFolder
from tests.table.readings import lines_offered
from tests.table.test_workbook import workbook

LESSON = "Marta/2027-04-11"
DECLARED = "number: carry\nwant: higher\n"
EARLY = (131.2, 133.4, 129.8, 135.1, 130.6, 132.9, 134.0, 128.7)
LATE = (141.2, 143.4, 139.8, 145.1, 140.6, 142.9, 144.0, 138.7, 142.2)
Lesson = tuple[ShotTable, list[Problem]]
Read = Callable[..., Lesson]


def shots(values: Sequence[float], first: int = 1, more: str = "") -> str:
    lines = [f"{n},{value}" for n, value in enumerate(values, first)]
    return "\n".join([f"Shot,Carry (m){more}", *lines, ""])


@pytest.fixture
def read(lessons: MakeFolder) -> Read:
    def make(files: dict[str, str | bytes], keys: str = DECLARED) -> Lesson:
        changes: dict[str, str | bytes | None] = {f"{LESSON}/shots.csv": None}
        changes |= {f"{LESSON}/{name}": text for name, text in files.items()}
        changes[f"{LESSON}/notes.md"] = f"---\n{keys.strip()}\n---\n"
        found, _ = survey(lessons(changes))
        assert found is not None
        coach, _ = read_coach(found.root)
        assert coach is not None
        (paths,) = found.students[0].lessons
        lesson, problems = read_lesson(found.root, paths, coach, Student("Marta", "Marta"))
        assert lesson is not None
        assert lesson.shots is not None
        return lesson.shots, list(problems)

    return make


def numbered(values: Sequence[float]) -> list[list[object]]:
    return [[n, value] for n, value in enumerate(values, 1)]


def pasted(lines: str) -> str:
    """The key with its lines below it."""
    return "files:\n" + "".join(f"  {line}\n" for line in lines.split("; "))


def carries(table: ShotTable, block: Block) -> tuple[float, ...]:
    return tuple(s.readings[Quantity.CARRY] for s in table.shots if s.block is block)


def codes(problems: Sequence[Problem]) -> list[Code]:
    return [p.code for p in problems if p.code is not Code.SHOTS_NUMBERS_REPEAT]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("before.csv", "after.csv"),
        ("7 iron before.csv", "7 iron after.csv"),
        ("range_vorher.csv", "range_nachher.csv"),
        ("avant.csv", "après.csv"),
        ("antes.csv", "después.csv"),
        ("前.csv", "後.csv"),
        ("전.csv", "후.csv"),
        ("2027-04-11 Baseline.csv", "2027-04-11 Retest.csv"),
    ],
)
def test_the_name_of_a_file_says_its_block(read: Read, before: str, after: str) -> None:
    table, problems = read({before: shots(EARLY), after: shots(LATE)})
    assert codes(problems) == []
    assert carries(table, Block.BEFORE) == EARLY
    assert carries(table, Block.AFTER) == LATE
    assert [s.readings[Quantity.CARRY] for s in table.shots] == [*EARLY, *LATE]
    assert [s.number for s in table.shots] == list(range(1, 18))


def test_the_name_of_a_sheet_says_its_block(read: Read) -> None:
    heading: list[object] = ["Shot", "Carry (m)"]
    rows: dict[str, list[list[object]]] = {
        name: [heading, *numbered(values)]
        for name, values in (("Nachher", LATE), ("Aufwärmen", EARLY[:3]), ("Vorher", EARLY))
    }
    table, problems = read({"lesson.xlsx": workbook(**rows)})
    assert codes(problems) == []
    order = [*[Block.WARM_UP] * 3, *[Block.BEFORE] * 8, *[Block.AFTER] * 9]
    assert [s.block for s in table.shots] == order
    assert carries(table, Block.AFTER) == LATE


def test_a_phase_column_goes_before_the_name(read: Read) -> None:
    rows = [f"{v},before" for v in EARLY] + [f"{v},after" for v in LATE]
    table, problems = read({"closing.csv": "\n".join(["Carry (m),Phase", *rows])})
    assert codes(problems) == []
    assert carries(table, Block.AFTER) == LATE


def test_one_file_alone_is_no_block_for_a_word_in_its_name(read: Read) -> None:
    table, problems = read({"before breakfast.csv": shots(EARLY)})
    assert {s.block for s in table.shots} == {None}
    assert codes(problems) == [Code.BLOCK_WITHOUT_SHOTS] * 2


def test_an_order_that_nothing_tells_is_asked_with_the_files_named(read: Read) -> None:
    files: dict[str, str | bytes] = {"bay 2.csv": shots(LATE), "range.csv": shots(EARLY)}
    _, problems = read(files)
    assert codes(problems) == [Code.SHOTS_ORDER_OPEN]
    asked = next(p for p in problems if p.code is Code.SHOTS_ORDER_OPEN)
    assert asked.cost.value == "student"
    assert asked.facts["files"] == "bay 2.csv, range.csv"
    for lines, before in (
        ("bay 2.csv: before; range.csv: after", LATE),
        ("range.csv: before; bay 2.csv: after", EARLY),
    ):
        assert lines in lines_offered(asked)
        table, problems = read(files, DECLARED + pasted(lines))
        assert codes(problems) == []
        assert carries(table, Block.BEFORE) == before


def test_with_numbers_of_shots_in_the_notes_the_place_of_each_file_is_asked(read: Read) -> None:
    files: dict[str, str | bytes] = {"bay 2.csv": shots(LATE), "range.csv": shots(EARLY)}
    keys = f"{DECLARED}shots: {{before: 1-8, after: 9-17}}\n"
    _, problems = read(files, keys)
    assert codes(problems) == [Code.SHOTS_ORDER_OPEN]
    assert lines_offered(problems[-1])[1] == "range.csv: 1; bay 2.csv: 2"
    table, problems = read(files, keys + pasted("range.csv: 1; bay 2.csv: 2"))
    assert codes(problems) == []
    assert [s.readings[Quantity.CARRY] for s in table.shots] == [*EARLY, *LATE]


def test_numbers_that_go_on_or_times_tell_the_order(read: Read) -> None:
    keys = f"{DECLARED}shots: {{before: 1-8, after: 9-17}}\n"
    files: dict[str, str | bytes] = {"bay.csv": shots(LATE, first=9), "range.csv": shots(EARLY)}
    table, problems = read(files, keys)
    assert codes(problems) == []
    assert [s.readings[Quantity.CARRY] for s in table.shots] == [*EARLY, *LATE]


def test_times_against_the_names_are_asked_about(read: Read) -> None:
    def timed(values: Sequence[float], hour: int) -> str:
        lines = [f"{hour}:{n:02},{v}" for n, v in enumerate(values)]
        return "\n".join(["Time,Carry (m)", *lines])

    files: dict[str, str | bytes] = {"before.csv": timed(EARLY, 11), "after.csv": timed(LATE, 10)}
    _, problems = read(files)
    assert codes(problems) == [Code.SHOTS_ORDER_OPEN]
    assert len(lines_offered(problems[-1])) > 0
    for lines in lines_offered(problems[-1]):
        assert codes(read(files, DECLARED + pasted(lines))[1]) == []


def test_an_export_in_the_middle_of_the_lesson_is_asked_about(read: Read) -> None:
    files: dict[str, str | bytes] = {
        "range 1.csv": shots(EARLY),
        "range 2.csv": shots((*EARLY, *LATE)),
    }
    _, problems = read(files, f"{DECLARED}files: {{range 1.csv: before}}\n")
    assert Code.SHOTS_EXPORTED_TWICE in codes(problems)
    _, problems = read(files)
    asked = next(p for p in problems if p.code is Code.SHOTS_EXPORTED_TWICE)
    assert lines_offered(asked) == ["range 1.csv: ignore"]
    assert asked.facts["rows"] == "8"
    keys = f"{DECLARED}shots: {{before: 1-8, after: 9-17}}\n{pasted('range 1.csv: ignore')}"
    table, problems = read(files, keys)
    assert codes(problems) == []
    assert len(table.shots) == 17


def test_the_whole_lesson_beside_its_blocks_is_one_question(read: Read) -> None:
    files: dict[str, str | bytes] = {
        "before.csv": shots(EARLY), "after.csv": shots(LATE), "all.csv": shots((*EARLY, *LATE)),
    }  # fmt: skip
    _, problems = read(files)
    asked = [p for p in problems if p.code is Code.SHOTS_EXPORTED_TWICE]
    assert len(asked) == 1
    ways = lines_offered(asked[0])
    assert ways[0] == "all.csv: ignore"
    for lines in ways:
        told = codes(read(files, DECLARED + pasted(lines))[1])
        assert Code.SHOTS_EXPORTED_TWICE not in told
    table, problems = read(files, DECLARED + pasted("all.csv: ignore"))
    assert codes(problems) == []
    assert carries(table, Block.BEFORE) == EARLY


def test_a_few_equal_readings_are_no_export(read: Read) -> None:
    early, late = (85, 86, 85, 87, 84, 86), (85, 86, 85, 88, 90, 85)
    table, problems = read({"before.csv": shots(early), "after.csv": shots(late)})
    assert codes(problems) == []
    assert len(table.shots) == 12


def test_two_readings_that_agree_by_chance_are_two_shots(read: Read) -> None:
    heading = "Carry (m),Club Path (deg)\n"
    files: dict[str, str | bytes] = {
        "before.csv": f"{heading}130,1\n131,2\n", "after.csv": f"{heading}133,2\n130,1\n",
    }  # fmt: skip
    table, problems = read(files)
    assert codes(problems) == []
    assert len(table.shots) == 4


def test_both_files_count_where_the_notes_give_both_a_block(read: Read) -> None:
    files: dict[str, str | bytes] = {"a.csv": shots(EARLY), "b.csv": shots(EARLY)}
    table, problems = read(files, f"{DECLARED}files: {{a.csv: before, b.csv: after}}\n")
    assert codes(problems) == []
    assert len(table.shots) == 16


def test_a_file_that_the_notes_name_must_be_there(read: Read) -> None:
    _, problems = read({"range.csv": shots(EARLY)}, "files: {rnage.csv: before}\n")
    assert codes(problems) == [Code.SHOTS_FILE_NOT_THERE]
    _, problems = read({"range.csv": shots(EARLY)}, "files: {range.csv: befroe}\n")
    assert codes(problems) == [Code.WORD_MISSPELT]


def test_a_file_or_sheet_can_be_passed_over(read: Read) -> None:
    heading: list[object] = ["Shot", "Carry (m)"]
    shown: list[list[object]] = [heading, *numbered(EARLY)]
    book = workbook(Range=shown, Card=[["Hole", "Par"], [1, 4]])
    _, problems = read({"lesson.xlsx": book}, "intent: Sit\n")
    assert codes(problems) == [Code.SHOTS_SHEET_PASSED_OVER]
    table, problems = read({"lesson.xlsx": book}, 'files: {"lesson.xlsx/Card": ignore}\n')
    assert codes(problems) == []
    assert len(table.shots) == 8


def test_a_sheet_of_averages_is_named_and_the_other_sheets_stay(read: Read) -> None:
    shown: list[list[object]] = [["Shot", "Carry (m)"], *numbered(EARLY)]
    book = workbook(Range=shown, Sums=[["Carry (m)", "mine"], ["mean", 110]])
    _, problems = read({"lesson.xlsx": book}, "intent: Sit\n")
    empty = next(p for p in problems if p.code is Code.SHOTS_EMPTY)
    assert empty.facts["name"] == "lesson.xlsx/Sums"
    table, problems = read({"lesson.xlsx": book}, 'files: {"lesson.xlsx/Sums": ignore}\n')
    assert codes(problems) == []
    assert len(table.shots) == 8
