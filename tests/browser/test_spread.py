"""The card on a wide screen, in forced colours, on paper, and with words from the right."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]

TOPS = """() => Object.fromEntries(["#number", ".chart", "#films", ".folds"].map(where => {
    const box = document.querySelector(where).getBoundingClientRect();
    return [where, [box.left, box.top + scrollY]];
}))"""
# Characters in a full line of the coach's own words.
MEASURE = """() => {
    const text = document.querySelector(".words p").firstChild, range = document.createRange();
    range.setStart(text, 0);
    const top = range.getClientRects()[0]?.top;
    let last = 0;
    for (let end = 1; end < text.length; end += 1) {
        range.setEnd(text, end);
        const boxes = range.getClientRects();
        if (boxes[boxes.length - 1].top > top + 5) break;
        last = end;
    }
    return last;
}"""
# Characters in the fullest line of the sentences that say how sure the verdict is.
FULLEST = """() => {
    const lines = new Map(), range = document.createRange();
    const told = document.querySelector("#number ~ p:not(.phrase)").firstChild;
    for (let at = 0; at < told.length; at += 1) {
        range.setStart(told, at);
        range.setEnd(told, at + 1);
        const top = Math.round(range.getBoundingClientRect().top);
        lines.set(top, (lines.get(top) ?? 0) + 1);
    }
    return Math.max(...lines.values());
}"""
# How much of a mark's height its edges fill.
FILLED = """([where, part]) => [...document.querySelectorAll(where)].map(mark => {
    const style = getComputedStyle(mark, part);
    return 2 * parseFloat(style.borderTopWidth) / parseFloat(style.height);
})"""
HEBREW = "לזרוק את הכדור רחוק"


@pytest.fixture(scope="module")
def filmed(sample_out: Path) -> Path:
    """The newest lesson that has a number, a film and the coach's words."""
    found = [
        path
        for path in sorted((sample_out / "site").glob("*/2*.html"), key=lambda path: path.name)
        if all(part in path.read_text("utf-8") for part in ('id="films"', 'id="number"'))
    ]
    return found[-1]


def test_number_chart_and_film_stand_beside_each_other(page: Page, filmed: Path) -> None:
    for width in (1100, 1440, 1920):
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(filmed.as_uri())
        at = page.evaluate(TOPS)
        assert at["#number"][0] < at[".chart"][0] < at["#films"][0], width
        assert max(at[part][1] for part in ("#number", ".chart", "#films")) < 900, width
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.set_viewport_size({"width": 1440, "height": 900})
    assert 55 <= page.evaluate(MEASURE) <= 80


def test_the_verdict_has_lines_that_read_well_beside_the_chart(page: Page, filmed: Path) -> None:
    for width in (1200, 1440, 1920):
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(filmed.as_uri())
        assert 42 <= page.evaluate(FULLEST) <= 75, width


def test_a_lesson_is_three_screens_at_most_before_the_folds(page: Page, sample_out: Path) -> None:
    page.set_viewport_size({"width": 1440, "height": 900})
    tall = {}
    for path in sorted((sample_out / "site").glob("*/2*.html")):
        page.goto(path.as_uri())
        folds = page.evaluate("document.querySelector('.folds').getBoundingClientRect().top")
        if folds > 3 * 900:
            tall[path.name] = folds
    assert tall == {}


def test_after_is_solid_on_paper_and_in_forced_colours(page: Page, filmed: Path) -> None:
    """Only an edge survives there: what is after is filled by its edge, what is before is not."""
    page.goto(filmed.as_uri())
    for media, forced in (("print", "none"), ("screen", "active")):
        page.emulate_media(media=media, forced_colors=forced)  # type: ignore[arg-type]  # literals
        for after, before, part in (
            (".mark.now", ".mark:not(.now)", None),
            (".film-now", ".film-then", "::before"),
        ):
            assert min(page.evaluate(FILLED, [after, part])) > 0.85, media  # edges are whole pixels
            assert max(page.evaluate(FILLED, [before, part])) < 0.6, media
    page.emulate_media(media="null", forced_colors="none")


def test_words_from_the_right_sit_at_the_right(page: Page, filmed: Path) -> None:
    page.set_viewport_size({"width": 1440, "height": 900})
    page.goto(filmed.as_uri())
    gaps = page.evaluate(
        """text => [["h1", ".card"], [".feel dd", ".card"], [".words p", ".words"]].map(
        ([where, room]) => {
            const part = document.querySelector(where), range = document.createRange();
            part.textContent = text;
            range.selectNodeContents(part);
            const box = document.querySelector(room);
            const edge = box.getBoundingClientRect().right;
            const pad = parseFloat(getComputedStyle(box).paddingRight);
            return edge - pad - range.getBoundingClientRect().right;
        })""",
        HEBREW,
    )
    assert all(abs(gap) < 3 for gap in gaps), gaps
