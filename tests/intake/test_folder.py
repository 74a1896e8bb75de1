import errno
import os
from collections.abc import Callable
from contextlib import nullcontext
from datetime import date
from pathlib import Path

import pytest

from recapgen.intake.folder import Survey, survey
from recapgen.model.problem import Code, Cost, Problem
from recapgen.tools.walking import files_below

NOTES = "---\nintent: Hum\n---\n"


def put(root: Path, *names: str) -> None:
    for name in names:
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(NOTES if name.endswith(".md") else "")


def surveyed(root: Path) -> Survey:
    found, _ = survey(root)
    assert found is not None
    return found


def told(root: Path) -> list[tuple[Code, str]]:
    """The problems of the folder and of everybody in it."""
    found, problems = survey(root)
    every: list[Problem] = list(problems)
    for student in found.students if found else ():
        every.extend(student.problems)
    return [(p.code, p.where.file) for p in every]


def test_everything_in_its_place(tmp_path: Path) -> None:
    put(
        tmp_path,
        "coach.yml",
        "Marta/student.yml",
        "Marta/practice.csv",
        "Anders/2027-05-02/notes.md",
    )
    lesson = "Marta/2027-04-11 driver"
    files = (
        "notes.md",
        "private.md",
        "seal.json",
        "b.csv",
        "a.CSV",
        "face on.MOV",
        "dtl.mp4",
        "x.jpg",
    )
    put(tmp_path, *(f"{lesson}/{name}" for name in files))
    anders, marta = surveyed(tmp_path).students
    assert told(tmp_path) == [(Code.STRAY_FILE, f"{lesson}/x.jpg")]
    assert (anders.key, marta.key) == ("Anders", "Marta")
    assert anders.student_file is None
    assert marta.student_file == tmp_path / "Marta/student.yml"
    assert marta.log_file == tmp_path / "Marta/practice.csv"
    (one,) = marta.lessons
    assert (one.key, one.on) == ("2027-04-11 driver", date(2027, 4, 11))
    assert one.private is not None
    assert one.seal is not None
    assert [path.name for path in one.tables] == ["a.CSV", "b.csv"]
    assert [path.name for path in one.clips] == ["dtl.mp4", "face on.MOV"]


def test_hidden_things_drills_and_the_inbox_are_no_students(tmp_path: Path) -> None:
    for name in ("_old", ".recapgen", "drills", "Inbox", "Marta"):
        put(tmp_path, f"{name}/2027-04-11/notes.md")
    put(tmp_path, "Marta/2027-04-11/._shots.csv", "Marta/_2026/2026-01-01/x.csv")
    assert [student.key for student in surveyed(tmp_path).students] == ["Marta"]
    assert told(tmp_path) == []


@pytest.mark.parametrize(
    ("name", "day"),
    [
        ("2027-04-11", date(2027, 4, 11)),
        ("2027-04-11 driver", date(2027, 4, 11)),
        ("2027_04_11-short-game", date(2027, 4, 11)),
        ("20270411", date(2027, 4, 11)),
        ("2027.04.11", date(2027, 4, 11)),
    ],
)
def test_a_lesson_begins_with_its_date(tmp_path: Path, name: str, day: date) -> None:
    put(tmp_path, f"Marta/{name}/notes.md")
    assert surveyed(tmp_path).students[0].lessons[0].on == day


@pytest.mark.parametrize("name", ["11-04-2027", "driver 2027-04-11", "2027-4-11", "2027-04-111"])
def test_other_names_are_asked_about(tmp_path: Path, name: str) -> None:
    put(tmp_path, f"Marta/{name}/notes.md")
    assert told(tmp_path) == [(Code.LESSON_WITHOUT_DATE, f"Marta/{name}")]


def test_lessons_are_in_order_of_their_day_however_deep(tmp_path: Path) -> None:
    put(tmp_path, "Marta/2027/spring/2027-04-11/notes.md", "Marta/2027-01-05/notes.md")
    lessons = surveyed(tmp_path).students[0].lessons
    assert [lesson.key for lesson in lessons] == ["2027-01-05", "2027-04-11"]


@pytest.mark.parametrize("file", ["shots.csv", "swing.mov", "shots.TSV"])
def test_files_without_notes_are_not_passed_over(tmp_path: Path, file: str) -> None:
    put(tmp_path, f"Marta/2027-04-11/{file}")
    assert told(tmp_path) == [(Code.FILES_WITHOUT_NOTES, "Marta/2027-04-11")]


