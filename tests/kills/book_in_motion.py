"""A small book in the states that a coach's folder goes through, and what each is to give."""

import hashlib
import shutil
from collections.abc import Iterable
from enum import StrEnum
from pathlib import Path

from recapgen.publish.emptying import is_emptying
from tests.end_to_end.small_lessons import add_student

# What changed in public and what a folder was called before is told by the build that did it.
_OF_ONE_BUILD = frozenset({"problems.html", "index.html", "assets/book_index.js"})


class Change(StrEnum):
    """One thing that a coach does between two builds."""

    NOTES = "notes edited"
    ADDED = "a lesson added"
    DELETED = "a lesson deleted"
    WITHDRAWN = "consent withdrawn"
    RENAMED = "a student renamed"
    GONE = "a student gone"
    CARD = "the coach renamed"


STATES = (
    frozenset[Change](),
    frozenset({Change.NOTES}),
    frozenset({Change.ADDED}),
    frozenset({Change.DELETED, Change.CARD}),
    frozenset({Change.WITHDRAWN}),
    frozenset({Change.RENAMED, Change.NOTES}),
    frozenset({Change.GONE, Change.ADDED}),
    frozenset({Change.WITHDRAWN, Change.NOTES, Change.DELETED}),
)
_DRILL = "---\ndo: Turn along the wall\ntimes: 8\nright when: it does not mind\n---\nSlowly.\n"
_PRACTICE = "practice:\n  sessions a week: 2\n  steps:\n    - {drill: wall, times: 8}\n"
_CASE = "case: {name: the-wall, title: The driver that started right}\n"


def lay_out(root: Path, state: frozenset[Change], clip: Path) -> None:
    """The lessons as they are in ``state``; what recapgen keeps in them stays."""
    for thing in root.iterdir():
        if thing.name != ".recapgen":
            shutil.rmtree(thing) if thing.is_dir() else thing.unlink()
    (root / "coach.yml").write_text(
        "coach: Ada Penn\n" if Change.CARD in state else "coach: Ada Quill\n", "utf-8"
    )
    (root / "drills").mkdir()
    (root / "drills" / "wall.md").write_text(_DRILL, "utf-8")
    for name in ("Brida", "Corvin", "Dorn"):
        first = add_student(root, name, cases="yes" if name == "Dorn" else "no")
        (first / "shots.csv").rename(first.parent / "shots.csv")
        second = first.with_name("2027-05-09")
        second.mkdir()
        (first.parent / "shots.csv").rename(second / "shots.csv")
        shutil.copy(first / "notes.md", second)
        plain = "intent: Stand tall\n" + (_CASE if name == "Dorn" else _PRACTICE)
        (first / "notes.md").write_text(f"---\n{plain}---\nKeep the wall.\n", "utf-8")
    shutil.copy(clip, root / "brida-folder" / "2027-04-11" / "face on.mp4")
    _change(root, state)


def _change(root: Path, state: frozenset[Change]) -> None:
    brida, corvin, dorn = (root / f"{name}-folder" for name in ("brida", "corvin", "dorn"))
    if Change.NOTES in state:
        for notes in (brida / "2027-04-11/notes.md", corvin / "2027-05-09/notes.md"):
            notes.write_text(notes.read_text("utf-8") + "\nMore words.\n", "utf-8")
    if Change.ADDED in state:
        (corvin / "2027-05-20").mkdir()
        (corvin / "2027-05-20" / "notes.md").write_text("---\nintent: Hum\n---\nWell.\n", "utf-8")
    if Change.DELETED in state:
        shutil.rmtree(corvin / "2027-04-11")
    if Change.WITHDRAWN in state:
        who = dorn / "student.yml"
        who.write_text(who.read_text("utf-8").replace("page: yes", "page: no"), "utf-8")
    if Change.RENAMED in state:
        brida.rename(root / "brida-h")
    if Change.GONE in state:
        shutil.rmtree(dorn)


def parts_of(out: Path) -> dict[str, str]:
    """A digest of each thing that is swapped in by itself; what empties phones is nothing."""
    site, book = out / "site", out / "coach_book"
    parts = {
        f"site/{thing.name}": digest(thing)
        for thing in site.glob("*")
        if thing.is_dir() and not is_emptying(thing)
    }
    if (site / "index.html").is_file():
        parts["site/index.html"] = _digest_of(site, [site / "index.html"])
    if book.is_dir():
        kept = (f for f in _files(book) if f.relative_to(book).as_posix() not in _OF_ONE_BUILD)
        parts["coach_book"] = _digest_of(book, kept)
    return parts


def digest(folder: Path) -> str:
    """Every path and every byte of a folder."""
    return _digest_of(folder, _files(folder))


def _files(folder: Path) -> list[Path]:
    return sorted(file for file in folder.rglob("*") if file.is_file())


def _digest_of(root: Path, files: Iterable[Path]) -> str:
    told = hashlib.sha256()
    for file in files:
        told.update(f"{file.relative_to(root).as_posix()}\n".encode())
        told.update(hashlib.sha256(file.read_bytes()).digest())
    return told.hexdigest()
