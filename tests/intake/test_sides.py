"""Which side a plus is: asked where a verdict rests on it, and remembered for that device."""

from collections.abc import Callable
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.pasting import with_fixes
from recapgen.intake.settings import read_coach
from recapgen.model.fix import mended
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import ShotTable
from tests.intake.conftest import MakeFolder
from tests.whole_folder import folder_of

LESSON = "Marta/2027-04-11"
LATER = "Marta/2027-05-09"
VALUES = (3.2, -1.4, 2.2, 4.1, -0.6, 5.3, 2.8, 1.9)
Read = Callable[[Path], tuple[list[ShotTable], list[Problem]]]


def shots(heading: str = "Launch Direction", more: str = "Ball Speed (mph)") -> str:
    rows = [f"{n},{value},{120 + n}" for n, value in enumerate(VALUES, 1)]
    return "\n".join([f"Shot,{heading},{more}", *rows, ""])


def notes(number: str = "launch direction", more: str = "") -> str:
    return f"---\nnumber: {number}\nwant: lower\n{more}shots: {{before: 1-4, after: 5-8}}\n---\n"


@pytest.fixture
def read() -> Read:
    def from_root(root: Path) -> tuple[list[ShotTable], list[Problem]]:
        found, _ = survey(root)
        assert found is not None
        coach, problems = read_coach(found.root)
        assert coach is not None
        assert problems == ()
        folder = folder_of(found.root, found.students[0], coach)
        tables = [lesson.shots for lesson in folder.lessons if lesson.shots is not None]
        return tables, list(with_fixes(found.root, folder.problems))

    return from_root


def sides(table: ShotTable, quantity: Quantity = Quantity.LAUNCH_DIRECTION) -> list[float | None]:
    return [shot.readings.get(quantity) for shot in table.shots]


def asked(problems: list[Problem]) -> list[Problem]:
    return [p for p in problems if p.cost is Cost.STUDENT]


def paste(root: Path, problem: Problem, way: int) -> None:
    for edit in problem.fixes[way].edits:
        path = root / edit.file
        path.write_text(mended(path.read_text("utf-8"), [edit]), "utf-8")


def test_a_side_that_nothing_tells_is_asked_once_and_settled(
    lessons: MakeFolder, read: Read
) -> None:
    root = lessons({f"{LESSON}/notes.md": notes(), f"{LESSON}/shots.csv": shots()})
    _, problems = read(root)
    (problem,) = asked(problems)
    assert problem.code is Code.SHOTS_SIDE_OPEN
    assert len(problem.fixes) == 2
    paste(root, problem, 1)
    (table,), problems = read(root)
    assert asked(problems) == []
    assert sides(table) == [-value for value in VALUES]


def test_two_devices_of_one_coach_can_differ(lessons: MakeFolder, read: Read) -> None:
    root = lessons(
        {
            f"{LESSON}/notes.md": notes(), f"{LESSON}/shots.csv": shots(),
            f"{LATER}/notes.md": notes(), f"{LATER}/shots.csv": shots(more="Carry (m)"),
        }
    )  # fmt: skip
    _, problems = read(root)
    assert [p.where.file for p in asked(problems)] == [f"{LESSON}/shots.csv", f"{LATER}/shots.csv"]
    paste(root, asked(problems)[0], 1)
    _, problems = read(root)
    (problem,) = asked(problems)
    assert problem.where.file == f"{LATER}/shots.csv"
    paste(root, problem, 0)
    (first, second), problems = read(root)
    assert asked(problems) == []
    assert sides(first) == [-value for value in VALUES]
    assert sides(second) == list(VALUES)


def test_a_number_worked_out_from_two_sides_asks_for_both(lessons: MakeFolder, read: Read) -> None:
    rows = "".join(f"{n},{v},{v / 2}\n" for n, v in enumerate(VALUES, 1))
    root = lessons(
        {
            f"{LESSON}/notes.md": notes("face to path"),
            f"{LESSON}/shots.csv": f"Shot,Club Path,Face Angle\n{rows}",
        }
    )
    _, problems = read(root)
    assert {p.code for p in asked(problems)} == {Code.SHOTS_SIDE_OPEN}
    assert len(asked(problems)) == 2


def test_a_guarded_number_is_asked_about_its_spread_is_not(lessons: MakeFolder, read: Read) -> None:
    rows = "".join(f"{n},{v},{130 + n}\n" for n, v in enumerate(VALUES, 1))
    for guard, expected in (("carry side: 2 m", [Code.SHOTS_SIDE_OPEN]), ("side spread: 2 m", [])):
        root = lessons(
            {
                f"{LESSON}/notes.md": notes("carry", f"must not lose: {{{guard}}}\n"),
                f"{LESSON}/shots.csv": f"Shot,Carry Side (m),Carry (m)\n{rows}",
            }
        )
        _, problems = read(root)
        assert [p.code for p in asked(problems)] == expected


@pytest.mark.parametrize(
    ("heading", "cell"),
    [
        ("Launch Direction (+ = right)", "{}"),
        ("Launch Direction [deg, R+]", "{}"),
        ("Launch Direction", "{} R"),
    ],
)
def test_what_the_file_tells_is_not_asked(
    lessons: MakeFolder, read: Read, heading: str, cell: str
) -> None:
    rows = "".join(f'{n},"{cell.format(abs(v))}"\n' for n, v in enumerate(VALUES, 1))
    text = f'Shot,"{heading}"\n{rows}'
    root = lessons({f"{LESSON}/notes.md": notes(), f"{LESSON}/shots.csv": text})
    (table,), problems = read(root)
    assert asked(problems) == []
    assert sides(table) == [abs(value) for value in VALUES]


def test_a_side_is_told_by_columns_that_say_theirs(lessons: MakeFolder, read: Read) -> None:
    rows = "".join(f"{n},{v},{v},{v}\n" for n, v in enumerate(VALUES, 1))
    text = f"Shot,Launch Direction,Club Path (R+),Face Angle (R+)\n{rows}"
    root = lessons({f"{LESSON}/notes.md": notes(), f"{LESSON}/shots.csv": text})
    _, problems = read(root)
    assert asked(problems) == []


def test_where_nothing_rests_on_it_plus_is_right(lessons: MakeFolder, read: Read) -> None:
    root = lessons({f"{LESSON}/notes.md": notes("ball speed"), f"{LESSON}/shots.csv": shots()})
    (table,), problems = read(root)
    assert asked(problems) == []
    assert sides(table) == list(VALUES)