def test_what_a_lesson_does_not_read_is_named(tmp_path: Path) -> None:
    put(
        tmp_path,
        *(f"Marta/2027-04-11/{name}" for name in ("notes.md", "Notes (1).md", "shots.xls")),
    )
    put(tmp_path, *(f"Marta/2027-04-11/{name}" for name in (".DS_Store", "notes.md~", "~$a.xlsx")))
    os.mkfifo(tmp_path / "Marta/2027-04-11/face on.mov")
    (student,) = surveyed(tmp_path).students
    (problem,) = student.problems
    assert problem.code is Code.STRAY_FILE
    assert problem.facts["found"] == "face on.mov, Notes (1).md, shots.xls"
    assert student.lessons[0].clips == ()


@pytest.mark.parametrize("name", ["notes.txt", "Notes (1).md", "note.md", "notes.md.docx"])
def test_notes_under_another_name_are_asked_about(tmp_path: Path, name: str) -> None:
    put(tmp_path, f"Marta/2027-04-11/{name}")
    assert told(tmp_path) == [(Code.NOTES_MISNAMED, f"Marta/2027-04-11/{name}")]


def test_files_in_a_folder_below_a_lesson_are_asked_about(tmp_path: Path) -> None:
    put(tmp_path, "Marta/2027-04-11/notes.md", "Marta/2027-04-11/films/a.mov")
    assert told(tmp_path) == [(Code.FILES_BELOW_LESSON, "Marta/2027-04-11/films")]


def test_one_bad_folder_does_not_hide_another(tmp_path: Path) -> None:
    put(tmp_path, "Marta/2027-02-30/notes.md", "Marta/2027-03-01/notes.md", "Marta/x/notes.md")
    assert [lesson.key for lesson in surveyed(tmp_path).students[0].lessons] == ["2027-03-01"]
    assert {code for code, _ in told(tmp_path)} == {
        Code.LESSON_DATE_IMPOSSIBLE,
        Code.LESSON_WITHOUT_DATE,
    }


def test_a_student_s_problems_stay_with_the_student(tmp_path: Path) -> None:
    put(tmp_path, "Marta/x/notes.md", "Anders/2027-03-01/notes.md")
    found, problems = survey(tmp_path)
    assert found is not None
    assert problems == ()
    assert [len(student.problems) for student in found.students] == [0, 1]


def test_links_that_lead_out_are_refused(tmp_path: Path) -> None:
    root = tmp_path / "lessons"
    put(tmp_path, "elsewhere/2027-04-11/notes.md", "film.mov", "lessons/Marta/2027-04-11/notes.md")
    (root / "Anders").symlink_to(tmp_path / "elsewhere")
    (root / "Marta/2027-04-11/face on.mov").symlink_to(tmp_path / "film.mov")
    (root / "Marta/2027-04-11/gone.mov").symlink_to(tmp_path / "nowhere.mov")
    found = surveyed(root)
    assert [student.key for student in found.students] == ["Marta"]
    assert found.students[0].lessons[0].clips == ()
    assert sorted(told(root), key=lambda one: one[1]) == [
        (Code.LINK_OUTSIDE, "Anders"),
        (Code.LINK_OUTSIDE, "Marta/2027-04-11/face on.mov"),
        (Code.LINK_OUTSIDE, "Marta/2027-04-11/gone.mov"),
    ]


def test_links_to_another_student_are_refused(tmp_path: Path) -> None:
    put(tmp_path, "Anders/2027-04-11/notes.md", "Anders/shots.csv", "Marta/2027-03-01/notes.md")
    (tmp_path / "Marta/2027-04-11").symlink_to("../Anders/2027-04-11")
    (tmp_path / "Marta/2027-03-01/shots.csv").symlink_to(tmp_path / "Anders/shots.csv")
    (tmp_path / "Nils").symlink_to("Anders")
    anders, marta = surveyed(tmp_path).students
    assert (anders.key, marta.key) == ("Anders", "Marta")
    assert [lesson.key for lesson in marta.lessons] == ["2027-03-01"]
    assert marta.lessons[0].tables == ()
    assert [file for code, file in told(tmp_path) if code is Code.LINK_OUTSIDE] == [
        "Nils",
        "Marta/2027-04-11",
        "Marta/2027-03-01/shots.csv",
    ]


