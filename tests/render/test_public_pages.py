"""What anybody may find: the past cases and the coach's card tell of nobody."""

import re
from datetime import date

from recapgen.model.case import Case
from recapgen.model.people import Hand
from recapgen.model.units import Units
from recapgen.render.card_site import card_site
from recapgen.render.cases_site import cases_site
from recapgen.words.catalogue import words
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
