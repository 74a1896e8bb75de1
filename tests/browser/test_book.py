"""The coach's book in a real browser, opened from disk."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from recapgen.book.binding import bind_book
from recapgen.model.people import Coach
from recapgen.render.book_pages.site import book_site as coach_book
from recapgen.words.catalogue import words
from tests.book.told import SECOND, recap, student
from tests.browser.complaints import heard
from tests.publish.small_sites import book_site, built

pytestmark = pytest.mark.browser


@pytest.fixture(scope="session")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(book_site(), tmp_path_factory.mktemp("it's 100% #1") / "coach book")


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1200, "height": 800})
    yield context.new_page()
    context.close()


@pytest.fixture
def faults(page: Page, book: Path) -> list[str]:
    """What is wrong with the book from its first page on."""
    faults = heard(page)
    page.goto((book / "index.html").as_uri())
    return faults


@pytest.mark.parametrize("asked", ["marta", "MAR", "note marta"])
def test_the_search_finds_a_student(page: Page, faults: list[str], asked: str) -> None:
    page.get_by_role("combobox").fill(asked)
    found = page.get_by_role("option")
    expect(found.first).to_contain_text("Marta")
    found.first.locator("a").click()
    page.wait_for_url("**/s0*.html")
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    assert faults == []


def test_accents_do_not_matter_and_every_word_counts(page: Page, faults: list[str]) -> None:
    search, found = page.get_by_role("combobox"), page.get_by_role("option")
    search.fill("zoe angstrom")
    expect(found).to_have_count(2)
    search.fill("quartz 6.3 zoë")
    expect(found).to_have_count(1)
    search.fill("uartz")
    expect(found).to_have_count(0)
    expect(page.get_by_role("status")).to_have_text("No page has all of these words.")
    assert faults == []


def test_the_search_is_worked_by_keys_alone(page: Page, faults: list[str]) -> None:
    page.keyboard.press("/")
    expect(page.get_by_role("combobox")).to_be_focused()
    page.keyboard.type("zoe")
    expect(page.get_by_role("option")).to_have_count(2)
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("option", selected=True)).to_have_count(1)
    page.keyboard.press("Enter")
    page.wait_for_url("**/s1*.html")
    page.go_back()
    page.keyboard.press("/")
    page.keyboard.type("zoe")
    page.keyboard.press("Escape")
    expect(page.get_by_role("option")).to_have_count(0)
    assert faults == []


def test_a_hostile_name_is_shown_as_text(page: Page, faults: list[str]) -> None:
    page.on("dialog", lambda dialog: faults.append(dialog.message))
    page.get_by_role("combobox").fill("will alert")
    expect(page.get_by_role("option").first).to_contain_text("<script>alert(1)</script>")
    page.get_by_role("option").first.locator("a").click()
    expect(page).to_have_title("Will </title><script>alert(1)</script> & \"Lou's\" · Ines' book")
    assert faults == []


def test_nothing_runs_out_of_the_page(page: Page, faults: list[str]) -> None:
    page.get_by_role("combobox").fill("note")
    expect(page.get_by_role("option").first).to_be_visible()
    for width in (1200, 390, 320):
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert faults == []


def test_a_phone_opens_the_contents(page: Page, faults: list[str]) -> None:
    page.set_viewport_size({"width": 390, "height": 800})
    page.get_by_title("Contents").click()
    expect(page.get_by_role("link", name="All students").first).to_be_visible()
    assert faults == []


def test_keys_open_the_contents_too_and_reach_nothing_while_they_are_shut(
    page: Page, faults: list[str]
) -> None:
    page.set_viewport_size({"width": 390, "height": 800})
    contents = page.get_by_role("button", name="Contents")
    link = page.get_by_role("link", name="All students").first
    expect(link).to_be_hidden()
    contents.focus()
    page.keyboard.press("Enter")
    expect(contents).to_have_attribute("aria-expanded", "true")
    expect(link).to_be_visible()
    page.keyboard.press("Escape")
    expect(link).to_be_hidden()
    expect(contents).to_be_focused()
    assert faults == []


def test_a_message_is_copied_as_it_stands(browser: Browser, tmp_path: Path) -> None:
    coach = Coach("Ines Falk", address="https://cards.example.org/golf")
    site = coach_book(bind_book((student(recap()),), (), SECOND), coach, words("en"))
    context = browser.new_context(viewport={"width": 390, "height": 800})
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    page = context.new_page()
    faults = heard(page)
    page.goto((built(site, tmp_path / "book") / "student-marta.html").as_uri())
    message = page.locator(".book-message")
    message.locator("summary").click()
    message.get_by_role("button", name="Copy the message").click()
    expect(message.get_by_role("status")).to_have_text("Copied.")
    copied = page.evaluate("navigator.clipboard.readText()")
    assert copied.split("\n")[0] == "Hi Marta,"
    assert copied == message.locator("textarea").input_value()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert faults == []
    if folder := os.environ.get("LOOK"):
        page.screenshot(path=f"{folder}/message.png", full_page=True)
    context.close()