def test_links_to_a_student_s_own_files_and_to_drills_are_followed(tmp_path: Path) -> None:
    put(tmp_path, "Marta/2027-04-11/notes.md", "Marta/2027-05-02/notes.md", "drills/sit.mov")
    put(tmp_path, "Marta/2027-04-11/dtl.mov")
    (tmp_path / "Marta/2027-05-02/dtl.mov").symlink_to("../2027-04-11/dtl.mov")
    (tmp_path / "Marta/2027-05-02/sit.mov").symlink_to(tmp_path / "drills/sit.mov")
    assert told(tmp_path) == []
    assert [clip.name for clip in surveyed(tmp_path).students[0].lessons[1].clips] == [
        "dtl.mov",
        "sit.mov",
    ]


def test_links_in_a_circle_come_to_an_end(tmp_path: Path) -> None:
    put(tmp_path, "Marta/2027-04-11/notes.md")
    (tmp_path / "Marta/2027-04-11/again").symlink_to(tmp_path / "Marta")
    assert len(surveyed(tmp_path).students[0].lessons) == 1
    assert told(tmp_path) == [(Code.LINK_OUTSIDE, "Marta/2027-04-11/again")]


def test_names_that_nobody_can_read_are_refused(tmp_path: Path) -> None:
    put(tmp_path, "Marta/2027-04-11/notes.md", "Mar\u202eta/2027-04-11/notes.md")
    assert [student.key for student in surveyed(tmp_path).students] == ["Marta"]
    assert told(tmp_path) == [(Code.NAME_UNPRINTABLE, "Mar\\u202eta")]


def test_a_missing_folder(tmp_path: Path) -> None:
    assert told(tmp_path / "nowhere") == [(Code.FOLDER_MISSING, "")]
    put(tmp_path, "file.md")
    assert told(tmp_path / "file.md") == [(Code.FOLDER_MISSING, "")]


def costs(root: Path) -> dict[str, Cost]:
    found, problems = survey(root)
    every = [*problems, *(p for s in (found.students if found else ()) for p in s.problems)]
    return {p.where.file: p.cost for p in every if p.code is Code.NAME_UNPRINTABLE}


def test_a_name_that_is_no_text_costs_what_bears_it(tmp_path: Path) -> None:
    put(tmp_path, "Marta/2027-04-11/notes.md")
    lesson = os.fsencode(tmp_path / "Marta/2027-04-11")
    for name in (b"caf\xe9.txt", b"caf\xe9.mp4", b"caf\xe9.csv"):
        Path(os.fsdecode(lesson + b"/" + name)).write_text("")
    Path(os.fsdecode(lesson + b"/caf\xe9.d")).mkdir()
    assert costs(tmp_path) == {
        "Marta/2027-04-11/caf\\udce9.txt": Cost.NOTHING,
        "Marta/2027-04-11/caf\\udce9.mp4": Cost.CLIP,
        "Marta/2027-04-11/caf\\udce9.csv": Cost.STUDENT,
        "Marta/2027-04-11/caf\\udce9.d": Cost.STUDENT,
    }


@pytest.mark.parametrize("refused", ["scandir", "lstat"])
def test_a_folder_that_may_not_be_read_costs_that_student(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, refused: str
) -> None:
    """As for whoever may list a folder and look at nothing in it; root may everything."""
    put(tmp_path, "Marta/2027-04-11/notes.md", "Anders/2027-05-02/notes.md")
    shut = str(tmp_path / "Marta" / "2027-04-11")
    real = {name: getattr(os, name) for name in ("stat", "lstat", "listdir", "scandir")}

    class Unseen:
        """An entry of a folder that may be listed, of which nobody may know more."""

        def __init__(self, entry: os.DirEntry[str]) -> None:
            self.name, self.path = entry.name, entry.path

        def is_dir(self) -> bool:
            return False

        def stat(self) -> os.stat_result:
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), self.path)

    def scan(path: str | Path) -> object:
        entries = [Unseen(each) for each in real["scandir"](path)]
        return nullcontext(entries) if str(path) == shut else real["scandir"](path)

    def unless_shut(name: str) -> Callable[..., object]:
        def asked(path: str | Path = ".", **more: object) -> object:
            inside = str(path).startswith(f"{shut}/")
            if inside or (refused == "scandir" and name != "stat" and str(path) == shut):
                raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
            return scan(path) if name == "scandir" else real[name](path, **more)

        return asked

    for name in real:
        monkeypatch.setattr(os, name, unless_shut(name))
    found = told(tmp_path)
    assert (Code.FILE_UNREADABLE, "Marta/2027-04-11") in found
    assert not [where for _, where in found if where.startswith("Anders")]
    assert [file.name for file in files_below(tmp_path)] == ["notes.md"]
