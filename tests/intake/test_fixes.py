"""The lines offered for files that are missing, and for slips that no bad lesson has."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.pasting import with_fixes
from recapgen.intake.settings import read_coach
from recapgen.model.fix import mended
from recapgen.model.people import Coach, Hand, Student
from recapgen.model.problem import Code, Problem
from tests.whole_folder import folder_of

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
NOTES = "Marta/2027-04-11/notes.md"


def told_in(root: Path) -> tuple[Student, tuple[Problem, ...]]:
    found, problems = survey(root)
    assert found is not None
    coach, more = read_coach(root)
    student = folder_of(root, found.students[0], coach or Coach(name=""))
    return student.student, with_fixes(root, [*problems, *more, *student.problems])


def the_problem(root: Path) -> Problem:
    (problem,) = told_in(root)[1]
    return problem


def pastes(root: Path, problem: Problem) -> list[dict[str, str]]:
    """Each fix as the files that it makes."""
    texts = {}
    for fix in problem.fixes:
        for edit in fix.edits:
            path = root / edit.file
            texts[edit.file] = path.read_text("utf-8") if path.is_file() else ""
    return [
        {
            file: mended(text, [edit for edit in fix.edits if edit.file == file])
            for file, text in texts.items()
        }
        for fix in problem.fixes
    ]


def test_the_lines_for_coach_yml(lessons: MakeFolder) -> None:
    problem = the_problem(lessons({"coach.yml": None}))
    assert problem.code is Code.COACH_FILE_MISSING
    ways = pastes(lessons({"coach.yml": None}), problem)
    assert len(ways) == 3
    for way in ways:
        assert told_in(lessons(way))[1] == ()
        coach = read_coach(lessons(way)).value
        assert coach is not None
        assert coach.name == ""  # no invented name may reach a page
        assert coach.units_unsaid == ()


@pytest.mark.parametrize(
    "name", ["Marta", "Zoë O'Neill", "no: 7", "- dash", "#1", "{found}", 'Ann "Ace" 🏌', "b\\s", "~"]
)
def test_the_lines_for_student_yml(tmp_path: Path, name: str) -> None:
    (tmp_path / name / "2027-04-11").mkdir(parents=True)
    (tmp_path / name / "2027-04-11/notes.md").touch()
    (tmp_path / "coach.yml").write_text("coach: Ines\n")
    problem = the_problem(tmp_path)
    assert problem.code is Code.STUDENT_FILE_MISSING
    hands = set()
    for way in pastes(tmp_path, problem):
        (tmp_path / name / "student.yml").write_text(way[f"{name}/student.yml"], "utf-8")
        student, problems = told_in(tmp_path)
        assert problems == ()
        assert student.name == name
        assert student.agreed.page
        assert student.agreed.since is None  # a day that nobody named must not be pasted
        hands.add(student.hand)
    assert hands == {Hand.RIGHT, Hand.LEFT}


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        ("intnet: Hum", ["intent: Hum"]),
        ("kind: rotasion", ["kind: rotation"]),
        ("kind: speed, rotasion", ["kind: speed, rotation"]),
        ("kind: [speed, 'rotasion']", ["kind: [speed, rotation]"]),
        ("club: 7 iorn", ["club: 7 iron"]),
        ('see also: ["Starts Right!"]', ["see also: [starts-right]"]),
        ("conditions: {surface: gras}", ["conditions: {surface: grass}"]),
        ("conditions: {wind: 9 mph from 250}",
         ["conditions: {wind: 9 mph from 250 at 2 m}",
          "conditions: {wind: 9 mph from 250 forecast}"]),
        ("conditions: {temperature: warm}", []),
        ("conditions: {pressure: 1009 hPa}",
         ["conditions: {pressure: 1009 hPa station}",
          "conditions: {pressure: 1009 hPa sea level}"]),
        ("clips: [a.mvo]", ["clips: [a.mov]"]),
        ("practice: {steps: [{do: Half swings, rest: 90}]}",
         ["practice: {steps: [{do: Half swings, rest: 90 s}]}",
          "practice: {steps: [{do: Half swings, rest: 90 min}]}"]),
        ("practice: {balls: about 60}", ["practice: {balls: 60}"]),
        ("practice: {balls: 60 or 80}", []),
        ("intent: *Hum", ['intent: "*Hum"']),
        ("intent: 'Don't hurry'", ['intent: "Don\'t hurry"']),
        ('intent: "Hum" slowly', ['intent: "\\"Hum\\" slowly"']),
        ('intent: "Hum', ['intent: "Hum"']),
        ("practice: {steps: [{do: @once, balls: 5}]}",
         ['practice: {steps: [{do: "@once", balls: 5}]}']),
        ("intent: Hum: one note", ['intent: "Hum: one note"']),
        ("practice: balls: 40, weeks: 2", ["practice: {balls: 40, weeks: 2}"]),
        ("kind: [speed, posture", ["kind: [speed, posture]"]),
        ("intent: tee # 2", ['intent: "tee # 2"']),
        ("intent:Hum", ["intent: Hum"]),
        ("intent: a\nintent: b", ["intent: a", "intent: b"]),
    ],
)  # fmt: skip
def test_what_was_meant_is_offered_and_accepted(
    lessons: MakeFolder, wrong: str, right: list[str]
) -> None:
    clip = {"Marta/2027-04-11/a.mov": ""} if "clips" in wrong else {}
    root = lessons({NOTES: f"---\n{wrong}\n---\n", **clip})
    ways = pastes(root, the_problem(root))
    assert [way[NOTES] for way in ways] == [f"---\n{line}\n---\n" for line in right]
    for way in ways:
        assert told_in(lessons(way))[1] == ()


def test_a_tab_becomes_what_the_line_above_wants(lessons: MakeFolder) -> None:
    root = lessons({NOTES: "---\npractice:\n\tballs: 40\nintent: Hum\n---\n"})
    assert [way[NOTES] for way in pastes(root, the_problem(root))] == [
        "---\npractice:\n  balls: 40\nintent: Hum\n---\n"
    ]


def test_the_marks_around_keys_go_where_the_keys_end(lessons: MakeFolder) -> None:
    made = "---\nintent: Hum\npractice:\n  balls: 40\n---\nNote: well done.\n"
    open_end = made.replace("---\nNote", "Note")
    for text in (open_end, open_end.removeprefix("---\n")):
        root = lessons({NOTES: text})
        assert [way[NOTES] for way in pastes(root, the_problem(root))] == [made]
