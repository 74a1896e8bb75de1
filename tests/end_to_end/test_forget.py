"""``recapgen forget``: nothing is left of one student, and nobody else loses anything."""

import hashlib
import json
import re
from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path

import pytest

from recapgen.app.forgetting import Whom, forget, traces_in_output, whom
from recapgen.console import Console
from recapgen.desk.traces import look_among_lessons
from recapgen.model.receipt import TraceKind
from recapgen.words.catalogue import words
from tests.clips.phone_clips import film
from tests.end_to_end.small_lessons import TODAY, Ran, add_student, recapgen, shots_csv, sites, tree

Build = Callable[..., Ran]
DAY = date.fromisoformat(TODAY)
CANARIES = re.compile(
    b"brida(?!l)|until you count 5|brass doorknob|nightingale|heron by"
)  # no bridal
DRILL = "---\ndo: Polish the brass doorknob\ntimes: 8\nright when: it shines\n---\nSlowly.\n"
MORE = """case: {{name: nightingale, title: A wall behind, story: It helped.}}
clips:
  - {{file: a.mov, view: face on, shot: 3, impact: 0.7, face: shown}}
  - {{file: b.mov, view: face on, shot: 14, impact: 0.7, face: shown}}
practice:
  sessions a week: 2
  steps:
    - {{drill: doorknob, times: 8}}
---
Keep"""


def _with_everything(lessons: Path, out: Path) -> None:
    """All that can be kept of Brida, once it was built: words, films, old copies, stills."""
    brida = lessons / "brida-folder"
    (lessons / "drills").mkdir()
    (lessons / "drills" / "doorknob.md").write_text(DRILL, "utf-8")
    lesson = brida / "2027-04-11"
    notes = (lesson / "notes.md").read_text("utf-8")
    (lesson / "notes.md").write_text(notes.replace("---\nKeep", MORE.format()), "utf-8")
    (lesson / "private.md").write_text("Afraid of the heron by the pond.\n", "utf-8")
    student = (brida / "student.yml").read_text("utf-8")
    (brida / "student.yml").write_text(student.replace("cases: no", "cases: yes"), "utf-8")
    for name, first in (("a.mov", 0), ("b.mov", 100)):
        film(lesson / name, range(first, first + 70))
    before = lessons / ".recapgen" / "before" / "brida-folder" / "2027-04-11"
    before.mkdir(parents=True)
    (before / "notes.a1b2c3.md").write_bytes(b"Brida, as it was")
    (lessons / ".recapgen" / "worksheets.txt").write_text("brida-folder/2027-04-11\n", "utf-8")
    (lessons / ".recapgen" / "new" / "brida-folder").mkdir(parents=True)
    (lessons / ".recapgen" / "new" / "brida-folder" / "2027-04-11").touch()
    (lessons / "inbox" / "brida").mkdir(parents=True)
    (lessons / "inbox" / "brida" / "shots.csv").write_text(shots_csv(), "utf-8")
    (lessons / "inbox" / "range.csv").write_text(shots_csv(), "utf-8")
    sheet = out / "stills" / "brida-folder" / "2027-04-11" / "a.mov.webp"
    sheet.parent.mkdir(parents=True)
    sheet.write_bytes(b"Brida")
    (out / "one_page").mkdir()
    (out / "one_page" / "2027-04-11-abcd.html").write_bytes(b"Brida")


def _left(*folders: Path) -> set[str]:
    """The files in whose path or bytes something of Brida's can be read."""
    return {
        f"{folder.name}/{path}"
        for folder in folders
        for path, held in tree(folder).items()
        if CANARIES.search((path.encode() + held).lower())
    }


def _pictures(held: Iterable[tuple[str, bytes]]) -> set[str]:
    """What shows frames, by its bytes, wherever it lies."""
    return {
        hashlib.sha256(content).hexdigest()
        for path, content in held
        if path.endswith((".mp4", ".mov", ".webp")) and "/handbook/" not in path
    }


def _forget(lessons: Path, out: Path, *more: str, name: str = "brida-folder") -> Ran:
    return recapgen("forget", lessons / name, "--out", out, "--today", TODAY, *more)


@pytest.mark.ffmpeg
def test_nothing_is_left_of_a_student_and_nobody_else_loses_anything(
    lessons: Path, out: Path, build: Build
) -> None:
    assert build().code == 0
    corvin = tree(sites(out)["Corvin"])
    alone = _pictures(tree(out).items())
    _with_everything(lessons, out)
    built = build()
    assert built.code == 0, built.err
    (out / "one_page").mkdir()
    (out / "one_page" / "2027-04-11-abcd.html").write_bytes(b"Brida")
    (lessons / "drills" / "doorknob.md").unlink()  # from now on its words are in her lesson alone
    at = sites(out)["Brida"]
    assert (out / "site" / "cases" / "index.html").exists()
    assert len(_left(lessons, out)) > 12
    hers = _pictures(tree(out).items()) - alone
    assert len(hers) > 4

    asked = tree(lessons.parent)
    nobody = _forget(lessons, out, "--originals")
    assert nobody.code == 1
    assert "We didn't erase anything" in nobody.err
    assert tree(lessons.parent) == asked

    ran = _forget(lessons, out, "--originals", "--yes")
    assert ran.code == 0, ran.err
    for told in (
        "published files", "1 page of past cases", "1 lesson or question in your book",
        "1 lesson saved as a single file", "1 sheet of stills", "the drills in 1 lesson",
        "1 old copy", "1 worksheet", "1 file waiting in the inbox", "original files",
    ):  # fmt: skip
        assert told in ran.err, told
    assert _left(out, lessons) == set()
    everything = (*tree(lessons).items(), *tree(out).items())
    assert not hers & {hashlib.sha256(content).hexdigest() for _, content in everything}
    assert sorted(path.name for path in at.iterdir()) == ["index.html", "sw.js"]
    assert tree(sites(out)["Corvin"]) == corvin
    assert "Corvin" in (out / "coach_book" / "index.html").read_text("utf-8")
    assert not (out / "site" / "cases").exists()
    assert (lessons / "inbox" / "range.csv").exists()

    (receipt,) = (lessons / ".recapgen" / "receipts").iterdir()
    said = receipt.read_text("utf-8")
    assert str(receipt) in ran.out
    assert TODAY in said
    assert "2 files waiting" not in said
    assert at.name not in said
    assert at.name not in (lessons / ".recapgen" / "forgotten.json").read_text("ascii")

    before = tree(lessons.parent)
    again = _forget(lessons, out, "--yes")
    assert (again.code, tree(lessons.parent)) == (0, before)
    assert "already forgotten" in again.err
    add_student(lessons, "Brida")
    back = build()
    assert "had us forget" in back.err
    assert set(sites(out)) == {"Corvin"}
    assert _left(out) == set()


