"""Large text on a narrow phone: no word is cut in the middle, no column is a ladder of letters."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from recapgen.publish.site_builder import build_site
from recapgen.render.student_site import student_site
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.browser.axe_rules import OPEN_ALL
from tests.end_to_end.many_languages import site_of
from tests.render.recaps_fixture import COACH, sixty

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]

SIZES = [
    *((width, percent) for width in (320, 360, 390) for percent in (100, 150, 200)),
    (1920, 200),
]
# What WCAG 1.4.12 asks: between lines, paragraphs, letters and words.
SPACED = """main * { line-height: 1.5 !important; letter-spacing: 0.12em !important;
    word-spacing: 0.16em !important }
main p { margin-bottom: 2em !important }"""
SPACE_OUT = """style => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(style);
    document.adoptedStyleSheets = [sheet];
}"""
# Text that its own box hides; what may be scrolled, and what is there for ears alone, may.
CUT_OFF = """() => [...document.querySelectorAll("main *")]
    .filter(part => part.checkVisibility() && !part.closest(".scroll, .unseen, svg, video"))
    .filter(part => part.textContent.trim())
    .filter(part => getComputedStyle(part).overflow !== "visible")
    .filter(part => part.scrollWidth > part.clientWidth + 1
        || part.scrollHeight > part.clientHeight + 1)
    .map(part => part.outerHTML.slice(0, 80))"""
ENLARGE = "percent => { document.documentElement.style.fontSize = `${percent}%` }"
# Words that stand on two lines, and columns of three lines or more narrower than 12 characters;
# tables may be scrolled, Japanese has no words to cut, and the longest words of some languages are
# parted by their rules, which this browser does not have.
TORN = """() => {
    const torn = [], seen = new Set();
    const texts = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
    const lines = range =>
        new Set([...range.getClientRects()].map(box => Math.round(box.top))).size;
    const apart = "svg, .scroll, .unseen, select, textarea";
    const WORD = /[\\p{L}\\p{M}\\p{N}]+(?:[.,'’][\\p{Script=Latin}\\p{N}]+)*/gu;
    const whole = document.documentElement.lang === "ja";
    while (texts.nextNode()) {
        const text = texts.currentNode, home = text.parentElement;
        if (!text.data.trim() || !home.checkVisibility() || home.closest(apart)) continue;
        const range = document.createRange();
        const cut = getComputedStyle(home).hyphens === "auto" ? 14 : Infinity;
        for (const word of whole ? [] : text.data.matchAll(WORD)) {
            range.setStart(text, word.index);
            range.setEnd(text, word.index + word[0].length);
            if (word[0].length < cut && lines(range) > 1) torn.push(word[0]);
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
    """The whole site of the sample with the most kinds of page, at the narrowest and the widest."""
    found: dict[str, tuple[int, list[str]]] = {}
    for path in _busiest(sample_out):
        found |= faults(page, path, [(320, 200), (1920, 200)])
    assert found == {}


@pytest.mark.parametrize("width", [320, 1280])
def test_the_spacing_that_text_may_be_given_tears_nothing(
    page: Page, sample_out: Path, width: int
) -> None:
    found = {}
    for path in _busiest(sample_out):
        page.set_viewport_size({"width": width, "height": 800})
        page.goto(path.as_uri())
        page.evaluate(OPEN_ALL)
        page.evaluate(SPACE_OUT, SPACED)
        found[path.name] = (page.evaluate(WIDE), page.evaluate(TORN), page.evaluate(CUT_OFF))
    assert found == dict.fromkeys(found, (0, [], []))


def test_a_page_drawn_four_times_as_large_is_read_without_going_sideways(
    browser: Browser, sample_out: Path
) -> None:
    """400% of a window of 1280 x 1024: 320 px wide and no more than 256 high."""
    page = browser.new_page(
        viewport={"width": 320, "height": 256}, device_scale_factor=4, reduced_motion="reduce"
    )
    found = {}
    for path in _busiest(sample_out):
        page.goto(path.as_uri())
        page.evaluate(OPEN_ALL)
        found[path.name] = (page.evaluate(WIDE), page.evaluate(TORN), page.evaluate(CUT_OFF))
        if "data-film" in path.read_text("utf-8"):
            assert page.evaluate(HIGH) > 150, path.name
    page.close()
    assert found == dict.fromkeys(found, (0, [], []))


def test_sixty_lessons_are_read_at_any_size_of_text(page: Page, tmp_path: Path) -> None:
    build_site(student_site(sixty(), COACH, words("en")), tmp_path, template_folder())
    found: dict[str, tuple[int, list[str]]] = {}
    for name in ("index.html", "compare.html"):
        found |= faults(page, tmp_path / name, [(320, 200), (390, 200), (1920, 200)])
    assert found == {}


@pytest.mark.campaign
def test_no_size_of_text_tears_a_page(page: Page, sample_out: Path) -> None:
    found: dict[str, tuple[int, list[str]]] = {}
    for path in sorted((sample_out / "site").rglob("*.html")):
        found |= faults(page, path, SIZES)
    assert found == {}


@pytest.mark.parametrize("language", ["de", "fr", "es", "ja", "ko"])
def test_a_home_in_any_language_is_not_torn_where_text_is_largest(
    page: Page, languages_out: Path, language: str
) -> None:
    assert faults(page, site_of(languages_out, language) / "index.html", [(320, 200)]) == {}


@pytest.mark.campaign
@pytest.mark.parametrize("language", ["de", "fr", "es", "ja", "ko"])
def test_no_language_is_torn_at_any_size_of_text(
    page: Page, languages_out: Path, language: str
) -> None:
    found: dict[str, tuple[int, list[str]]] = {}
    for path in sorted(site_of(languages_out, language).glob("*.html")):
        found |= faults(page, path, SIZES)
    assert found == {}


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
