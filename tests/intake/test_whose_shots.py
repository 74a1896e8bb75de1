"""Whose shots, with which club, and whether they are shots at all."""

from collections.abc import Callable
from pathlib import Path

import pytest

from recapgen.golf.clubs import club_named, same_club
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
NOTES = "---\nnumber: carry\nwant: higher\nshots: {before: 1-4, after: 5-8}\n---\n"
MINE = (131.2, 133.4, 129.8, 135.1, 138.6, 140.2, 139.9, 141.0)
Read = Callable[[Path], tuple[ShotTable | None, list[Problem]]]


@pytest.fixture
def read() -> Read:
    def from_root(root: Path) -> tuple[ShotTable | None, list[Problem]]:
        found, _ = survey(root)
        assert found is not None
        coach, _ = read_coach(found.root)
        assert coach is not None
        folder = folder_of(found.root, found.students[0], coach)
        shots = folder.lessons[0].shots if folder.lessons else None
        return shots, list(with_fixes(found.root, folder.problems))

    return from_root


def told(problems: list[Problem]) -> list[Code]:
    quiet = {Code.SHOTS_NUMBERS_REPEAT, Code.SHOTS_CLUB_UNKNOWN}
    return [p.code for p in problems if p.code not in quiet]


def with_players(mine: str, other: str = "Jonas Brandt") -> str:
    rows = [f"{mine},{carry}" for carry in MINE]
    rows[2:2] = [f"{other},{carry}" for carry in (201.0, 205.5, 199.0)]
    return "\n".join(["Player,Carry (m)", *rows, ""])


def paste(root: Path, problem: Problem, way: int) -> None:
    for edit in problem.fixes[way].edits:
        path = root / edit.file
        path.write_text(mended(path.read_text("utf-8"), [edit]), "utf-8")


def carries(table: ShotTable | None) -> tuple[float, ...]:
    assert table is not None
    return tuple(shot.readings[Quantity.CARRY] for shot in table.shots)


@pytest.mark.parametrize("name", ["Marta", "marta", "Marta Falk", "M. Marta"])
def test_the_rows_of_the_student_are_kept(lessons: MakeFolder, read: Read, name: str) -> None:
    root = lessons({f"{LESSON}/notes.md": NOTES, f"{LESSON}/shots.csv": with_players(name)})
    table, problems = read(root)
    assert told(problems) == [Code.SHOTS_OF_OTHERS]
    assert carries(table) == MINE
    (problem,) = problems
    assert (problem.facts["rows"], problem.facts["players"]) == ("3", "Jonas Brandt")
    assert problem.fixes == ()


def test_one_student_under_two_names(lessons: MakeFolder, read: Read) -> None:
    student = "name: Marta\nhand: right\nplayer: [Marta, Range guest]\n"
    shots = with_players("Marta", "Range guest")
    files = {"Marta/student.yml": student, f"{LESSON}/notes.md": NOTES}
    table, problems = read(lessons({**files, f"{LESSON}/shots.csv": shots}))
    assert Code.SHOTS_OF_OTHERS not in told(problems)
    assert len(carries(table)) == 11


def test_where_nobody_sounds_like_the_student_it_is_asked(lessons: MakeFolder, read: Read) -> None:
    text = with_players("Player 1", "Player 2")
    root = lessons({f"{LESSON}/notes.md": NOTES, f"{LESSON}/shots.csv": text})
    _, problems = read(root)
    assert Code.SHOTS_SEVERAL_PLAYERS in told(problems)
    asked = next(p for p in problems if p.code is Code.SHOTS_SEVERAL_PLAYERS)
    assert len(asked.fixes) == 2
    paste(root, asked, 0)
    table, problems = read(root)
    assert told(problems) == [Code.SHOTS_OF_OTHERS]
    assert carries(table) == MINE


def test_to_ignore_the_player_lets_nobody_else_in(lessons: MakeFolder, read: Read) -> None:
    coach = "coach: Ines Falk\nunits: {speed: mph, length: m}\ncolumns: {Player: ignore}\n"
    shots = with_players("Marta")
    files = {"coach.yml": coach, f"{LESSON}/notes.md": NOTES, f"{LESSON}/shots.csv": shots}
    table, _ = read(lessons(files))
    assert carries(table) == MINE


@pytest.mark.parametrize(
    ("name", "cost"),
    [
        ("Jonas", Cost.STUDENT), ("Jonas Gast", Cost.STUDENT), ("Guest", Cost.NOTHING),
        ("Player 1", Cost.NOTHING), ("Gast 2", Cost.NOTHING), ("Invité", Cost.NOTHING),
        ("ゲスト", Cost.NOTHING), ("게스트 1", Cost.NOTHING),
    ],
)  # fmt: skip
def test_one_player_of_another_name_holds_unless_it_is_the_device_s_guest(
    lessons: MakeFolder, read: Read, name: str, cost: Cost
) -> None:
    rows = "".join(f"{name},{carry}\n" for carry in MINE)
    root = lessons(
        {f"{LESSON}/notes.md": NOTES, f"{LESSON}/shots.csv": f"Player,Carry (m)\n{rows}"}
    )
    _, problems = read(root)
    assert [(p.code, p.cost) for p in problems] == [(Code.SHOTS_PLAYER_UNKNOWN, cost)]
    paste(root, problems[0], 0)
    assert told(read(root)[1]) == []


def with_clubs(before: str, after: str) -> str:
    clubs = [*[before] * 4, *[after] * 4]
    rows = (f"{club},{carry}" for club, carry in zip(clubs, MINE, strict=True))
    return "\n".join(["Club,Carry (m)", *rows, ""])


