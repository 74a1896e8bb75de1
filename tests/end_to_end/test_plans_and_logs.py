"""Plans and logs all the way: what is put up, what is kept, what an unchanged run leaves alone."""

import json
import re
from pathlib import Path

from tests.end_to_end.small_lessons import TODAY, add_student, recapgen, sites, tree

PLAN = """practice:
  sessions a week: 3
  weeks: 2
  steps:
    - {drill: wall, balls: 12}
---
"""
DRILL = "---\ndo: Turn along a wall\n---\nStand **close** to it.\n"


def make(root: Path) -> tuple[Path, Path]:
    """Two lessons folders' worth of one student whose plan names a drill; her notes, the drill."""
    lessons = root / "lessons"
    lessons.mkdir()
    (lessons / "coach.yml").write_text(
        "coach: Ines Falk\nunits: {speed: mph, length: m}\n", encoding="utf-8"
    )
    notes = add_student(lessons, "Brida") / "notes.md"
    notes.write_text(notes.read_text("utf-8").replace("---\nKeep", f"{PLAN}Keep"), encoding="utf-8")
    drill = lessons / "drills" / "wall.md"
    drill.parent.mkdir()
    drill.write_text(DRILL, encoding="utf-8")
    return notes, drill


def build(root: Path) -> str:
    ran = recapgen("build", root / "lessons", "--today", TODAY)
    assert ran.code == 0, ran.err
    return ran.out + ran.err


def test_a_recap_keeps_the_words_it_was_built_with(tmp_path: Path) -> None:
    notes, drill = make(tmp_path)
    out = tmp_path / "lessons_out"
    build(tmp_path)
    page = sites(out)["Brida"] / "practice.html"
    assert "Turn along a wall" in page.read_text("utf-8")
    assert "<strong>close</strong>" in page.read_text("utf-8")

    drill.write_text(DRILL.replace("Turn", "Lean"), encoding="utf-8")
    assert "drill-changed" in build(tmp_path)
    assert "Turn along a wall" in page.read_text("utf-8")
    data = json.loads((out / "coach_book/data/brida-folder/2027-04-11.json").read_text("utf-8"))
    assert data["plan"]["steps"][0]["do"] == "Turn along a wall"

    notes.write_text(notes.read_text("utf-8") + "Again.\n", encoding="utf-8")
    assert "drill-changed" not in build(tmp_path)
    assert "Lean along a wall" in page.read_text("utf-8")


def test_keeping_words_makes_no_second_run_do_anything(tmp_path: Path) -> None:
    make(tmp_path)
    build(tmp_path)
    assert re.search(r"\b0 written, 1 unchanged", build(tmp_path))


def test_a_check_keeps_nothing(tmp_path: Path) -> None:
    make(tmp_path)
    assert recapgen("check", tmp_path / "lessons").code == 0
    assert not (tmp_path / "lessons/.recapgen").exists()


def test_the_site_has_a_log_and_a_calendar_and_links_them(tmp_path: Path) -> None:
    make(tmp_path)
    build(tmp_path)
    site = sites(tmp_path / "lessons_out")["Brida"]
    calendar = (site / "practice.ics").read_bytes()
    assert calendar.startswith(b"BEGIN:VCALENDAR\r\n")
    assert calendar.count(b"BEGIN:VEVENT\r\n") == 6
    assert b"\r\r" not in calendar
    slip = (site / "practice.html").read_text("utf-8")
    assert 'href="practice.ics" download' in slip
    for name in ("index.html", "practice.html"):
        assert 'href="log.html"' in (site / name).read_text("utf-8")
    assert "data-columns" in (site / "log.html").read_text("utf-8")


def test_pain_that_is_past_leaves_the_book_though_nothing_was_changed(tmp_path: Path) -> None:
    notes, _ = make(tmp_path)
    log = "date,balls,pain,where\n2027-05-30,40,yes,low back\n"
    (notes.parents[1] / "practice.csv").write_text(log, encoding="utf-8")
    book = tmp_path / "lessons_out" / "coach_book"
    days = ("2027-06-01", "2027-07-20", "2027-06-01")
    told = []
    for day in days:
        recapgen("build", tmp_path / "lessons", "--today", day)
        told.append(tree(book))
    for day, kept in zip(days, told, strict=True):
        clean = tmp_path / f"clean {day}"
        recapgen("build", tmp_path / "lessons", "--out", clean, "--today", day)
        pages = tree(clean / "coach_book")
        changed = {path for path in pages if pages[path] != kept.get(path)}
        assert changed <= {"index.html", "problems.html", "assets/book_index.js"}  # what is put up
    assert told[0] != told[1]
