"""A lesson read before is the lesson as it is read now, whatever became of what was kept."""

import shutil
from pathlib import Path
from typing import cast

import pytest
from msgspec.structs import replace

from recapgen.intake import lesson_folder
from recapgen.intake.folder import LessonPaths, survey
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.lesson_folder import read_lesson
from recapgen.intake.settings import read_coach
from recapgen.intake.student import read_student
from recapgen.model.as_data import FAULTS, as_text, from_text
from recapgen.model.care import CareNote, Level, NoteCode, NoteFacts
from recapgen.model.lesson import Lesson, Surface
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Checked
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache

SAMPLES = Path(__file__).parents[2] / "sample_lessons"


class Read:
    """The lessons of one folder, read by a program that keeps its readings."""

    def __init__(self, root: Path, cache: Cache, program: str = "this one") -> None:
        found = survey(root).value
        assert found is not None
        self.root, self.coach = root, read_coach(root).value or Coach("")
        self.kept = KeptReadings(cache, program)
        self.lessons = [
            (paths, read_student(root, student, self.coach).value or Student("?", "?"))
            for student in found.students
            for paths in student.lessons
        ]

    def plainly(self, paths: LessonPaths, student: Student) -> Checked[Lesson]:
        return read_lesson(self.root, paths, self.coach, student)

    def __call__(self, paths: LessonPaths, student: Student) -> Checked[Lesson]:
        return self.kept.read_lesson(self.root, paths, self.coach, student)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """All sample lessons, without their clips."""
    root = tmp_path / "lessons"
    shutil.copytree(SAMPLES, root, ignore=shutil.ignore_patterns("*.mp4", "*.mov"))
    return root


def test_every_sample_lesson_reads_back_as_it_was_read(book: Path, tmp_path: Path) -> None:
    read = Read(book, Cache(tmp_path / "cache"))
    assert read.lessons
    for paths, student in read.lessons:
        first, again = read(paths, student), read(paths, student)
        assert first == again == read.plainly(paths, student)


def test_what_was_read_is_not_opened_again(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    read = Read(book, Cache(tmp_path / "cache"))
    lessons = [read(paths, student) for paths, student in read.lessons]

    def never(*_: object) -> Checked[Lesson]:
        raise AssertionError("a lesson was read again")

    monkeypatch.setattr(lesson_folder, "read_lesson", never)
    assert [read(paths, student) for paths, student in read.lessons] == lessons


@pytest.mark.parametrize(
    "damage",
    [
        lambda text: text[: len(text) // 2],
        lambda _: "",
        lambda text: text.replace("7", "8"),
        lambda text: text.split("\n", 1)[0] + '\n[null,"no problems"]',
    ],
    ids=["cut", "empty", "a figure", "another kind"],
)
def test_what_is_damaged_is_read_anew(book: Path, tmp_path: Path, damage: object) -> None:
    assert callable(damage)
    read = Read(book, Cache(tmp_path / "cache"))
    paths, student = read.lessons[0]
    sound = read(paths, student)
    for entry in (tmp_path / "cache").iterdir():
        entry.write_text(damage(entry.read_text("utf-8")), encoding="utf-8")
    assert read(paths, student) == sound


def test_a_text_that_is_whole_but_means_nothing_is_read_anew(book: Path, tmp_path: Path) -> None:
    cache = Cache(tmp_path / "cache")
    read = Read(book, cache)
    paths, student = read.lessons[0]
    sound = read(paths, student)
    for entry in (tmp_path / "cache").iterdir():
        for nonsense in ("{}", "[1,2]", "null", '[{"key":1},[]]', "[{},[{}]]"):
            cache.keep_text(entry.name, nonsense)
            assert read(paths, student) == sound


def test_a_changed_file_setting_student_or_program_is_read_anew(book: Path, tmp_path: Path) -> None:
    cache = Cache(tmp_path / "cache")
    read = Read(book, cache)
    paths, student = read.lessons[0]
    before = read(paths, student)
    kept = set((tmp_path / "cache").iterdir())
    notes = paths.notes.read_text("utf-8")
    paths.notes.write_text(notes + "\nOne more word.\n", encoding="utf-8")
    changed = read(paths, student)
    assert changed != before
    assert changed == read.plainly(paths, student)
    assert len(set((tmp_path / "cache").iterdir()) - kept) == 1  # the shots were read already
    kept = set((tmp_path / "cache").iterdir())
    Read(book, cache, "another program")(paths, student)
    assert set((tmp_path / "cache").iterdir()) - kept


def test_a_link_is_never_taken_for_the_file_it_replaced(book: Path, tmp_path: Path) -> None:
    read = Read(book, Cache(tmp_path / "cache"))
    paths, student = read.lessons[0]
    read(paths, student)
    outside = tmp_path / "outside.md"
    paths.notes.rename(outside)
    paths.notes.symlink_to(outside)
    assert read(paths, student) == read.plainly(paths, student)
    assert read(paths, student).value is None


def test_a_value_keeps_its_own_kind_and_one_of_another_kind_is_not_kept() -> None:
    note = CareNote(
        NoteCode.FIRM_SURFACE,
        Level.NOTE,
        NoteFacts(surface=Surface.MAT),
        "",
        body=False,
        shown=True,
    )
    assert from_text(as_text(note, CareNote), CareNote).facts.surface is Surface.MAT
    with pytest.raises(FAULTS):
        as_text(replace(note, facts=NoteFacts(days=cast("int", "two"))), CareNote)


def test_a_name_that_is_no_text_is_kept_as_it_is() -> None:
    where = SourceRef("marta/\udce4 lesson/notes.md", 3)
    text = as_text(where, SourceRef)
    assert text.isascii()
    assert from_text(text, SourceRef) == where
    told = SourceRef('C:\\\\udrive "ä"/notes.md')  # the same signs, typed
    assert from_text(as_text(told, SourceRef), SourceRef) == told
