"""A coach is told, last, what is other for anybody who looks."""

from collections.abc import Callable
from pathlib import Path

from tests.end_to_end.small_lessons import Ran, sites

Build = Callable[..., Ran]
UPLOAD = "Upload site/ now. Until you do, none of this is online."


def lines_of(ran: Ran) -> list[str]:
    """What was told of public pages, without the addresses."""
    said = [line.partition(" (site/")[0] for line in ran.err.splitlines()]
    return [line for line in said if line.startswith(("New", "Changed", "Taken down"))]


def test_what_was_put_up_changed_or_came_down_is_told_each_time(
    lessons: Path, build: Build, out: Path
) -> None:
    first = build()
    assert lines_of(first) == ["New: Brida", "New: Corvin"]
    assert first.err.rstrip().endswith(UPLOAD)
    again = build()
    assert lines_of(again) == []
    assert UPLOAD not in again.err

    notes = lessons / "corvin-folder/2027-04-11/notes.md"
    notes.write_text(notes.read_text("utf-8").replace("Keep the wall", "Lose the wall"), "utf-8")
    changed = build()
    assert lines_of(changed) == ["Changed: Corvin"]
    book = (out / "coach_book/problems.html").read_text("utf-8")
    assert "Changed: Corvin" in book
    assert "Changed: Brida" not in book

    address = sites(out)["Brida"].name
    (lessons / "brida-folder").rename(lessons / "_brida")
    gone = build()
    assert lines_of(gone) == ["Taken down: brida-folder"]
    assert f"(site/{address})" in gone.err


def test_what_comes_down_is_told_even_where_nothing_can_be_built(
    lessons: Path, build: Build
) -> None:
    build()
    student = lessons / "brida-folder/student.yml"
    student.write_text(student.read_text("utf-8").replace("page: yes", "page: no"), "utf-8")
    (lessons / "coach.yml").write_text("coach: [", encoding="utf-8")
    ran = build()
    assert ran.code == 2
    assert lines_of(ran) == ["Taken down: Brida"]
    assert ran.err.rstrip().endswith(UPLOAD)
