"""The page around the pages while lessons are watched, as a browser shows it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from recapgen.model.news import News
from recapgen.serving.page_host import PageHost
from tests.browser.complaints import heard
from tests.serving.asking import shown

pytestmark = pytest.mark.browser

PROBLEM = (
    "marta/2027-04-11/notes.md:7:1 [key-misspelt]",
    'found "maters" isn\'t a key we know here <img src=x onerror=alert(1)>',
    "expected one of: intent, club, number, chosen, want, matters, must not lose, planned, shots",
    'fix: did you mean "matters"?',
)
LINES = ("in notes.md, replace line 7 with", "matters: 1 deg")
PAGE = """<!doctype html><html lang="en"><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'">
<title>x</title><h1>{said}</h1><p>{long}</p>"""


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A student's page and the front page of the book."""
    for folder, said in (("site/k7", "Before the edit"), ("site", "Site"), ("coach_book", "Book")):
        (tmp_path / folder).mkdir(parents=True, exist_ok=True)
        save(tmp_path / folder / "index.html", said)
    return tmp_path


def save(page: Path, said: str) -> None:
    newer = page.with_suffix(".new")
    newer.write_text(PAGE.format(said=said, long="Wall behind you. " * 400), encoding="utf-8")
    newer.replace(page)


@pytest.fixture
def host(site: Path) -> Iterator[PageHost]:
    news = News(1, "Built at 10:21", pages=(("Marta", "site/k7/index.html"),))
    with shown({"site": site / "site", "coach_book": site / "coach_book"}, news) as host:
        yield host


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    opened = browser.new_page(viewport={"width": 390, "height": 800})
    yield opened
    opened.close()


def test_the_news_stand_above_the_page_and_the_page_follows(
    host: PageHost, site: Path, phone: Page
) -> None:
    faults = heard(phone, own=(host.address, "data:"))
    phone.goto(host.address)
    page = phone.frame_locator("iframe")
    expect(page.get_by_role("heading")).to_have_text("Book")
    phone.get_by_label("A student's page").select_option("Marta")
    expect(page.get_by_role("heading")).to_have_text("Before the edit")
    expect(phone.get_by_role("status")).to_have_text("Built at 10:21")
    phone.frames[1].evaluate("scrollTo(0, 300)")

    save(site / "site" / "k7" / "index.html", "After the edit")
    host.news = News(2, "Built at 10:22", PROBLEM, LINES, "2 more", host.news.pages)
    expect(page.get_by_role("heading")).to_have_text("After the edit")
    assert phone.frames[1].evaluate("scrollY") == 300
    problem = phone.get_by_role("group", name="The newest problem")
    expect(problem).to_contain_text(PROBLEM[1])
    expect(problem.locator("pre")).to_have_text("\n".join(LINES))
    assert problem.locator("img").count() == 0
    for width in (320, 390, 1200):
        phone.set_viewport_size({"width": width, "height": 800})
        assert phone.evaluate("document.documentElement.scrollWidth") <= width
        assert phone.locator("iframe").bounding_box()["height"] > 300  # type: ignore[index]

    phone.reload()  # back to where one was
    expect(page.get_by_role("heading")).to_have_text("After the edit")
    expect(phone.get_by_role("link", name="Open this page on its own")).to_have_attribute(
        "href", f"{host.address}site/k7/index.html"
    )
    assert faults == []
    phone.route("**/news.json", lambda asked: asked.abort())  # as when nobody answers any more
    expect(phone.get_by_role("status")).to_contain_text("has stopped")


def test_before_the_first_build_the_problem_stands_alone_and_the_page_comes_with_it(
    host: PageHost, phone: Page
) -> None:
    host.news = News(0, "Nothing was built at 10:20", PROBLEM, LINES)
    phone.goto(host.address)
    expect(phone.get_by_role("group", name="The newest problem")).to_contain_text(PROBLEM[1])
    assert phone.get_by_role("link").count() == 0
    assert len(phone.frames) == 1 or phone.frames[1].url == "about:blank"
    host.news = News(1, "Built at 10:21")
    expect(phone.frame_locator("iframe").get_by_role("heading")).to_have_text("Book")
    assert phone.get_by_role("link").count() == 3
