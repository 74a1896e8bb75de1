"""Every kind of page held against the rules of axe-core: nothing may be found."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.axe_rules import (
    BOTH_ENDS,
    EVERY_LOOK,
    OPEN_ALL,
    let_in,
    page_for_axe,
    violations,
    violations_in,
)

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]


def _student(sample_out: Path, which: int) -> list[Path]:
    homes = sorted(home.parent for home in sample_out.glob("site/*/practice.html"))
    return sorted(homes[which].glob("*.html"))


def _front_and_cases(sample_out: Path) -> list[Path]:
    site = sample_out / "site"
    return [site / "index.html", *sorted((site / "cases").glob("*.html"))]


def _book(sample_out: Path) -> list[Path]:
    """Every kind of page of it."""
    found = sorted((sample_out / "coach_book").glob("*.html"))
    students = [page for page in found if page.stem.startswith("student-")]
    handbook = [sample_out / "coach_book" / "handbook" / f"{name}.html" for name in HANDBOOK]
    return [*(page for page in found if page not in students[2:]), *handbook]


HANDBOOK = ("index", "notes", "problems_publishing")
PARTS: dict[str, Callable[[Path], list[Path]]] = {
    "one student": partial(_student, which=0),
    "another student": partial(_student, which=1),
    "front and cases": _front_and_cases,
    "book": _book,
}


@pytest.fixture(scope="module")
def pages(sample_out: Path) -> list[Path]:
    """Two students' whole sites, all cases, the card, and every kind of page of the book."""
    found = [page for part in PARTS.values() for page in part(sample_out)]
    kinds = {page.stem for page in found}
    assert {"index", "practice", "measured", "log", "ledger", "problems", "reading"} <= kinds
    return found


@pytest.mark.parametrize(
    "part",
    [
        pytest.param(part, marks=pytest.mark.campaign) if part == "another student" else part
        for part in PARTS
    ],
)
def test_axe_finds_nothing(browser: Browser, sample_out: Path, part: str) -> None:
    """Smallest in light and widest in dark; the first page of each part in every look."""
    first, *others = PARTS[part](sample_out)
    with page_for_axe(browser) as page:
        assert violations_in(page, [first], EVERY_LOOK) == []
        assert violations_in(page, others, BOTH_ENDS) == []


@pytest.mark.campaign
@pytest.mark.parametrize("part", PARTS)
def test_axe_finds_nothing_in_any_look(browser: Browser, sample_out: Path, part: str) -> None:
    with page_for_axe(browser) as page:
        assert violations_in(page, PARTS[part](sample_out), EVERY_LOOK) == []


def test_axe_would_find_something(browser: Browser, pages: list[Path]) -> None:
    with page_for_axe(browser) as page:
        page.goto(pages[0].as_uri())
        page.evaluate("document.querySelector('main').innerHTML += '<img src=x><button></button>'")
        let_in(page)
        ids = {told.split(":")[0] for told in violations(page)}
    assert {"image-alt", "button-name"} <= ids


def test_a_chosen_dot_is_told_aloud_and_leads_to_its_clip(page: Page, pages: list[Path]) -> None:
    lesson = next(path for path in pages if "data-clip" in path.read_text("utf-8"))
    page.set_viewport_size({"width": 320, "height": 800})
    page.goto(lesson.as_uri())
    line = page.locator(".shots-line").first
    line.get_by_role("button").nth(1).focus()
    page.keyboard.press("Enter")
    dots = page.locator(".chart [data-shot]")
    assert line.get_by_role("status").inner_text() == dots.first.get_attribute("data-shot")
    assert line.get_by_role("link").count() == int(_filmed(page, 0))

    at = next(i for i in range(dots.count()) if _filmed(page, i))
    dots.nth(at).click()
    assert page.locator("[data-chosen]").count() == 1
    told = dots.nth(at).get_attribute("data-shot")
    assert told is not None
    assert told in line.inner_text()
    line.get_by_role("link").click()
    assert page.evaluate("document.activeElement.className") == "film-track"
    clip = dots.nth(at).get_attribute("data-clip")
    assert page.evaluate("document.activeElement.closest('.take').id") == clip


def test_a_dot_of_a_folded_chart_is_told_in_a_line_of_its_own(
    page: Page, pages: list[Path]
) -> None:
    lesson = next(path for path in pages if "data-clip" in path.read_text("utf-8"))
    page.set_viewport_size({"width": 320, "height": 800})
    page.goto(lesson.as_uri())
    page.evaluate(OPEN_ALL)
    figures = page.locator("figure:has([data-shot])")
    told_first = figures.first.get_by_role("status").inner_text()
    assert figures.count() == page.locator(".shots-line").count() == 3
    for figure in figures.all()[1:]:
        dots = figure.locator("[data-shot]")
        at = next(i for i, dot in enumerate(dots.all()) if dot.get_attribute("data-clip"))
        figure.get_by_role("button").nth(1).focus()
        for _ in range(at + 1):
            page.keyboard.press("Enter")
        told = figure.get_by_role("status")
        assert told.inner_text().startswith(dots.nth(at).get_attribute("data-shot") or "no shot")
        told.get_by_role("link").click()
        clip = dots.nth(at).get_attribute("data-clip")
        assert page.evaluate("document.activeElement.closest('.take').id") == clip
        dots.first.click(force=True)
        assert told.inner_text().startswith(dots.first.get_attribute("data-shot") or "no shot")
    assert figures.first.get_by_role("status").inner_text() == told_first


def _filmed(page: Page, dot: int) -> bool:
    return page.locator(".chart [data-shot]").nth(dot).get_attribute("data-clip") is not None
