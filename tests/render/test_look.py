"""The finished pages in a real browser: nothing overflows, nothing complains, paper suffices."""

from io import BytesIO
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from recapgen.publish.site_builder import build_site
from recapgen.render.student_site import student_site
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.browser.complaints import heard
from tests.render.recaps_fixture import COACH, mara
from tests.render.test_pages import EVIL, LESSON, hostile

pytestmark = pytest.mark.browser

PAGES = ("index.html", LESSON, "practice.html", "measured.html", "2027-02-03-q2w8.html")
SHOWN_KEYS = (
    "[...document.querySelectorAll('main a, main summary, main button:not([disabled])')]"
    ".filter(key => key.checkVisibility())"
)
OPEN_ALL = "document.querySelectorAll('details').forEach(fold => { fold.open = true })"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same student twice: as she is, and with hostile words wherever words can stand."""
    root = tmp_path_factory.mktemp("look")
    files = root / "files"
    files.mkdir()
    for folder, student in (("mara", mara(files)), ("hostile", hostile(f"{EVIL} {'W' * 5000}"))):
        (root / folder).mkdir()
        build_site(student_site(student, COACH, words("en")), root / folder, template_folder())
    return root


def overflow(page: Page) -> int:
    wide: int = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    return wide


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_hangs_over_the_edge_and_nothing_complains(
    browser: Browser, built: Path, scheme: Literal["light", "dark"]
) -> None:
    context = browser.new_context(color_scheme=scheme)
    page = context.new_page()
    faults = heard(page)
    for address in [f"mara/{name}" for name in PAGES] + ["hostile/index.html", f"hostile/{LESSON}"]:
        page.goto((built / address).as_uri())
        page.evaluate(OPEN_ALL)
        for width in (320, 390, 768, 1200):
            page.set_viewport_size({"width": width, "height": 800})
            assert overflow(page) <= 0, (address, width)
    context.close()
    assert faults == []


def test_text_twice_as_large_still_fits(browser: Browser, built: Path) -> None:
    page = browser.new_page(viewport={"width": 640, "height": 800})
    for name in PAGES:
        page.goto((built / "mara" / name).as_uri())
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        page.evaluate(OPEN_ALL)
        assert overflow(page) <= 0, name
    page.close()


def test_text_is_never_smaller_than_it_should_be(browser: Browser, built: Path) -> None:
    page = browser.new_page(viewport={"width": 320, "height": 800})
    page.goto((built / "mara" / LESSON).as_uri())
    page.evaluate(OPEN_ALL)
    smallest = page.evaluate(
        """() => Math.min(...[...document.querySelectorAll('main *')]
            .filter(e => !e.closest('svg') && e.innerText && e.offsetParent)
            .map(e => parseFloat(getComputedStyle(e).fontSize)))"""
    )
    in_charts = page.evaluate(
        """() => Math.min(...[...document.querySelectorAll('svg.chart text')]
            .map(e => 13 * e.ownerSVGElement.getBoundingClientRect().width
                         / e.ownerSVGElement.viewBox.baseVal.width))"""
    )
    page.close()
    assert smallest >= 15.5
    assert in_charts >= 12


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_lesson_and_its_slip_print_on_one_sheet(
    browser: Browser, built: Path, paper: str
) -> None:
    page = browser.new_page()
    for name in (LESSON, "practice.html"):
        page.goto((built / "mara" / name).as_uri())
        sheets = PdfReader(BytesIO(page.pdf(format=paper))).pages
        assert len(sheets) == 1, name
    page.close()


def test_every_link_and_fold_can_be_reached_by_keyboard(browser: Browser, built: Path) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 800})
    page.goto((built / "mara" / LESSON).as_uri())
    wanted = page.evaluate(f"{SHOWN_KEYS}.length")
    reached = set()
    for _ in range(80):
        page.keyboard.press("Tab")
        reached.add(page.evaluate(f"{SHOWN_KEYS}.indexOf(document.activeElement)"))
    outline = page.evaluate(
        """() => { document.querySelector('summary').focus();
        return getComputedStyle(document.querySelector('summary')).outlineStyle }"""
    )
    page.close()
    assert len(reached - {-1}) == wanted
    assert outline != "none"
