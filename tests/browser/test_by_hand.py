"""Pages worked by keys, by thumbs, with large letters and without movement."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.axe_rules import OPEN_ALL
from tests.browser.kinds_of_pages import KINDS

pytestmark = pytest.mark.browser

CARDS = {kind: path for kind, path in KINDS.items() if not kind.startswith("book")}
# Their parts are those of the lesson's page, the log's and the book's first pages.
ALIKE = ("components", "measured", "cases", "book-ledger", "book-questions", "book-reading")
STOPS = """() => {
    const all = document.querySelectorAll(
        'a[href], button, summary, input, select, textarea, video[controls], [tabindex="0"]');
    return [...all].filter(at => !at.disabled && !at.closest("label[for]")
            && at.checkVisibility({visibilityProperty: true, opacityProperty: true}))
        .map((at, n) => { at.dataset.stop = n; return at.outerHTML.slice(0, 90); });
}"""
AT = """() => {
    const at = document.activeElement;
    if (at === document.body) return null;
    const seen = [at, at.parentElement].some(part => {
        const look = getComputedStyle(part);
        return look.outlineStyle !== "none" && parseFloat(look.outlineWidth) >= 2;
    });
    const box = at.getBoundingClientRect();
    const here = box.right > 0 && box.left < innerWidth && box.bottom > 0 && box.top < innerHeight;
    return [at.dataset.stop ?? "", seen && here, at.outerHTML.slice(0, 90)];
}"""
SMALL = """() => [...document.querySelectorAll(
        'a[href], button, summary, input, select, textarea, [role=slider]')]
    .filter(at => at.checkVisibility() && !at.matches(".skip, .md-skip"))
    .filter(at => !at.closest("p, dd, li, td")
        || at.closest("p, dd, li, td").textContent.trim() === at.textContent.trim())
    .map(at => [at.getBoundingClientRect(), at.outerHTML.slice(0, 90)])
    .filter(([box]) => box.width < 24 || box.height < 24)
    .map(([box, html]) => `${Math.round(box.width)}x${Math.round(box.height)} ${html}`)"""
CHART_TEXTS = """() => [...document.querySelectorAll("svg.chart text")]
    .filter(text => text.checkVisibility())
    .map(text => parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a)"""
CUT_OFF = """() => [...document.querySelectorAll("main *, .md-content *")]
    .filter(at => at.checkVisibility() && !at.closest("svg, .unseen, .skip, textarea, .film"))
    .filter(at => ["hidden", "clip"].includes(getComputedStyle(at).overflowX))
    .filter(at => at.scrollWidth > at.clientWidth + 1 || at.scrollHeight > at.clientHeight + 1)
    .map(at => at.outerHTML.slice(0, 90))"""
MOVES = """() => [...document.querySelectorAll("*")].filter(at => {
    const look = getComputedStyle(at);
    const long = text => text.split(",").some(part => parseFloat(part) > 0.01);
    return long(look.transitionDuration) || long(look.animationDuration)
        || look.scrollBehavior === "smooth";
}).map(at => at.outerHTML.slice(0, 90))"""


@pytest.mark.parametrize(
    ("kind", "width"),
    [
        *((kind, 390) for kind in KINDS if kind not in ALIKE),
        ("lesson", 1200),
        *(pytest.param(kind, 390, marks=pytest.mark.campaign) for kind in ALIKE),
        pytest.param("case", 1200, marks=pytest.mark.campaign),
        pytest.param("book-student", 1200, marks=pytest.mark.campaign),
    ],
)
def test_keys_reach_everything_in_order_and_show_where_they_are(
    browser: Browser, every_kind: Path, kind: str, width: int
) -> None:
    page = browser.new_page(viewport={"width": width, "height": 800}, reduced_motion="reduce")
    page.goto((every_kind / KINDS[kind]).as_uri())
    expected = page.evaluate(STOPS)
    reached: list[int] = []
    unseen = []
    for _ in range(6 * len(expected) + 10):  # a video's own keys are stops of their own
        page.keyboard.press("Tab")
        at = page.evaluate(AT)
        if at is None:
            break
        stop, seen, html = at
        if not seen:
            unseen.append(html)
        if stop and (not reached or reached[-1] != int(stop)):
            reached.append(int(stop))
    assert reached == sorted(reached)
    assert [expected[n] for n in range(len(expected)) if n not in reached] == []
    assert unseen == []
    page.close()


def test_on_a_phone_a_thumb_finds_every_target_and_letters_in_charts_are_large_enough(
    page: Page, every_kind: Path
) -> None:
    small, sizes = {}, []
    for kind, path in KINDS.items():
        page.goto((every_kind / path).as_uri())
        page.evaluate(OPEN_ALL)
        for width in (390, 320):
            page.set_viewport_size({"width": width, "height": 800})
            letters = page.evaluate(CHART_TEXTS)
            sizes += letters
            assert all(size >= 12 for size in letters), (kind, width, min(letters))
        small[kind] = page.evaluate(SMALL)
    assert {kind: found for kind, found in small.items() if found} == {}
    assert len(sizes) > 120


def test_letters_twice_as_large_push_nothing_out_and_cut_nothing_off(
    page: Page, every_kind: Path
) -> None:
    """Nor does anything move for whoever wants it still."""
    for kind, path in CARDS.items():
        page.goto((every_kind / path).as_uri())
        assert page.evaluate(MOVES) == [], kind
        page.evaluate(OPEN_ALL)
        before = page.evaluate("parseFloat(getComputedStyle(document.body).fontSize)")
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        assert page.evaluate("parseFloat(getComputedStyle(document.body).fontSize)") == 2 * before
        for width in (390, 1200):
            page.set_viewport_size({"width": width, "height": 800})
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), kind
            assert page.evaluate(CUT_OFF) == [], (kind, width)
        page.set_viewport_size({"width": 390, "height": 800})