@pytest.mark.parametrize(
    ("clubs", "said", "expected"),
    [
        (("Driver blue", "Driver red"), "driver", [Code.CLUB_CHANGED]),
        (("Driver blue", "Driver red"), None, [Code.CLUB_CHANGED]),
        (("Driver (9°)", "Driver (10.5°)"), "driver", [Code.CLUB_CHANGED]),
        (("Driver", "Driver new"), "driver", [Code.CLUB_CHANGED]),
        (("Driver", "Driver 2"), "driver", [Code.CLUB_CHANGED]),
        (("7 iron", "8 iron"), "7 iron", [Code.CLUB_CHANGED]),
        (("7i", "7 Iron"), "7 iron", []),
        (("Driver", "Driver (9°)"), "driver", []),
        (("Eisen 7", "7er Eisen"), None, []),
        (("spoon", "spoon"), None, []),
    ],
)
def test_another_club_after_is_not_credited_to_the_swing(
    lessons: MakeFolder, read: Read, clubs: tuple[str, str], said: str | None, expected: list[Code]
) -> None:
    club = f"club: {said}\n" if said else ""
    notes = NOTES.replace("number:", f"{club}number:")
    root = lessons({f"{LESSON}/notes.md": notes, f"{LESSON}/shots.csv": with_clubs(*clubs)})
    assert told(read(root)[1]) == expected


def test_some_balls_after_with_another_driver_are_not_credited_to_the_swing(
    lessons: MakeFolder, read: Read
) -> None:
    clubs = [*["Driver (9°)"] * 6, *["Driver (10.5°)"] * 2]
    rows = (f"{club},{carry}" for club, carry in zip(clubs, MINE, strict=True))
    shots = "\n".join(["Club,Carry (m)", *rows, ""])
    notes = NOTES.replace("number:", "club: driver\nnumber:")
    root = lessons({f"{LESSON}/notes.md": notes, f"{LESSON}/shots.csv": shots})
    assert told(read(root)[1]) == [Code.CLUB_CHANGED]


def test_spellings_of_one_club() -> None:
    assert club_named("Driver 2") is None
    assert club_named("D1") == club_named("Dr 10.5") == club_named("Driver 105") == "driver"
    assert same_club("Driver 10.5", "Driver (10.5°)")
    assert not same_club("Driver 10.5", "Driver 9")


@pytest.mark.parametrize(
    "text",
    [
        "Hole,Putts\n1,2\n2,1\n3,2\n",
        "Hole,Par,Distance (m),Score\n1,4,352,5\n2,3,148,3\n3,5,471,6\n",
        "Loch;Par;Länge;Schläge\n1;4;352;5\n2;3;148;3\n",
        "what we said\nslower back\n",
    ],
)
def test_a_file_without_shots_can_be_named_as_such(
    lessons: MakeFolder, read: Read, text: str
) -> None:
    rows = "".join(f"{n},{carry}\n" for n, carry in enumerate(MINE, 1))
    root = lessons(
        {
            f"{LESSON}/notes.md": NOTES,
            f"{LESSON}/shots.csv": f"Shot,Carry (m)\n{rows}",
            f"{LESSON}/card.csv": text,
        }
    )
    _, problems = read(root)
    assert told(problems) == [Code.SHOTS_WITHOUT_HEADINGS]
    assert len(problems[0].fixes) == 1
    paste(root, problems[0], 0)
    table, problems = read(root)
    assert told(problems) == []
    assert carries(table) == MINE


@pytest.mark.parametrize("heading", ["Hole", "putt", "Cary dist", "Carri"])
def test_a_quantity_is_offered_where_heading_and_values_fit(
    lessons: MakeFolder, read: Read, heading: str
) -> None:
    rows = "".join(f"{n},{120 + n},{n % 3 + 1}\n" for n in range(1, 9))
    text = f"Shot,Ball Speed (mph),{heading}\n{rows}"
    root = lessons({f"{LESSON}/notes.md": "---\nintent: Sit\n---\n", f"{LESSON}/shots.csv": text})
    _, problems = read(root)
    lines = [line for p in problems for f in p.fixes for e in f.edits for line in e.lines]
    assert lines
    assert not any("carry" in line for line in lines)


def test_all_unknown_columns_are_offered_at_once(lessons: MakeFolder, read: Read) -> None:
    text = "Shot,Carry (m),Mood,Ball brand,Zone\n1,150,fine,x,3\n2,151,well,x,2\n"
    root = lessons({f"{LESSON}/notes.md": "---\nintent: Sit\n---\n", f"{LESSON}/shots.csv": text})
    _, problems = read(root)
    assert told(problems) == [Code.SHOTS_COLUMNS_UNKNOWN]
    paste(root, problems[0], 0)
    assert told(read(root)[1]) == []


def test_the_column_that_may_hold_the_number_is_not_offered_to_be_passed_over(
    lessons: MakeFolder, read: Read
) -> None:
    rows = "".join(f"{n},{carry},note\n" for n, carry in enumerate(MINE, 1))
    root = lessons(
        {f"{LESSON}/notes.md": NOTES, f"{LESSON}/shots.csv": f"Shot,Flugweite,Mood\n{rows}"}
    )
    _, problems = read(root)
    lines = [line for p in problems for f in p.fixes for e in f.edits for line in e.lines]
    assert any("Mood: ignore" in line for line in lines) or not any("ignore" in x for x in lines)
    assert not any("Flugweite: ignore" in line for line in lines)
