"""The worksheet of a finished lesson is opened from its place in the book while that is watched."""

import shutil
from pathlib import Path
from threading import Timer

import pytest
from playwright.sync_api import Browser, expect

from recapgen.model.notes_sent import NotesKept, NotesSent, SheetDesk
from tests.browser.complaints import heard
from tests.serving.asking import shown

pytestmark = pytest.mark.browser

STUDENT = "student-gunnar.html"
LESSON = "gunnar/2027-02-13"


def nobody(_: NotesSent) -> NotesKept:
    """Saves for nobody: nothing is typed here."""
    raise AssertionError


def test_it_is_made_and_opened_by_one_key(browser: Browser, samples: Path, tmp_path: Path) -> None:
    book = tmp_path / "book"
    heavy = shutil.ignore_patterns("handbook", "*.mp4", "worksheets")
    shutil.copytree(samples.with_name(f"{samples.name}_out") / "coach_book", book, ignore=heavy)
    (book / "worksheets").mkdir()
    asked: list[str] = []

    def made(lesson: str) -> str | None:
        asked.append(lesson)
        if len(asked) == 1:
            return None
        page = book / "worksheets" / "x.html"
        Timer(2.0, page.write_text, ("<!doctype html><h1>Sheet</h1>",)).start()
        return "worksheets/x.html"

    page = browser.new_page()
    try:
        page.goto((book / STUDENT).as_uri())
        assert page.locator(".book-open:not([hidden])").count() == 0, "a file cannot ask"
        with shown({"coach_book": book}, sheets=SheetDesk(nobody, made)) as host:
            faults = heard(page, own=(host.address, "data:"))
            page.goto(f"{host.address}coach_book/{STUDENT}")
            key = page.locator(f".book-open [data-sheet^='{LESSON}']")
            page.locator("details", has=key).locator("summary").click()
            assert faults == []
            key.click()
            expect(key).to_have_text("That didn't work. Is recapgen still running?")
            key.click()
            expect(key).to_be_disabled()
            page.reload()  # as the frame does when a build has ended
            expect(key).to_have_text("Just a moment, we're making your worksheet")
            page.wait_for_url("**/worksheets/x.html")
            expect(page.get_by_role("heading")).to_have_text("Sheet")
        assert asked[0].startswith(LESSON)
        assert len(asked) == 2
    finally:
        page.close()
