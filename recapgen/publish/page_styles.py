"""What a page of a student, the cases and the coach wears: one style from the template's sheets.

A page carries its style in its own head, so that it shows without waiting for a second answer.
A long page carries there what its first sight needs and links the rest where that sight ends.
All of it stands in one linked sheet as well, for hosts whose policy allows no style in a page.
"""

import re
from collections.abc import Iterable
from pathlib import Path

from markupsafe import Markup

from recapgen.publish.accent import accent_css

BELOW = "assets/below.css"
WHOLE = "assets/whole.css"
_LINKED = f'<link rel="stylesheet" href="{BELOW}">'  # as no escaped word of a coach can be
_BELOW = ("below.css", "contents.css", "paper.css", "film.css")
_LATER = (*_BELOW, "log.css")
_ONLY_WITH = {"film": "data-film", "log": "data-log"}  # stem of a file -> what it takes in hand
_ABROAD = {"de": "west", "es": "west", "fr": "west", "ja": "ja", "ko": "ko"}
_REMARKS = re.compile(r"/\*.*?\*/", re.DOTALL)
_BLANKS = re.compile(r"\s*([{};,])\s*|(?<=[\w-])(:) ")  # none of our texts has one of these
_FONT = re.compile(r"url\(([\w-]+\.woff2)\)")


def needs(body: str, asset: str) -> bool:
    """Is this stylesheet or script of any use on a page with this body?"""
    taken_in_hand = _ONLY_WITH.get(Path(asset).stem)
    return taken_in_hand is None or taken_in_hand in body


def links_below(body: str) -> bool:
    """Does this page link ``BELOW`` itself?"""
    return _LINKED in body


def in_the_head(template: Path, body: str, language: str, accent: str | None) -> Markup:
    """The style for the page's own head. Fonts lie in assets/, the page beside it."""
    sheets = _first(language)
    if not links_below(body):
        sheets += [name for name in _LATER if needs(body, name)]
    text = "\n".join((_lean(template, sheets), accent_css(accent)))
    return Markup(_FONT.sub(r"url(assets/\1)", text))  # noqa: S704  (our own)


def below(template: Path) -> str:
    """What stands in ``BELOW``: one sheet for all pages that link it."""
    return _lean(template, _BELOW)


def whole(template: Path, language: str, accent: str | None) -> str:
    """What stands in ``WHOLE``: everything any page of a site may wear."""
    return "\n".join((_lean(template, (*_first(language), *_LATER)), accent_css(accent)))


def fonts(template: Path, language: str) -> list[str]:
    """File names of the fonts that a page in ``language`` may ask for."""
    return _FONT.findall(_lean(template, _first(language)))


def _first(language: str) -> list[str]:
    abroad = _ABROAD.get(language)
    return ["letters.css", "card.css", *([f"letters_{abroad}.css"] if abroad else [])]


def _lean(template: Path, sheets: Iterable[str]) -> str:
    """The sheets one after the other, without remarks and blanks."""
    text = "\n".join((template / "css" / name).read_text(encoding="utf-8") for name in sheets)
    return _BLANKS.sub(r"\1\2", _REMARKS.sub("", text)).replace(";}", "}").strip()
