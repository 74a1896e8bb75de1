"""The log on the student's phone: kept in the browser, copied as text, read by practice.csv."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from recapgen.intake.folder import survey
from recapgen.intake.log_file import read_log
from recapgen.model.practice_log import LogEntry
from recapgen.publish.site_builder import build_site
from recapgen.render.student_site import student_site
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import COACH, full_recap, student

pytestmark = pytest.mark.browser

LINES = (
    {"date": "2027-04-20", "balls": "40", "minutes": "45", "effort": "4.5", "pain": "no"},
    {"date": "2027-04-18", "rounds": "1", "score": "86", "miss": "3"},
    {"date": "2027-04-21", "balls": "0", "pain": "yes", "where": 'knee, the "left" one'},
    {"date": "2027-04-22", "minutes": "20", "where": "=1+1"},
)
WITHOUT_STORAGE = """Object.defineProperty(window, "localStorage",
    { get() { throw new DOMException("no", "SecurityError"); } });"""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    built = tmp_path_factory.mktemp("log")
    build_site(student_site(student(full_recap()), COACH, words("en")), built, template_folder())
    return built


@pytest.fixture
def page(browser: Browser, site: Path) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 800})
    page = context.new_page()
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.goto((site / "log.html").as_uri())
    yield page
    context.close()


def write(page: Page, line: dict[str, str]) -> None:
    for name, value in line.items():
        if name == "pain":
            page.select_option("[name=pain]", value)
        else:
            page.fill(f"[name={name}]", value)
    page.click("[data-do=add]")


def text(page: Page) -> str:
    return page.input_value("#log-text")


def entries(copied: str, root: Path) -> list[LogEntry]:
    """What the coach's reader makes of the text."""
    (root / "marta").mkdir()
    (root / "marta/practice.csv").write_text(copied, encoding="utf-8")
    found, _ = survey(root)
    assert found is not None
    log, problems = read_log(root, found.students[0])
    assert problems == ()
    assert log is not None
    return list(log.entries)


def test_what_is_written_down_is_what_the_coach_reads(page: Page, tmp_path: Path) -> None:
    for line in LINES:
        write(page, line)
    read = entries(text(page), tmp_path)
    assert [e.on for e in read] == [date(2027, 4, day) for day in (18, 20, 21, 22)]
    a_round, session, sore, short = read
    assert (a_round.rounds, a_round.score, a_round.miss_count) == (1, 86, 3)
    assert (a_round.balls, a_round.minutes, a_round.pain) == (None, None, None)
    assert (session.balls, session.minutes, session.effort, session.pain) == (40, 45, 4.5, False)
    assert (sore.balls, sore.pain, sore.pain_place) == (0, True, 'knee, the "left" one')
    assert (short.minutes, short.pain_place) == (20, "1+1"), "no cell begins like a sum"


def test_it_is_still_there_when_the_page_is_opened_again(page: Page, site: Path) -> None:
    write(page, LINES[0])
    before = text(page)
    page.reload()
    assert text(page) == before
    kept = page.evaluate("Object.keys(localStorage)")
    assert kept == [f"practice {site.resolve().as_uri().removeprefix('file://')}/"]


def test_a_line_can_be_taken_out_and_the_log_emptied(page: Page) -> None:
    for line in LINES[:2]:
        write(page, line)
    page.click("[data-lines] li:first-child button")
    assert "2027-04-18" not in text(page)
    assert "2027-04-20" in text(page)
    page.on("dialog", lambda dialog: dialog.accept())
    page.click("[data-do=clear]")
    assert text(page) == ""
    assert page.evaluate("localStorage.length") == 0
    assert page.is_disabled("[data-do=copy]")


@pytest.mark.parametrize(
    "line",
    [
        {"date": "2027-04-20"},
        {"date": "", "balls": "3"},
        {"date": "2027-04-20", "balls": "-3"},
        {"date": "2027-04-20", "effort": "11"},
        {"date": "2027-04-20", "rounds": "1.5"},
    ],
)
def test_a_line_that_says_nothing_or_cannot_be_is_not_taken(
    page: Page, line: dict[str, str]
) -> None:
    write(page, line)
    assert text(page) == ""


def test_where_nothing_can_be_kept_it_says_so_and_still_copies(
    browser: Browser, site: Path, tmp_path: Path
) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.add_init_script(WITHOUT_STORAGE)
    page.goto((site / "log.html").as_uri())
    assert words("en").say("page.log.unkept") in page.inner_text("[data-where]")
    write(page, LINES[0])
    assert len(entries(text(page), tmp_path)) == 1
    context.close()


def test_the_second_copy_offers_what_is_new(page: Page, tmp_path: Path) -> None:
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.evaluate("navigator.clipboard.writeText = async (told) => { window.copied = told; }")
    new = page.locator("[data-do=copyNew]")
    write(page, LINES[0])
    assert new.is_hidden()
    page.click("[data-do=copy]")
    assert new.is_hidden()
    write(page, LINES[2])
    new.click()
    told: str = page.evaluate("window.copied")
    assert [e.on for e in entries(told, tmp_path)] == [date(2027, 4, 21)]
    assert new.is_hidden()
    assert len(text(page).splitlines()) == 3, "the lines themselves stay"


def test_circles_are_ticked_and_kept_and_the_log_prints_lines_to_fill(
    page: Page, site: Path
) -> None:
    page.goto((site / "practice.html").as_uri())
    circles = page.locator(".ticks button")
    first = circles.first
    assert (first.get_attribute("aria-label") or "").startswith("Week 1, session 1")
    box = first.bounding_box()
    assert box is not None
    assert min(box["width"], box["height"]) >= 40
    first.click()
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    page.reload()
    assert first.get_attribute("aria-pressed") == "true"
    assert circles.nth(1).get_attribute("aria-pressed") == "false"
    first.click()
    page.reload()
    assert first.get_attribute("aria-pressed") == "false"
    page.goto((site / "log.html").as_uri())
    page.emulate_media(media="print")
    lines = page.locator(".ruled tbody tr:visible")
    assert lines.count() == 20
    assert (
        lines.first.evaluate("row => getComputedStyle(row.cells[0]).borderBottomStyle") == "solid"
    )
    assert page.locator("#log-date").is_hidden()


def test_without_a_clipboard_the_text_is_marked_to_be_copied_by_hand(page: Page) -> None:
    write(page, LINES[0])
    page.evaluate("Object.defineProperty(navigator, 'clipboard', { value: undefined })")
    page.click("[data-do=copy]")
    page.wait_for_function("document.querySelector('[data-said]').textContent.includes('selected')")
    assert page.evaluate("getSelection().toString()").startswith("date,balls") or page.evaluate(
        "(t => t.selectionEnd - t.selectionStart === t.value.length)(document.activeElement)"
    )


def test_without_scripts_the_page_says_what_to_write_on_paper(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "log.html").as_uri())
    assert not page.is_visible("[data-log]")
    assert page.is_visible("[data-log-paper]")
    context.close()
