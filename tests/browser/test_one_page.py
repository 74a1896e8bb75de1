"""A lesson as a single file, opened from disk as a messenger hands it over."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page

from recapgen.publish.one_page import one_page
from tests.browser.complaints import heard

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]


def comes(page: Page, video: Locator) -> bool:
    """Whether its pictures move soon; asked again and again, as it is without scripts, too."""
    for _ in range(400):
        if video.evaluate("v => v.videoWidth > 0 && v.currentTime > 0"):
            return True
        page.wait_for_timeout(50)
    return False


@pytest.mark.parametrize("scripts", [True, False])
def test_it_asks_for_nothing_and_shows_everything(
    browser: Browser, host: Path, tmp_path: Path, *, scripts: bool
) -> None:
    site = host / "some where" / "card"
    page_name = next(p.name for p in site.glob("2*.html") if "data-film" in p.read_text("utf-8"))
    alone = tmp_path / "sent" / page_name
    alone.parent.mkdir()
    alone.write_text(one_page(site, page_name), encoding="utf-8")
    context = browser.new_context(
        viewport={"width": 390, "height": 664}, java_script_enabled=scripts
    )
    page = context.new_page()
    faults = heard(page, own=(alone.as_uri(), "data:", "blob:"))
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(alone.as_uri())
    assert page.locator("h1").is_visible()
    assert page.locator("a:not([href^='#']):not([href^='https:']):visible").count() == 0
    ink = page.locator("h1").evaluate("e => getComputedStyle(e).fontFamily")
    assert "Newsreader" in ink
    video = page.locator("video").first
    shown = video.bounding_box()
    assert shown is not None
    assert shown["height"] > 200
    if scripts:
        page.locator('[data-do="on"]').first.click()
        page.wait_for_selector("[data-film][data-shown]")
        page.locator('[data-do="play"]').first.click()
    else:
        assert video.evaluate("v => v.controls")
        video.evaluate("v => void v.play()")
    assert comes(page, video)
    assert [address for address in asked if not address.startswith(("data:", alone.as_uri()))] == []
    assert faults == []
    context.close()
