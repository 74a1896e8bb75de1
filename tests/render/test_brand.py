"""What a coach says of themselves stands where it belongs, and nothing shouts."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.model.page import Site
from recapgen.model.people import MarkPicture
from recapgen.render.card_site import card_site
from recapgen.render.cases_site import cases_site
from recapgen.render.student_site import student_site
from recapgen.tools.html_reading import read_html
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import COACH, full_recap, student
from tests.render.test_public_pages import case

EN = words("en")
INES = replace(
    COACH,
    contact="ring 555 & ask",
    greeting="One <thing> at a time.",
    footer="Lessons by appointment.",
    mark="sign.png",
    mark_picture=MarkPicture(Path("made/mark.webp"), 192, 96),
)


def sites() -> dict[str, Site]:
    return {
        "student": student_site(student(full_recap()), INES, EN),
        "card": card_site(INES, EN),
        "cases": cases_site([case()], INES, EN),
    }


@pytest.mark.parametrize("kind", ["student", "card", "cases"])
def test_name_contact_footer_and_mark_stand_at_the_foot_of_every_page(kind: str) -> None:
    site = sites()[kind]
    assert [asset.path for asset in site.assets].count("assets/coach.webp") == 1
    for page in site.pages:
        told = " ".join(read_html(page.body).texts)
        assert f"{COACH.name}, ring 555 & ask" in told, page.path
        assert "Lessons by appointment." in told, page.path
        assert page.body.count('<img src="assets/coach.webp"') == 1, page.path
        assert f'alt="{COACH.name}’s logo"' in page.body, page.path
        assert 'width="192" height="96"' in page.body, page.path  # its room is kept, nothing moves
        foot = page.body.index('<footer class="foot">')
        assert page.body.index("assets/coach.webp") > foot, page.path


def test_the_greeting_is_on_the_front_pages_alone_and_is_text() -> None:
    greeted = {
        (kind, page.path)
        for kind, site in sites().items()
        for page in site.pages
        if "One &lt;thing&gt; at a time." in page.body
    }
    assert greeted == {("student", "index.html"), ("card", "index.html")}


def test_without_a_mark_there_is_no_picture_and_no_hole() -> None:
    plain = replace(INES, mark=None, mark_picture=None)
    site = card_site(plain, EN)
    assert site.assets == ()
    assert "<img" not in site.pages[0].body
    bare = replace(plain, contact=None, footer=None, greeting=None)
    assert 'class="coach"' not in card_site(bare, EN).pages[0].body
