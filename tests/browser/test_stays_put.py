"""Nothing that is read moves away while a page arrives: the letters' own face comes last."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.hosts import hosted

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]

MOST = 0.01
MOVED = """async () => {
    await document.fonts.ready;
    await new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)));
    return await new Promise(done => {
        let sum = 0;
        const add = list => { for (const one of list.getEntries()) sum += one.value; };
        const watch = new PerformanceObserver(add);
        watch.observe({ type: "layout-shift", buffered: true });
        setTimeout(() => { add({ getEntries: () => watch.takeRecords() }); done(sum); }, 100);
    });
}"""


def test_home_and_lesson_stay_where_they_are_while_their_letters_come(
    browser: Browser, host: Path
) -> None:
    """On a slow line, so that the letters come after the first sight."""
    site = host / "some where" / "card"
    lesson = next(p.name for p in site.glob("2*.html") if "data-film" in p.read_text("utf-8"))
    moved = {}
    with hosted(site, bytes_a_second=100_000) as home:
        for name in ("index.html", lesson):
            page = browser.new_page(viewport={"width": 390, "height": 664})
            page.goto(home + name, wait_until="networkidle")
            faces = "[...document.fonts].filter(face => face.status === 'loaded').length"
            assert page.evaluate(faces) >= 2
            moved[name] = page.evaluate(MOVED)
            page.close()
    assert {name: value for name, value in moved.items() if value >= MOST} == {}
