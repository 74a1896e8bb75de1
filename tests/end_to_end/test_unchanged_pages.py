"""Pages of lessons that did not change stay as they are, and still tell nothing they must not."""

from pathlib import Path

import pytest

from tests.end_to_end.small_lessons import TODAY, Ran, add_student, recapgen

WORDS = "Listen for the quiet thud behind the ball, and let the Walling stay where it is today."


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    """A student of two lessons, built."""
    folder = tmp_path / "lessons"
    first = add_student(folder, "Brida")
    second = first.with_name("2027-05-02")
    second.mkdir()
    for file in first.iterdir():
        (second / file.name).write_bytes(file.read_bytes())
    notes = first / "notes.md"
    notes.write_text(notes.read_text("utf-8") + WORDS + "\n", encoding="utf-8")
    assert build(folder).code == 0
    return folder


def build(lessons: Path) -> Ran:
    return recapgen("build", lessons, "--today", TODAY)


def pages(lessons: Path) -> dict[str, Path]:
    site = lessons.with_name("lessons_out") / "site"
    return {page.name: page for page in site.glob("*/*.html") if page.name[:4] == "2027"}


def test_a_word_changed_in_one_lesson_leaves_the_other_page_alone(lessons: Path) -> None:
    before = {name: page.stat().st_ino for name, page in pages(lessons).items()}
    notes = next(lessons.glob("*/2027-05-02/notes.md"))
    notes.write_text(notes.read_text("utf-8") + "Breathe out first.\n", encoding="utf-8")
    assert build(lessons).code == 0
    after = {name: page.stat().st_ino for name, page in pages(lessons).items()}
    same = {name for name, inode in after.items() if before[name] == inode}
    assert {name[:10] for name in after.keys() - same} == {"2027-05-02"}
    assert len(same) == 1


def test_private_words_are_looked_for_in_pages_that_did_not_change(lessons: Path) -> None:
    later = next(lessons.glob("*/2027-05-02"))
    (later / "private.md").write_text(WORDS + "\n", encoding="utf-8")
    ran = build(lessons)
    assert ran.code != 0
    assert "private" in ran.out + ran.err
    assert not pages(lessons), "what is private came down"


def test_a_name_that_came_since_is_looked_for_in_pages_that_did_not_change(lessons: Path) -> None:
    add_student(lessons, "Thud Walling")
    notes = next(lessons.glob("*/2027-05-02/notes.md"))
    notes.write_text(notes.read_text("utf-8") + "Breathe out first.\n", encoding="utf-8")
    ran = build(lessons)
    assert "Walling" in ran.out + ran.err
