"""What anybody may find: the past cases and the coach's card tell of nobody."""

import re
from datetime import date

import pytest
from msgspec.structs import replace

from recapgen.model.case import Case, IntentTotals
from recapgen.model.evidence import Verdict
from recapgen.model.people import Hand
from recapgen.model.units import Units
from recapgen.render.card_site import card_site
from recapgen.render.cases_site import cases_site
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES
from tests.render.recaps_fixture import COACH, full_recap, what_stuck
from tests.render.test_pages import in_order, read

EN = words("en")


def case() -> Case:
    recap = full_recap()
    return Case(
        page="wall.html",
        title="From slice to straight",
        story="He came with a slice.\n\nHe left with less of one.",
        intent=recap.notes.intent,
        feels_like=None,
        club="driver",
        hand=Hand.LEFT,
        month=date(2027, 4, 1),
        comparison=recap.number.comparison,
        retention=what_stuck(),
        films=(),
        units=Units(),
    )


def test_a_case_tells_no_name_and_no_day() -> None:
    site = cases_site([case()], COACH, EN)
    by_path = {page.path: page.body for page in site.pages}
    assert set(by_path) == {"index.html", "wall.html"}
    assert "wall.html" in read(by_path["index.html"]).links
    text = "".join(read(by_path["wall.html"]).text)
    in_order(text, ["April 2027", "From slice", "He came", "It changed.", "still there"])
    assert not re.search(r"\b\d{1,2} (March|April)", text)
    assert "Mara" not in text


def test_the_coachs_card_lists_nobody() -> None:
    (page,) = card_site(COACH, EN).pages
    assert page.path == "index.html"
    assert "Ines Falk" in page.body
    assert read(page.body).links == ["#card"]
    (linked,) = card_site(COACH, EN, with_cases=True).pages
    assert "cases/index.html" in read(linked.body).links


def test_the_index_can_be_sifted_by_what_cases_differ_in_and_is_whole_without_a_script() -> None:
    told = replace(case(), miss="slice")
    other = replace(case(), page="iron.html", club="7 iron", miss="block", hand=Hand.LEFT)
    body = cases_site([told, other], COACH, EN).pages[0].body
    assert re.findall(r'<select id="find-(\w+)"', body) == ["miss", "club"]
    assert re.search(r'<form class="part fields"[^>]* hidden>', body), (
        "of no use without its script"
    )
    assert 'data-case data-miss="slice" data-club="driver" data-hand="left"' in body
    assert "slice · driver · left-handed · April 2027" in "".join(read(body).text)
    assert "<form" not in cases_site([told], COACH, EN).pages[0].body


@pytest.mark.parametrize("language", LANGUAGES)
def test_totals_stand_on_the_index_in_every_language(language: str) -> None:
    totals = IntentTotals("Hum", 12, 6, ((Verdict.CHANGED, 3), (Verdict.OTHER_WAY, 5)), 2, 1, 1)
    site = cases_site([case()], COACH, words(language), totals=[totals])
    told = "".join(read(site.pages[0].body).text)
    for count in ("12", "6", "3", "5", "2", "1"):
        assert count in told.partition("Hum")[2]
    assert "Hum" not in "".join(read(cases_site([case()], COACH, EN).pages[0].body).text)
