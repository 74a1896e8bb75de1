"""The twenty-second test: what a student asks is answered before anybody scrolls."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]

SCREENS = ((390, 664), (1366, 768))
ANSWERS = {
    "intent": "h1",
    "before": ".shift .was",
    "after": ".shift .is",
    "wanted": ".shift .aim",
    "verdict": ".phrase",
}
BELOW = """answers => Object.entries(answers).filter(([, where]) => {
    const found = document.querySelector(where);
    return !found || found.getBoundingClientRect().bottom > innerHeight;
}).map(([name]) => name)"""


def test_the_first_screen_says_what_how_much_what_was_wanted_and_whether(
    page: Page, sample_out: Path
) -> None:
    """Every home, and every lesson that has a number."""
    site = sample_out / "site"
    homes = [path.with_name("index.html") for path in site.glob("*/measured.html")]
    lessons = [path for path in site.glob("*/2*.html") if 'class="shift"' in path.read_text()]
    assert len(homes) == 5
    assert len(lessons) > 12
    missing = {}
    for width, height in SCREENS:
        page.set_viewport_size({"width": width, "height": height})
        for path in sorted((*homes, *lessons)):
            page.goto(path.as_uri())
            page.evaluate("document.fonts.ready")
            below = page.evaluate(BELOW, ANSWERS)
            if below:
                missing[path.parent.name[:4], path.name, width] = below
    assert missing == {}
