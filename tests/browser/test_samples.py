"""Every page of the sample lessons in real browsers, opened from disk."""

import json
import shutil
import subprocess
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.complaints import heard

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]

INSTALLED = Path(__file__).parents[2] / ".venv" / "browser"


@pytest.fixture(scope="module")
def pages(sample_out: Path) -> list[Path]:
    found = sorted((sample_out / "site").rglob("*.html"))
    assert len(found) > 20
    return found


def test_no_page_complains_asks_outside_or_scrolls_sideways(
    browser: Browser, pages: list[Path]
) -> None:
    """Each page is met small and in light, and grows wide and dark while it is open."""
    context = browser.new_context()
    page = context.new_page()
    faults = heard(page)
    for path in pages:
        page.set_viewport_size({"width": 320, "height": 800})
        page.emulate_media(color_scheme="light")
        page.goto(path.as_uri())
        faults += _sideways(page, path)
        page.set_viewport_size({"width": 1200, "height": 800})
        page.emulate_media(color_scheme="dark")
        faults += _sideways(page, path)
    context.close()
    assert faults == []


def _sideways(page: Page, path: Path) -> list[str]:
    room, wide = page.evaluate("[innerWidth, document.documentElement.scrollWidth]")
    return [f"{path.name} scrolls sideways at {room}"] if wide > room else []


def test_a_lesson_is_walked_by_keys_alone(page: Page, pages: list[Path]) -> None:
    lesson = next(p for p in pages if p.name[:4].isdigit() and "<video" in p.read_text("utf-8"))
    page.goto(lesson.as_uri())
    reached = set()
    for _ in range(80):
        page.keyboard.press("Tab")
        reached.add(
            page.evaluate(
                """() => { const at = document.activeElement;
                return at.tagName + (at.getAttribute('role') || at.dataset.do || ''); }"""
            )
        )
    assert {"DIVslider", "BUTTONplay", "BUTTONslow", "SUMMARY", "A"} <= reached
    page.locator("summary").first.focus()
    page.keyboard.press("Enter")
    assert page.locator("details").first.get_attribute("open") is not None


def test_a_lesson_prints_on_one_sheet(page: Page, pages: list[Path], tmp_path: Path) -> None:
    from pypdf import PdfReader  # noqa: PLC0415  only here, and it is slow to import

    for path in pages:
        if path.name[:4].isdigit():
            page.goto(path.as_uri())
            for paper in ("A4", "Letter"):
                sheet = tmp_path / f"{path.stem}-{paper}.pdf"
                page.pdf(path=sheet, format=paper)
                assert len(PdfReader(sheet).pages) == 1, (path.name, paper)


def test_firefox_shows_pages_of_every_kind_and_plays_and_seeks_every_film(
    pages: list[Path],
) -> None:
    """Every lesson with a film, what stands beside one of them, the front and the cases."""
    filmed = [path for path in pages if path.name[0] == "2" and _has_film(path)]
    beside = {filmed[0].parent, pages[0].parents[1] / "cases"}
    kinds = [path for path in pages if path.parent in beside or path.parent.name == "site"]
    walked_by_firefox(sorted({*filmed, *kinds}))


@pytest.mark.campaign
def test_firefox_shows_every_page(pages: list[Path]) -> None:
    walked_by_firefox(pages)


def _has_film(path: Path) -> bool:
    return "data-film" in path.read_text("utf-8")


def walked_by_firefox(pages: list[Path]) -> None:
    firefox = shutil.which("firefox-esr") or shutil.which("firefox")
    node = shutil.which("node")
    if firefox is None or node is None or not (INSTALLED / "node_modules").is_dir():
        pytest.skip("no firefox, node or puppeteer-core here")
    walk = Path(__file__).with_name("firefox_walk.mjs")
    done = subprocess.run(
        [node, walk, INSTALLED, firefox, *(path.as_uri() for path in pages)],
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert [page["address"] for page in told] == [path.as_uri() for path in pages]
    for page in told:
        assert page["complaints"] == [], page
        assert page["outside"] == [], page
        assert not page["wide"], page
    films = [page["film"] for page in told if page["film"]]
    assert len(films) >= 4
    for film in films:
        # the middle of the frame, or nearer its start where it had to be asked for again
        assert film["strike"] - 0.75 < film["stepped"] < film["strike"] - 0.4
        assert 0.25 < film["first"] < 0.6
        assert film["played"] > 0.2
