"""A student's or a lesson's folder given in place of all: it is known, and the line is right."""

import shlex
from pathlib import Path

import pytest

from recapgen.desk.sealing import seal_lesson
from recapgen.desk.still_sheets import lay_out_stills
from recapgen.intake.which_folder import part_of_the_lessons
from recapgen.model.lesson import Planned
from recapgen.model.problem import Code, Problem
from recapgen.tools.clock import now
from recapgen.words.catalogue import words
from recapgen.words.problems import tell

ROOT = "my lessons"
FILES = ("coach.yml", "Pia O'Neill/student.yml", "Pia O'Neill/2027-04-11 driver/notes.md",
         "Pia O'Neill/2027-03-01/notes.md", "Otto/2027/2027-05-01/notes.md")  # fmt: skip


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return made(tmp_path / ROOT, FILES)


def made(root: Path, files: tuple[str, ...]) -> Path:
    for file in files:
        (root / file).parent.mkdir(parents=True, exist_ok=True)
        (root / file).touch()
    return root


def pasted(problem: Problem | None) -> list[str]:
    """The words that a shell makes of the line."""
    assert problem is not None
    assert problem.facts["line"] in tell(problem, words("en")).fix
    return shlex.split(problem.facts["line"])


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ("Pia O'Neill", Code.STUDENT_FOLDER_GIVEN),
        ("Pia O'Neill/2027-04-11 driver", Code.LESSON_FOLDER_GIVEN),
        ("Pia O'Neill/2027-04-11 driver/notes.md", Code.LESSON_FOLDER_GIVEN),
        ("Otto", Code.STUDENT_FOLDER_GIVEN),
        ("Otto/2027", Code.STUDENT_FOLDER_GIVEN),
        ("Otto/2027/2027-05-01", Code.LESSON_FOLDER_GIVEN),
    ],
)
def test_the_line_to_paste_names_all_the_lessons(root: Path, given: str, code: Code) -> None:
    problem = part_of_the_lessons(root / given, "build")
    assert pasted(problem) == ["recapgen", "build", str(root)]
    assert problem is not None
    assert problem.code is code


@pytest.mark.parametrize(
    ("here", "given", "line"),
    [
        (".", f"{ROOT}/Otto", ROOT),
        (ROOT, "Otto", "."),
        (f"{ROOT}/Otto", ".", ".."),
        (f"{ROOT}/Otto/2027/2027-05-01", ".", "../../.."),
    ],
)
def test_a_path_from_here_is_answered_from_here(
    root: Path, here: str, given: str, line: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(root.parent / here)
    assert pasted(part_of_the_lessons(Path(given), "check")) == ["recapgen", "check", line]


def test_without_a_coach_file_the_students_folder_shows_where_the_lessons_are(
    tmp_path: Path,
) -> None:
    root = made(tmp_path / "-l", FILES[1:])
    for given in ("Pia O'Neill", "Pia O'Neill/2027-03-01"):
        assert pasted(part_of_the_lessons(root / given, "build"))[2] == str(root)
    (root / "Pia O'Neill/student.yml").unlink()
    assert pasted(part_of_the_lessons(root / "Pia O'Neill/2027-03-01", "build"))[2] == str(root)


@pytest.mark.parametrize(
    "files",
    [
        FILES,
        FILES[1:],  # no coach.yml yet
        ("2027-04-11/notes.md", "Pia/2027-04-11/notes.md"),  # a stray lesson beside a student
        ("notes.md", "Pia/2027-04-11/notes.md"),
        ("Pia/notes.txt",),
        (),
    ],
)
def test_all_the_lessons_are_never_taken_for_a_part(tmp_path: Path, files: tuple[str, ...]) -> None:
    root = made(tmp_path / "2027 lessons", files)
    root.mkdir(exist_ok=True)
    assert part_of_the_lessons(root, "build") is None
    assert part_of_the_lessons(tmp_path / "nowhere", "build") is None


@pytest.mark.parametrize("given", ["", "Pia O'Neill"])
def test_seal_and_stills_name_the_newest_lesson(root: Path, given: str) -> None:
    sealed = seal_lesson(root / given, Planned(), now(), again=False)
    laid = lay_out_stills(root / given, None)
    for told, command in ((sealed, "seal"), (laid, "stills")):
        assert told.value is None
        newest = root / FILES[2]
        assert pasted(told.problems[0]) == ["recapgen", command, str(newest.parent)]


def test_where_there_is_no_lesson_the_line_is_an_example(tmp_path: Path) -> None:
    told = lay_out_stills(tmp_path, None)
    assert pasted(told.problems[0]) == ["recapgen", "stills", "my_lessons/marta/2027-04-11"]
