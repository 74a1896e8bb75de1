"""What a problem tells the coach to write is, once written, no problem any more."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.reading import read_student_folder
from recapgen.intake.settings import read_coach
from recapgen.model.people import Coach
from recapgen.model.problem import Code, Problem
from recapgen.words.catalogue import words
from recapgen.words.problems import tell

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]


def problems_in(root: Path) -> list[Problem]:
    found, problems = survey(root)
    assert found is not None
    coach, more = read_coach(root)
    student = read_student_folder(root, found.students[0], coach or Coach(name=""))
    return [*problems, *more, *student.problems]


def lines_to_write(problem: Problem) -> str:
    """The indented lines of a fix, as a file."""
    _, *lines = tell(problem, words("en")).fix.split("\n")
    return "".join(f"{line.removeprefix('  ')}\n" for line in lines)


def test_the_lines_for_coach_yml(lessons: MakeFolder) -> None:
    (problem,) = problems_in(lessons({"coach.yml": None}))
    assert problem.code is Code.COACH_FILE_MISSING
    assert problems_in(lessons({"coach.yml": lines_to_write(problem)})) == []


@pytest.mark.parametrize("name", ["Marta", "Zoë O'Neill", "no: 7", "- dash", "#1", "{found}"])
def test_the_lines_for_student_yml(tmp_path: Path, name: str) -> None:
    (tmp_path / name / "2027-04-11").mkdir(parents=True)
    (tmp_path / name / "2027-04-11/notes.md").touch()
    (tmp_path / "coach.yml").write_text("coach: Ines\n")
    (problem,) = problems_in(tmp_path)
    assert problem.code is Code.STUDENT_FILE_MISSING
    (tmp_path / name / "student.yml").write_text(lines_to_write(problem))
    assert problems_in(tmp_path) == []
    found, _ = survey(tmp_path)
    assert found is not None
    student = read_student_folder(tmp_path, found.students[0], Coach(name="Ines")).student
    assert student.name == name
    assert student.agreed.page
    assert student.agreed.since is None  # a day that nobody named must not be pasted


NOTES = "Marta/2027-04-11/notes.md"


@pytest.mark.parametrize(
    ("wrong", "fact", "line"),
    [
        ("intnet: Hum", "near", "{}: Hum"),
        ("kind: rotasion", "near", "kind: {}"),
        ("club: 7 iorn", "near", "club: {}"),
        ("shots: {before: 6-1}", "turned", "shots: {{before: {}}}"),
        ('see also: ["Starts Right!"]', "near", "see also: [{}]"),
        ("conditions: {surface: gras}", "near", "conditions: {{surface: {}}}"),
        ("conditions: {wind: 9 from here at 2 m}", "example", "conditions: {{wind: {}}}"),
        ("conditions: {temperature: warm}", "example", "conditions: {{temperature: {}}}"),
        ("conditions: {pressure: 1009 hPa}", "amount", "conditions: {{pressure: {} station}}"),
        ("clips: [a.mvo]", "near", "clips: [{}]"),
    ],
)
def test_what_was_meant_is_accepted(lessons: MakeFolder, wrong: str, fact: str, line: str) -> None:
    clip = {"Marta/2027-04-11/a.mov": ""} if "clips" in wrong else {}
    (problem,) = problems_in(lessons({NOTES: f"---\n{wrong}\n---\n", **clip}))
    right = line.format(problem.facts[fact])
    assert problems_in(lessons({NOTES: f"---\n{right}\n---\n"})) == []
