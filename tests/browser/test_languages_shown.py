"""Pages of other languages in a real browser: nothing sticks out, nothing is hard to reach."""

import gzip
from io import BytesIO
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Request
from pypdf import PdfReader

from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES
from tests.browser.axe_rules import EVERY_LOOK, OPEN_ALL, page_for_axe, violations_in
from tests.end_to_end.many_languages import COACH_LANGUAGE, site_of

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]

OUTSIDE = """() => [...document.querySelectorAll('svg.chart text')].filter(text => {
    const label = text.getBoundingClientRect();
    const chart = text.closest('svg').getBoundingClientRect();
    return label.left < chart.left - 2 || label.right > chart.right + 2;
}).map(text => text.textContent)"""
FIRST_VIEW_BYTES = 75 * 1024


@pytest.mark.parametrize("language", [pytest.param("de", marks=pytest.mark.campaign), "ja"])
def test_axe_finds_nothing_in_other_languages(
    browser: Browser, languages_out: Path, language: str
) -> None:
    pages = sorted(site_of(languages_out, language).glob("*.html"))
    with page_for_axe(browser) as page:  # the colours are those of every language
        assert violations_in(page, pages, [(320, "light")]) == []


@pytest.mark.campaign
@pytest.mark.parametrize("language", LANGUAGES)
def test_axe_finds_nothing_in_any_language_and_look(
    browser: Browser, languages_out: Path, language: str
) -> None:
    pages = sorted(site_of(languages_out, language).glob("*.html"))
    with page_for_axe(browser) as page:
        assert violations_in(page, pages, EVERY_LOOK) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_nothing_sticks_out_in_any_language(page: Page, languages_out: Path, language: str) -> None:
    page.set_viewport_size({"width": 320, "height": 800})
    found = {}
    for path in sorted(site_of(languages_out, language).glob("*.html")):
        page.goto(path.as_uri())
        page.evaluate(OPEN_ALL)
        for width in (320, 1200):
            page.set_viewport_size({"width": width, "height": 800})
            wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
            labels = page.evaluate(OUTSIDE)
            if wide > 0 or labels:
                found[path.name, width] = (wide, labels)
    assert found == {}


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_first_view_is_light_in_any_language(
    browser: Browser, languages_out: Path, language: str
) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 800})  # nothing is kept in it yet
    site = site_of(languages_out, language)
    lesson = next(p for p in sorted(site.glob("2*.html")) if "data-film" in p.read_text("utf-8"))
    asked: list[Request] = []

    def hear(request: Request) -> None:
        asked.append(request)

    page.on("request", hear)
    for path in (site / "index.html", lesson):
        asked.clear()
        page.goto(path.as_uri())
        page.evaluate("document.fonts.ready")
        names = {r.url.rsplit(f"/{site.name}/", 1)[1] for r in asked if r.url.startswith("file:")}
        packed = {
            name: (site / name).read_bytes() for name in names if not name.startswith("films/")
        }
        weight = sum(
            len(content if name.endswith(".woff2") else gzip.compress(content))
            for name, content in packed.items()
        )
        assert weight <= FIRST_VIEW_BYTES, (path.name, weight)
    page.close()


def test_the_players_seconds_have_the_languages_form(page: Page, languages_out: Path) -> None:
    site = site_of(languages_out, "de")
    lesson = next(p for p in sorted(site.glob("2*.html")) if "data-film" in p.read_text("utf-8"))
    page.goto(lesson.as_uri())
    page.locator("[data-do=back]").first.click()
    told = page.locator(".film-track").first.get_attribute("aria-valuetext") or ""
    frame = 1 / int(page.locator("[data-film]").first.get_attribute("data-fps") or 0)
    assert told == words("de").say("film.before", seconds=f"{frame:.2f}".replace(".", ","))


@pytest.mark.parametrize(
    ("language", "day", "effort"), [("de", "20. April 2027", "4,5"), ("ja", "2027年4月20日", "4.5")]
)
def test_the_log_lists_a_line_as_the_language_writes_it(
    page: Page, languages_out: Path, language: str, day: str, effort: str
) -> None:
    page.goto((site_of(languages_out, language) / "log.html").as_uri())
    for name, value in {"date": "2027-04-20", "balls": "40", "effort": "4.5"}.items():
        page.fill(f"[name={name}]", value)
    page.select_option("[name=pain]", "no")
    page.click("[data-do=add]")
    listed = page.inner_text("[data-lines] li span")
    say = words(language).say
    assert listed.startswith(day)
    assert say("page.log.pair", name=say("page.log.field.effort"), value=effort) in listed
    assert say("page.log.pair", name=say("page.log.field.pain"), value=say("page.log.no")) in listed
    assert "2027-04-20,40,,4.5,,no" in page.input_value("#log-text")


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_is_printed_fits_on_a_sheet_in_any_language(
    page: Page, languages_out: Path, language: str
) -> None:
    site = site_of(languages_out, language)
    name = "questions" if language == COACH_LANGUAGE else f"questions-{language}"
    page.emulate_media(media="print")
    for printed in (site / "practice.html", languages_out / "coach_book" / f"{name}.html"):
        page.goto(printed.as_uri())
        for paper in ("A4", "Letter"):
            sheets = len(PdfReader(BytesIO(page.pdf(format=paper))).pages)
            assert sheets == 1, (printed.name, paper)
