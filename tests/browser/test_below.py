"""A lesson shows its first sight before the sheet for the rest has come."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Route, expect

from tests.browser.kinds_of_pages import KINDS
from tests.browser.test_offline import served

pytestmark = pytest.mark.browser

PAINTED = """() => new Promise((painted, late) => {
    new PerformanceObserver(painted).observe({ type: "paint", buffered: true });
    setTimeout(late, 20000);
})"""


def test_the_first_sight_waits_for_no_second_answer(every_kind: Path, browser: Browser) -> None:
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    page = browser.new_page(viewport={"width": 390, "height": 800})
    page.route("**/assets/below.css", hold)
    with served(every_kind) as port:
        page.goto(f"http://localhost:{port}/{KINDS['lesson']}", wait_until="commit")
        page.evaluate(PAINTED)
        expect(page.locator("h1")).to_be_visible()
        expect(page.locator(".verdict").first).to_be_visible()
        expect(page.locator(".shift .mark.now")).to_have_css("border-radius", "50%")
        expect(page.locator(".chart").first).to_be_visible()
        assert page.locator(".folds").count() == 0
        assert len(held) == 1
        first_sight = page.locator("#number").bounding_box()
        held[0].continue_()
        page.wait_for_load_state("load")
        expect(page.locator(".folds summary").first).to_have_css("display", "flex")
        assert page.locator("#number").bounding_box() == first_sight
    page.close()
