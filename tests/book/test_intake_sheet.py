"""The sheet of questions: what it asks, what is signed, and the same as lines to copy."""

from hashlib import sha256
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.student import read_student
from recapgen.model.people import Agreed
from recapgen.render.book_pages.intake_sheet import SHEET, sheet_page, student_file
from recapgen.words import catalogue
from recapgen.words.languages import OWN_NAMES
from tests.book.test_book_site import COACH, EN, page, site, text, two_lessons

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("language", OWN_NAMES)
def test_who_is_asked_about_the_chest_is_told_whom_to_call(language: str) -> None:
    words = catalogue.words(language)
    local, told = (text(sheet_page(words, number).body) for number in (None, "112 112"))
    assert words.say("care.emergency.local") in local
    assert "112 112" in told


def test_the_sheet_asks_for_everything_that_student_yml_can_hold(tmp_path: Path) -> None:
    sheet = text(page(site(two_lessons()), "questions.html"))
    for part in ("lower back", "wrist", "osteoporosis", "pregnancy", "guardian", "yes / no"):
        assert part in sheet
    folder = tmp_path / "marta" / "2027-04-11"
    folder.mkdir(parents=True)
    (folder / "notes.md").write_text("Well done.\n")
    lines = student_file(EN).replace("name:", "name: Marta", 1)
    (tmp_path / "marta/student.yml").write_text(lines)
    found, _ = survey(tmp_path)
    assert found is not None
    read, problems = read_student(tmp_path, found.students[0], COACH)
    assert problems == ()
    assert read is not None
    assert (read.name, read.agreed, read.areas) == ("Marta", Agreed(sheet=SHEET), ())


@pytest.mark.parametrize("language", OWN_NAMES)
def test_what_is_signed_says_what_it_is_in_any_language(language: str) -> None:
    words = catalogue.words(language)
    sheet = text(sheet_page(words, None).body)
    assert words.say("sheet.version", version=SHEET) in sheet
    assert sheet.count(words.say("sheet.signed")) == 2
    for part in ("agree.words", "yes-words-no", "guardian.name", "guardian.born"):
        assert " ".join(words.say(f"sheet.{part}").split()) in sheet


def test_a_sheet_that_asks_for_something_else_has_another_version() -> None:
    """Said better but asking the same it keeps its version: only the digest is written anew."""
    keys = (ROOT / "recapgen/words/en/sheet.po").read_text("utf-8").split('msgid "')
    asked = sorted(key for key in keys if key.startswith(("sheet.agree", "sheet.guardian.agree")))
    digest = sha256("".join(asked).encode()).hexdigest()[:12]
    assert {SHEET: digest} == {"1": "65d80a46a71f"}
