"""What a message shows of a link: a title, one line, a picture that tells nobody."""

import re
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.model.page import Site
from recapgen.publish.site_builder import build_site
from recapgen.render.card_site import card_site
from recapgen.render.cases_site import cases_site
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import COACH
from tests.render.test_public_pages import case

EN = words("en")
AT = replace(COACH, address="https://lessons.example/golf")


@pytest.mark.parametrize(
    ("site", "page", "place"),
    [
        (cases_site([case()], AT, EN), "wall.html", "cases/"),
        (cases_site([case()], AT, EN), "index.html", "cases/"),
        (card_site(AT, EN), "index.html", ""),
    ],
)
def test_a_public_page_has_a_title_a_line_and_a_picture(
    tmp_path: Path, site: Site, page: str, place: str
) -> None:
    build_site(site, tmp_path, template_folder())
    text = (tmp_path / page).read_text("utf-8")
    told = dict(re.findall(r'<meta property="og:([\w:]+)" content="([^"]*)">', text))
    assert told["title"]
    assert told["description"] in text.split("</head>")[0]
    assert told["url"] == f"https://lessons.example/golf/{place}{page}"
    assert told["image"] == f"https://lessons.example/golf/{place}assets/preview.png"
    assert (tmp_path / "assets" / "preview.png").is_file()


def test_without_an_address_no_picture_is_promised(tmp_path: Path) -> None:
    build_site(card_site(COACH, EN), tmp_path, template_folder())
    assert "og:image" not in (tmp_path / "index.html").read_text("utf-8")
