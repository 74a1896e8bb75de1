"""Choosing among past lessons, in the book and in public, in a browser from disk."""

import os
from pathlib import Path

import pytest
from msgspec.structs import replace
from playwright.sync_api import Browser, Page, expect

from recapgen.book.binding import bind_book
from recapgen.model.case import IntentTotals
from recapgen.model.evidence import Verdict
from recapgen.model.people import Agreed, Coach, Hand
from recapgen.model.recap import StudentRecap
from recapgen.render.book_pages.site import book_site
from recapgen.render.cases_site import cases_site
from recapgen.words.catalogue import words
from tests.book.told import CASE, SECOND, recap, student
from tests.browser.axe_rules import BOTH_ENDS, page_for_axe, violations_in
from tests.browser.complaints import heard
from tests.publish.small_sites import built
from tests.render.test_public_pages import case

pytestmark = pytest.mark.browser
COACH = Coach("Ines Falk", address="https://example.org/golf")
EN = words("en")


def with_miss(name: str, miss: str, club: str, *, told: bool) -> StudentRecap:
    one = recap(case=CASE if told else None)
    notes = replace(one.notes, usual_miss=miss, club=club)
    agreed = Agreed(page=True, cases=told, since=SECOND)
    return student(replace(one, notes=notes), key=name.lower(), name=name, agreed=agreed)


def order(page: Page) -> list[str]:
    links = page.locator(".book-examples time").all_text_contents()
    return [told.partition(",")[0] for told in links]


def test_the_nearest_past_lessons_come_first_and_say_why(browser: Browser, tmp_path: Path) -> None:
    students = (
        with_miss("Ada", "thin", "9 iron", told=True),
        with_miss("Bo", "slice", "driver", told=True),
        with_miss("Cy", "thin", "driver", told=False),
        with_miss("Di", "slice", "7 iron", told=False),
    )
    site = book_site(bind_book(students, (), SECOND), COACH, EN)
    folder = built(site, tmp_path / "book")
    page = browser.new_page(viewport={"width": 390, "height": 800})
    faults = heard(page)
    page.goto((folder / "asked.html").as_uri())
    assert order(page) == ["Bo", "Ada", "Di", "Cy"]
    page.get_by_label("Their miss").select_option("thin")
    assert order(page) == ["Ada", "Bo", "Cy", "Di"], "consent stays first"
    page.get_by_label("Club").select_option("7 iron")
    expect(page.locator(".book-why").first).to_have_text("the same miss · a club of the same kind")
    expect(page.locator(".book-nearest")).to_contain_text("3 with something in common")
    assert order(page) == ["Ada", "Bo", "Cy", "Di"]
    first = page.locator(".book-message").first
    first.locator("summary").click()
    expect(first.locator("textarea")).to_have_value(
        "Here's how a lesson like yours went, told without names:\n"
        "https://example.org/golf/cases/driver-starts-right.html\n\nInes Falk"
    )
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    if folder_to_look := os.environ.get("LOOK"):
        page.screenshot(path=f"{folder_to_look}/asked.png", full_page=True)
    page.goto((folder / "index.html").as_uri())
    assert page.locator("script[src*=book_asked]").count() == 0
    page.close()
    assert faults == []
    still = browser.new_context(java_script_enabled=False).new_page()
    still.goto((folder / "asked.html").as_uri())
    assert order(still) == ["Bo", "Ada", "Di", "Cy"]
    expect(still.locator(".book-choose")).to_be_hidden()
    still.context.close()


def test_the_public_index_is_sifted_and_whole_without_a_script(
    browser: Browser, tmp_path: Path
) -> None:
    wall = replace(case(), miss="slice", retention=None)
    iron = replace(wall, page="iron.html", title="An iron", club="7 iron", hand=Hand.RIGHT)
    folder = built(cases_site([wall, iron], COACH, EN), tmp_path / "cases")
    page = browser.new_page(viewport={"width": 390, "height": 800})
    faults = heard(page)
    page.goto((folder / "index.html").as_uri())
    shown = page.locator("[data-case]:visible")
    expect(shown).to_have_count(2)
    page.get_by_label("Club").select_option("7 iron")
    expect(shown).to_have_count(1)
    expect(shown).to_contain_text("An iron")
    expect(page.get_by_role("status")).to_have_text("1 of 2")
    page.get_by_label("Hand").select_option("left")
    expect(shown).to_have_count(0)
    expect(page.get_by_role("status")).to_contain_text("Nothing matches all of these")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.goto((folder / "iron.html").as_uri())
    assert page.locator("script[src*=cases]").count() == 0
    page.close()
    assert faults == []
    still = browser.new_context(java_script_enabled=False).new_page()
    still.goto((folder / "index.html").as_uri())
    expect(still.locator("[data-case]:visible")).to_have_count(2)
    expect(still.locator("form")).to_be_hidden()
    still.context.close()


def test_the_new_pages_of_the_book_and_the_index_keep_the_rules(
    browser: Browser, tmp_path: Path
) -> None:
    students = [
        with_miss(name, "slice", "driver", told=name < "C") for name in ("Ada", "Bo", "Cy", "Di")
    ]
    book = built(book_site(bind_book(students, (), SECOND), COACH, EN), tmp_path / "book")
    totals = IntentTotals("Hum", 9, 5, ((Verdict.CHANGED, 4), (Verdict.NO_CHANGE, 5)), 0, 0, 0)
    wall = replace(case(), miss="slice", retention=None)
    told = [wall, replace(wall, page="iron.html", club="7 iron")]
    cases = built(cases_site(told, COACH, EN, totals=[totals]), tmp_path / "cases")
    names = ("index", "student-ada", "lessons", "endings", "asked")
    paths = [*(book / f"{name}.html" for name in names), cases / "index.html"]
    with page_for_axe(browser) as page:
        assert violations_in(page, paths, BOTH_ENDS) == []
        for path in paths:
            page.set_viewport_size({"width": 320, "height": 800})
            page.goto(path.as_uri())
            assert page.evaluate("document.documentElement.scrollWidth") <= 320, path.name
