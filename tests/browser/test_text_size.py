"""Large text on a narrow phone: no word is cut in the middle, no column is a ladder of letters."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.axe_rules import OPEN_ALL
from tests.end_to_end.many_languages import site_of

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]

SIZES = [(width, percent) for width in (320, 360, 390) for percent in (100, 150, 200)]
SPACED = "line-height: 1.5; letter-spacing: 0.12em; word-spacing: 0.16em"  # what WCAG 1.4.12 asks
ENLARGE = "percent => { document.documentElement.style.fontSize = `${percent}%` }"
# Words that stand on two lines, and columns of three lines or more narrower than 12 characters;
# tables may be scrolled, and a language without blanks has no words to cut.
TORN = """() => {
    const torn = [], seen = new Set();
    const texts = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
    const lines = range =>
        new Set([...range.getClientRects()].map(box => Math.round(box.top))).size;
    const apart = "svg, .scroll, .unseen, select, textarea";
    while (texts.nextNode()) {
        const text = texts.currentNode, home = text.parentElement;
        if (!text.data.trim() || !home.checkVisibility() || home.closest(apart)) continue;
        const range = document.createRange();
        for (const word of text.data.matchAll(/[^\\s\\-–·@]+/gu)) {
            range.setStart(text, word.index);
            range.setEnd(text, word.index + word[0].length);
            if (lines(range) > 1) torn.push(word[0]);
        }
        range.selectNodeContents(text);
        const size = parseFloat(getComputedStyle(home).fontSize);
        let block = home;
        while (getComputedStyle(block).display === "inline") block = block.parentElement;
        if (lines(range) > 2 && block.clientWidth < 5.5 * size && !seen.has(block)) {
            seen.add(block);
            torn.push(`${block.clientWidth}px: ${text.data.trim().slice(0, 30)}`);
        }
    }
    return torn;
}"""
WIDE = "document.documentElement.scrollWidth - innerWidth"


def faults(
    page: Page, path: Path, sizes: list[tuple[int, int]]
) -> dict[str, tuple[int, list[str]]]:
    """For each size at which there are any: pixels beyond the screen's edge, and what is torn."""
    page.goto(path.as_uri())
    page.evaluate(OPEN_ALL)
    found: dict[str, tuple[int, list[str]]] = {}
    for width, percent in sizes:
        page.set_viewport_size({"width": width, "height": 800})
        page.evaluate(ENLARGE, percent)
        wide, torn = page.evaluate(WIDE), page.evaluate(TORN)
        if wide > 0 or torn:
            found[f"{path.name} {width} px {percent}%"] = (wide, torn)
    return found


def test_text_twice_as_large_tears_nothing(page: Page, sample_out: Path) -> None:
    """The whole site of the sample with the most kinds of page, at the narrowest."""
    found: dict[str, tuple[int, list[str]]] = {}
    for path in _busiest(sample_out):
        found |= faults(page, path, [(320, 200)])
    assert found == {}


def test_the_spacing_that_text_may_be_given_tears_nothing(page: Page, sample_out: Path) -> None:
    page.set_viewport_size({"width": 320, "height": 800})
    found = {}
    for path in _busiest(sample_out)[:2]:
        page.goto(path.as_uri())
        page.evaluate(
            "style => document.querySelectorAll('main *')"
            ".forEach(part => { part.style.cssText = style })",
            SPACED,
        )
        found[path.name] = (page.evaluate(WIDE), page.evaluate(TORN))
    assert found == dict.fromkeys(found, (0, []))


@pytest.mark.campaign
def test_no_size_of_text_tears_a_page(page: Page, sample_out: Path) -> None:
    found: dict[str, tuple[int, list[str]]] = {}
    for path in sorted((sample_out / "site").rglob("*.html")):
        found |= faults(page, path, SIZES)
    assert found == {}


@pytest.mark.campaign
@pytest.mark.parametrize("language", ["de", "fr", "es", "ja", "ko"])
def test_no_language_sticks_out_at_any_size_of_text(
    page: Page, languages_out: Path, language: str
) -> None:
    wide = {
        where: over
        for path in sorted(site_of(languages_out, language).glob("*.html"))
        for where, (over, _) in faults(page, path, SIZES).items()
        if over > 0
    }
    assert wide == {}


def _busiest(sample_out: Path) -> list[Path]:
    sites = [home.parent for home in sorted((sample_out / "site").glob("*/compare.html"))]
    return sorted(max(sites, key=lambda site: len(list(site.glob("2*.html")))).glob("*.html"))


OUTSIDE = """() => {
    const film = document.querySelector(".take"), card = film.getBoundingClientRect();
    return [...film.querySelectorAll(".film-picture, .film-side, .film-track, .film-hand button")]
        .filter(part => part.checkVisibility())
        .filter(part => {
            const box = part.getBoundingClientRect();
            return box.left < card.left - 1 || box.right > card.right + 1
                || part.scrollWidth > part.clientWidth + 1;
        })
        .map(part => part.outerHTML.slice(0, 60));
}"""
HIGH = "document.querySelector('.film-picture').getBoundingClientRect().height"


@pytest.mark.parametrize(("width", "height"), [(320, 664), (390, 664), (844, 390)])
def test_a_film_and_its_keys_stay_on_the_card_with_large_text(
    page: Page, sample_out: Path, width: int, height: int
) -> None:
    """The side's names fit their chips, and the picture stays one, also on a phone turned round."""
    page.set_viewport_size({"width": width, "height": height})
    for path in sorted((sample_out / "site").glob("*/2*.html")):
        if "data-film" in path.read_text("utf-8"):
            page.goto(path.as_uri())
            page.evaluate(ENLARGE, 200)
            page.wait_for_timeout(50)  # the keys are laid out anew after a resize
            assert page.evaluate(OUTSIDE) == [], path.name
            assert page.evaluate(HIGH) > 150, path.name
            break
