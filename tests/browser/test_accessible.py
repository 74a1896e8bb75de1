"""Every kind of page held against the rules of axe-core: nothing may be found."""

from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]

AXE = Path(__file__).parents[2] / ".venv" / "browser" / "node_modules" / "axe-core" / "axe.min.js"
WIDTHS = (320, 390, 768, 1200)
OPEN_ALL = "document.querySelectorAll('details').forEach(fold => { fold.open = true })"
RULES = """async () => (await axe.run(document)).violations.map(
    found => `${found.id}: ${found.nodes.map(node => node.html.slice(0, 120)).join(' | ')}`)"""
TREE = """() => {
    const shown = [...document.querySelectorAll('h1, h2, h3, main, footer, nav, summary')]
        .filter(e => e.checkVisibility());
    return shown.map(e => e.tagName.toLowerCase()); }"""


@pytest.fixture(scope="module")
def axe() -> str:
    if not AXE.is_file():
        pytest.skip("no axe-core here")
    return AXE.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def pages(sample_out: Path) -> list[Path]:
    """Two students' whole sites, all cases, the card, and every kind of page of the book."""
    site, book = sample_out / "site", sample_out / "coach_book"
    students = sorted(home.parent for home in site.glob("*/practice.html"))[:2]
    found = [page for student in students for page in sorted(student.glob("*.html"))]
    found += [site / "index.html", *sorted((site / "cases").glob("*.html"))]
    found += [page for page in sorted(book.glob("*.html")) if not page.stem.startswith("student-")]
    found += sorted(book.glob("student-*.html"))[:2]
    kinds = {page.stem for page in found}
    assert {"index", "practice", "measured", "log", "ledger", "problems", "reading"} <= kinds
    return found


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", WIDTHS)
def test_axe_finds_nothing(
    browser: Browser, pages: list[Path], axe: str, width: int, scheme: str
) -> None:
    context = browser.new_context(
        viewport={"width": width, "height": 800},
        color_scheme="dark" if scheme == "dark" else "light",
        bypass_csp=True,  # for axe alone, which is no part of the page
        reduced_motion="reduce",
    )
    page = context.new_page()
    found = {}
    for path in pages:
        page.goto(path.as_uri())
        page.evaluate(OPEN_ALL)
        page.evaluate(axe)
        violations = page.evaluate(RULES)
        if violations:
            found[path.name] = violations
    context.close()
    assert found == {}


def test_axe_would_find_something(browser: Browser, pages: list[Path], axe: str) -> None:
    context = browser.new_context(bypass_csp=True)
    page = context.new_page()
    page.goto(pages[0].as_uri())
    page.evaluate("document.querySelector('main').innerHTML += '<img src=x><button></button>'")
    page.evaluate(axe)
    ids = [told.split(":")[0] for told in page.evaluate(RULES)]
    context.close()
    assert {"image-alt", "button-name"} <= set(ids)


def test_a_chosen_dot_is_told_aloud_and_leads_to_its_clip(
    browser: Browser, pages: list[Path]
) -> None:
    lesson = next(path for path in pages if "data-clip" in path.read_text("utf-8"))
    page = browser.new_page(viewport={"width": 320, "height": 800})
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
    page.close()


def test_a_dot_of_a_folded_chart_is_told_in_a_line_of_its_own(
    browser: Browser, pages: list[Path]
) -> None:
    lesson = next(path for path in pages if "data-clip" in path.read_text("utf-8"))
    page = browser.new_page(viewport={"width": 320, "height": 800}, reduced_motion="reduce")
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
    page.close()


def _filmed(page: Page, dot: int) -> bool:
    return page.locator(".chart [data-shot]").nth(dot).get_attribute("data-clip") is not None


def test_headings_go_down_one_step_at_a_time(browser: Browser, pages: list[Path]) -> None:
    page = browser.new_page()
    for path in pages:
        page.goto(path.as_uri())
        steps = [int(tag[1]) for tag in page.evaluate(TREE) if tag in ("h1", "h2", "h3")]
        assert steps[0] == 1, path.name
        assert steps.count(1) == 1, path.name
        deeper = pairwise(steps)
        assert all(after - before <= 1 for before, after in deeper), path.name
    page.close()
