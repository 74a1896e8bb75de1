"""The template as a whole: sentences exist, inks are readable, weights are small."""

import gzip
import re

import pytest

from recapgen.model.lesson import Surface, View
from recapgen.model.page import SiteKind
from recapgen.model.shots import Block, ShotStatus
from recapgen.publish.page_styles import sheet
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import key_of, words
from tests.render.recaps_fixture import COACH

FOLDER = template_folder()
EN = words("en")
SAID = re.compile(r"""\b(?:say|count)\(\s*["']([a-z][\w.-]*\w)["']""")
CSS = (FOLDER / "css" / "card.css").read_text(encoding="utf-8")
INKS = ("ink", "soft", "spot")


def sources() -> list[tuple[str, str]]:
    rooms = [FOLDER, FOLDER.parent / "recapgen" / "render", FOLDER.parent / "recapgen" / "words"]
    return [
        (file.name, file.read_text(encoding="utf-8"))
        for room in rooms
        for pattern in ("*.jinja", "*.html", "*.py")
        for file in sorted(room.rglob(pattern))
    ]


def test_every_sentence_that_is_asked_for_exists() -> None:
    asked = {(name, key) for name, text in sources() for key in SAID.findall(text)}
    assert len(asked) > 100
    assert sorted((name, key) for name, key in asked if not EN.has(key)) == []


def test_every_sentence_that_a_code_asks_for_exists() -> None:
    keys = [
        *(f"page.block.{key_of(block)}" for block in Block),
        *(
            f"page.status.{key_of(status)}"
            for status in ShotStatus
            if status is not ShotStatus.USED
        ),
        *(f"page.surface.{surface.name.lower()}" for surface in Surface),
        *(f"page.film.view.{key_of(view)}" for view in View),
    ]
    assert [key for key in keys if not EN.has(key)] == []


def colours(scheme: str) -> dict[str, str]:
    block = scheme and re.search(rf"@media \({scheme}\) \{{(.*?)\n\}}", CSS, re.DOTALL)
    text = block[1] if block else CSS
    found = re.findall(r"--(\w+): (?:var\(--accent, )?(#[0-9a-f]{6})", text)
    return dict(reversed(found))


def luminance(colour: str) -> float:
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


@pytest.mark.parametrize("scheme", ["", "prefers-color-scheme: dark"])
def test_inks_are_readable_on_their_paper(scheme: str) -> None:
    found = colours(scheme)
    for ink in INKS:
        for paper in ("sheet", "desk"):
            high, low = sorted((luminance(found[ink]), luminance(found[paper])), reverse=True)
            assert (high + 0.05) / (low + 0.05) >= 4.5, (ink, paper)
    high, low = sorted((luminance(found["ink"]), luminance(found["wash"])), reverse=True)
    assert (high + 0.05) / (low + 0.05) >= 4.5
    high, low = sorted((luminance(found["hatch"]), luminance(found["sheet"])), reverse=True)
    assert (high + 0.05) / (low + 0.05) >= 3  # the wanted window, drawn


def test_what_a_first_visit_loads_is_small() -> None:
    for language, most in (("en", 7_600), ("de", 7_900)):
        worn = sheet(FOLDER, language, "#2f5d50", SiteKind.STUDENT)
        assert len(gzip.compress(worn.encode())) < most
    for letters, most in (("basic", 40_000), ("west", 50_000)):  # English; German, Spanish, French
        fonts = [file.stat().st_size for file in (FOLDER / "fonts").glob(f"*-{letters}.woff2")]
        assert len(fonts) == 3
        assert sum(fonts) < most, letters


def test_both_typefaces_bring_their_licence() -> None:
    for family in ("newsreader", "figtree"):
        text = (FOLDER / "fonts" / f"OFL-{family}.txt").read_text(encoding="utf-8")
        assert "SIL OPEN FONT LICENSE" in text.upper()


def test_styles_load_only_fonts_that_are_there() -> None:
    sheets = (sheet.read_text(encoding="utf-8") for sheet in (FOLDER / "css").glob("*.css"))
    named = set(re.findall(r"url\(([^)]+)\)", "\n".join(sheets)))
    assert named == {file.name for file in (FOLDER / "fonts").glob("*.woff2")}


def test_the_page_itself_holds_no_code_and_no_policy_of_its_own() -> None:
    head = (FOLDER / "theme" / "main.html").read_text(encoding="utf-8")
    assert head.count('<meta charset="utf-8">') == 1
    assert head.count("{{ page.content }}") == 1
    assert "<style" not in head
    assert not re.search(r"<script(?! src=)", head)
    assert COACH.name not in head
