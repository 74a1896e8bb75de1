"""What a page of a student, the cases and the coach wears: one sheet of the template's sheets.

All pages of a site link the same sheet: what stands in a page itself a host may refuse. Its name
changes with what is in it, so that a page never meets the sheet of another version.
"""

import hashlib
import re
from collections.abc import Iterable
from pathlib import Path

from recapgen.model.page import SiteKind
from recapgen.publish.accent import accent_css

_ALL = (
    "lesson.css",
    "contents.css",
    "paper.css",
    "film.css",
    "film_keys.css",
    "fields.css",
    "log.css",
)
_FOR_A_FINGER = ("paper.css", "contents.css", "fields.css")
_OWN = {
    SiteKind.RANGE: (*_FOR_A_FINGER, "range.css"),
    SiteKind.CASES: (*_ALL, "cases.css"),
    SiteKind.WORKSHEET: (*_FOR_A_FINGER, "worksheet.css", "worksheet_clips.css"),
}
# Stem of a script -> what it takes in hand.
_ONLY_WITH = {
    "film": "data-film",
    "log": "data-log",
    "range": "data-range",
    "cases": "data-cases",
    "book_asked": "data-asked",
    "book_worksheet": "data-sheet",
}
_ABROAD = {"de": "west", "es": "west", "fr": "west", "ja": "ja", "ko": "ko"}
_REMARKS = re.compile(r"/\*.*?\*/", re.DOTALL)
_BLANKS = re.compile(r"\s*([{};,])\s*|(?<=[\w-])(:) ")  # none of our texts has one of these
_FONT = re.compile(r"url\(([\w-]+\.woff2)\)")
_NAME_LETTERS = 8


def needs(body: str, script: str) -> bool:
    """Is this script of any use on a page with this body?"""
    taken_in_hand = _ONLY_WITH.get(Path(script).stem)
    return taken_in_hand is None or taken_in_hand in body


def sheet(template: Path, language: str, accent: str | None, kind: SiteKind) -> str:
    """Everything that any page of a site in ``language`` may wear. It lies beside its fonts."""
    further = _OWN.get(kind, _ALL)
    return "\n".join((_lean(template, (*_first(language), *further)), accent_css(accent)))


def sheet_path(text: str) -> str:
    """Where ``text`` is published."""
    return f"assets/card-{hashlib.sha256(text.encode()).hexdigest()[:_NAME_LETTERS]}.css"


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
