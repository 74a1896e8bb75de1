"""Which lessons have a worksheet, and that a book with them is the same however it was built."""

import shutil
from datetime import date
from html import unescape
from pathlib import Path

import pytest

from recapgen.app import build_run
from recapgen.app.building import Options
from recapgen.app.building import build as build_it
from recapgen.console import Console
from recapgen.desk.worksheet_asking import ask_from_the_book
from recapgen.publish.last_run import LastRun, keep_last_run
from recapgen.publish.output import OutputPlaces
from recapgen.tools.stamps import Stamps
from recapgen.words.catalogue import words
from tests.end_to_end.small_lessons import SAMPLES, TODAY, add_student, recapgen, tree

# What a build made other in public is told here, and is another thing for a first build.
OF_ONE_BUILD = {"problems.html", "index.html", "assets/book_index.js"}
LESSON = "brida-folder/2027-04-11"


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    """Two students, all notes finished; one clip lies with the first."""
    root = tmp_path / "lessons"
    root.mkdir()
    (root / "coach.yml").write_text("coach: Ada Quill\n", encoding="utf-8")
    lesson = add_student(root, "Brida")
    add_student(root, "Corvin")
    clip = SAMPLES / "pia" / "2027-05-15 pitching again" / "hedge 8.mp4"
    shutil.copy2(clip, lesson / "face on before 3.mp4")
    return root


def build(root: Path, out: Path | None = None) -> dict[str, bytes]:
    out = out or root.with_name("lessons_out")
    recapgen("build", root, "--out", out, "--today", TODAY)
    return tree(out / "coach_book")


def sheets_in(book: dict[str, bytes]) -> list[str]:
    pages = (path for path in book if path.startswith("worksheets/") and path.endswith(".html"))
    return [unescape(book[path].decode()) for path in pages]


def test_a_lesson_has_a_worksheet_while_its_notes_are_unfinished_or_when_it_was_asked_for(
    lessons: Path, tmp_path: Path
) -> None:
    book = build(lessons)
    assert not [path for path in book if path.startswith("worksheets/")]
    assert b'recapgen worksheet "brida-folder/2027-04-11"' in b"".join(
        page.replace(b"&#34;", b'"') for page in book.values()
    )
    notes = lessons / LESSON / "notes.md"
    typed = notes.read_text("utf-8")
    notes.write_text("---\nclub: driver\n---\n", "utf-8")
    (open_again,) = sheets_in(build(lessons))
    assert '"club: driver' not in open_again
    assert "club: driver" in open_again
    notes.write_text(typed, "utf-8")
    ran = recapgen("worksheet", lessons / LESSON, "--today", TODAY)
    assert ran.code == 0
    page = Path(ran.out.splitlines()[-1])
    assert page.parent.name == "worksheets"
    assert "Slide along the wall" in page.read_text("utf-8")
    again = build(lessons)
    assert len([path for path in again if path.startswith("worksheets/clips/")]) == 1
    clean = build(lessons, tmp_path / "clean")
    assert clean.keys() == again.keys()
    other = {path for path in clean if clean[path] != again[path]}
    assert other <= OF_ONE_BUILD, "as a build that keeps nothing"


def test_a_folder_without_notes_has_a_worksheet_that_begins_them(lessons: Path) -> None:
    new = lessons / "corvin-folder" / "2027-05-02"
    new.mkdir()
    shutil.copy2(lessons / LESSON / "shots.csv", new / "shots.csv")
    (sheet,) = sheets_in(build(lessons))
    assert '"digest":""' in sheet
    assert "intent:" in sheet
    assert not (new / "notes.md").exists()


def test_clips_that_were_not_agreed_are_not_copied_for_the_coach_either(lessons: Path) -> None:
    student = lessons / "brida-folder" / "student.yml"
    student.write_text(student.read_text("utf-8").replace("clips: yes", "clips: no"), "utf-8")
    recapgen("worksheet", lessons / LESSON, "--today", TODAY)
    book = tree(lessons.with_name("lessons_out") / "coach_book")
    assert not [path for path in book if path.startswith("worksheets/clips/")]
    (sheet,) = sheets_in(book)
    assert "hasn't agreed to clips" in sheet


def test_only_a_lesson_can_be_asked_for(lessons: Path) -> None:
    ran = recapgen("worksheet", lessons / "brida-folder")
    assert ran.code == 2
    assert not (lessons / ".recapgen" / "worksheets.txt").exists()


def test_what_is_asked_for_while_a_build_runs_is_made_by_the_next(
    lessons: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The watch's next build sees nothing else that is new."""
    out, console = lessons.with_name("lessons_out"), Console(words("en"))

    def asked_at_its_end(
        places: OutputPlaces, root: Path, day: date, stamps: Stamps | None, run: LastRun | None
    ) -> None:
        assert ask_from_the_book(lessons, LESSON) is not None
        keep_last_run(places, root, day, stamps, run)

    monkeypatch.setattr(build_run, "keep_last_run", asked_at_its_end)
    options = Options(out=out, today=date.fromisoformat(TODAY))
    build_it(lessons, options, console)
    assert not sheets_in(tree(out / "coach_book"))
    monkeypatch.undo()
    build_it(lessons, options, console)
    assert sheets_in(tree(out / "coach_book"))
