"""``recapgen one-page``: what the site shows of one lesson, for as long as it may show it."""

from pathlib import Path

import pytest

from tests.end_to_end.small_lessons import TODAY, add_student, recapgen


@pytest.fixture
def lesson(tmp_path: Path) -> Path:
    lessons = tmp_path / "lessons"
    lesson = add_student(lessons, "Brida")
    (lessons / "coach.yml").write_text("coach: Ines Falk\n", encoding="utf-8")
    return lesson


def built(lesson: Path) -> None:
    assert recapgen("build", lesson.parents[1], "--today", TODAY).code in (0, 1)


def test_the_published_page_as_a_file_until_the_next_build(lesson: Path, tmp_path: Path) -> None:
    built(lesson)
    ran = recapgen("one-page", lesson, "--today", TODAY)
    assert ran.code == 0, ran.err
    file = Path(ran.out.strip())
    (page,) = (tmp_path / "lessons_out" / "site").glob("*/2027-04-11-*.html")
    assert file.name == page.name
    assert "brida" not in str(file.relative_to(tmp_path)).casefold()
    assert f"{file.stat().st_size / 1e6:.1f} MB" in ran.err
    assert "Slide along the wall" in file.read_text("utf-8")
    built(lesson)
    assert not file.exists()


def test_it_is_refused_where_the_site_would_not_show_it(lesson: Path, tmp_path: Path) -> None:
    ran = recapgen("one-page", lesson, "--today", TODAY)
    assert (ran.code, "[one-page-not-up]" in ran.err) == (2, True)
    assert not (tmp_path / "lessons_out").exists()
    built(lesson)
    notes = lesson / "notes.md"
    notes.write_text(notes.read_text("utf-8") + "More.\n", encoding="utf-8")
    ran = recapgen("one-page", lesson, "--today", TODAY)
    assert (ran.code, "[one-page-not-up]" in ran.err) == (2, True)
    student = lesson.parent / "student.yml"
    student.write_text(student.read_text("utf-8").replace("page: yes", "page: no"), "utf-8")
    ran = recapgen("one-page", lesson, "--today", TODAY)
    assert (ran.code, "[one-page-not-agreed]" in ran.err) == (2, True)
    assert not list(tmp_path.glob("lessons_out/one_page/*"))


def test_clips_that_are_not_agreed_are_said_to_be_left_out(lesson: Path) -> None:
    (lesson / "swing.mp4").write_bytes(b"no film at all")
    student = lesson.parent / "student.yml"
    student.write_text(student.read_text("utf-8").replace("clips: yes", "clips: no"), "utf-8")
    built(lesson)
    ran = recapgen("one-page", lesson, "--today", TODAY)
    assert ran.code == 0, ran.err
    assert "We left out 1 clip" in ran.err
    assert "<video" not in Path(ran.out.strip()).read_text("utf-8")