def test_the_folder_may_stay_and_nothing_is_made_of_it(
    lessons: Path, out: Path, build: Build
) -> None:
    assert build().code == 0
    ran = _forget(lessons, out, "--yes")
    assert ran.code == 0, ran.err
    assert (lessons / "brida-folder" / "student.yml").exists()
    assert f"Delete the folder {lessons / 'brida-folder'}" in ran.err
    for _ in range(2):
        again = build()
        assert "had us forget" in again.err
        assert _left(out, lessons / ".recapgen") == set()
    checked = recapgen("check", lessons, "--today", TODAY)
    assert "had us forget" in checked.err
    (lessons / "brida-folder").rename(lessons / "brida-again")
    assert build().code == 0
    assert set(sites(out)) == {"Brida", "Corvin"}  # at another address, as the coach wanted


def test_of_a_folder_that_is_gone_everything_goes_at_once(
    lessons: Path, out: Path, build: Build, tmp_path: Path
) -> None:
    student = lessons / "brida-folder" / "student.yml"
    student.write_text(student.read_text("utf-8") + "lock: yes\n", "utf-8")
    assert build().code == 0
    (lessons / "brida-folder").rename(tmp_path / "away")
    assert build().code == 0
    kept = _left(out, lessons)
    assert "out/.recapgen/gone.json" in kept
    ran = _forget(lessons, out, "--yes")
    assert ran.code == 0, ran.err
    assert _left(out, lessons) == set()
    assert not list((lessons / ".recapgen" / "locks").iterdir())
    assert not list((out / ".recapgen" / "unsealed").iterdir())


def test_an_unknown_name_changes_nothing(lessons: Path, out: Path, build: Build) -> None:
    (lessons / "inbox").mkdir()
    (lessons.parent / "coach.yml").write_text("coach: Ada Quill\n", "utf-8")
    assert build().code == 0
    before = tree(lessons.parent)
    lesson = "brida-folder/2027-04-11"
    given = {"bridda-folder": "brida-folder", "Bridda": "Brida", "inbox": "", ".": "", lesson: ""}
    for name, near in given.items():
        ran = _forget(lessons, out, "--yes", "--originals", name=name)
        assert ran.code == 2, name
        assert "forget-nobody" in ran.err
        assert near in ran.err
    assert tree(lessons.parent) == before


def _found(lessons: Path, out: Path, name: str = "brida-folder") -> Whom:
    found = whom(lessons / name, out, DAY)
    assert found.value is not None, found.problems
    return found.value


def test_a_run_that_was_stopped_is_finished_by_the_next(
    lessons: Path, out: Path, build: Build
) -> None:
    assert build().code == 0
    first = _found(lessons, out)
    counted = traces_in_output(first)

    def stop() -> None:
        raise OSError("the disk is full")

    console = Console(words("en"))
    with pytest.raises(OSError, match="full"):
        forget(first, counted, beside=stop, day=DAY, console=console)
    assert set(sites(out)) == {"Corvin"}
    build()
    assert set(sites(out)) == {"Corvin"}  # whatever happens meanwhile

    second = _found(lessons, out, "brida")  # by the name that is shown
    assert second.stopped is not None
    beside = look_among_lessons(lessons, second.key, second.names, DAY, with_originals=True)
    done = forget(
        second, traces_in_output(second), beside=beside.erase, day=DAY, console=console
    ).value
    assert done is not None
    assert done.receipt.number == second.stopped.number
    pages = next(trace.count for trace in counted if trace.kind is TraceKind.SITE)
    assert done.receipt.erased[TraceKind.SITE] == pages
    assert done.left is None
    assert _left(out, lessons) == set()
    assert _found(lessons, out).is_forgotten


def test_marks_that_cannot_be_read_let_nobody_back(lessons: Path, out: Path, build: Build) -> None:
    assert build().code == 0
    assert _forget(lessons, out, "--yes").code == 0
    marks = lessons / ".recapgen" / "forgotten.json"
    assert all(mark is None for mark in json.loads(marks.read_text("ascii"))["marks"].values())
    marks.write_text("{", "ascii")
    ran = build()
    assert ran.code == 2
    assert "forgotten.json" in ran.err
    assert set(sites(out)) == {"Corvin"}
