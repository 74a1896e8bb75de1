"""The coach's page for the range: built with everything, told to nobody, with nobody on it."""

from collections.abc import Callable
from pathlib import Path

import pytest

from recapgen.model.public import RANGE_PAGE
from tests.end_to_end.small_lessons import Ran, sites

Build = Callable[..., Ran]


def range_page(out: Path) -> Path:
    (page,) = (out / "site").glob(f"*/{RANGE_PAGE}")
    return page


def test_it_is_up_names_nobody_and_is_in_no_list(lessons: Path, build: Build, out: Path) -> None:
    coach = "coach: Ada Quill\nlanguage: de\nintents: {hum: [Hum one note]}\n"
    (lessons / "coach.yml").write_text(coach, encoding="utf-8")
    ran = build()
    assert ran.code == 0, ran.err
    page = range_page(out)
    folder = page.parent
    assert folder.name not in ran.err
    assert folder not in sites(out).values()
    told = page.read_text("utf-8")
    assert "<option>Hum one note</option>" in told
    assert '<html lang="de">' in told
    assert "noindex" in told
    assert not any(
        name.encode() in file.read_bytes()
        for file in folder.rglob("*")
        if file.is_file()
        for name in ("Brida", "brida", "Corvin", "corvin", "Keep the wall")
    )
    linking = [
        file.relative_to(out).as_posix()
        for file in out.rglob("*.html")
        if folder.name in file.read_text("utf-8")
    ]
    assert linking == ["coach_book/index.html"]
    before = page.stat().st_mtime_ns
    assert build().code == 0
    assert range_page(out).stat().st_mtime_ns == before, "what is the same stands"


def test_its_address_stays_while_students_come_and_go(
    lessons: Path, build: Build, out: Path
) -> None:
    build()
    page = range_page(out)
    (lessons / "brida-folder").rename(lessons / "range")
    ran = build()
    assert range_page(out) == page
    assert "range.html" not in ran.err
    (lessons / "coach.yml").write_text("coach: [", encoding="utf-8")
    assert build().code == 2
    assert range_page(out) == page, "notes that cannot be read take nothing of the coach's down"


@pytest.mark.parametrize("intent", ["Hum as Corvin does"])
def test_an_intent_that_names_a_student_stays_off(
    intent: str, lessons: Path, build: Build, out: Path
) -> None:
    coach = f"coach: Ada Quill\nintents: {{hum: [{intent}]}}\n"
    (lessons / "coach.yml").write_text(coach, encoding="utf-8")
    ran = build()
    assert "Corvin" in ran.err
    assert list((out / "site").glob(f"*/{RANGE_PAGE}")) == []
