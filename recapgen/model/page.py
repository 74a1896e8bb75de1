"""Finished pages, on their way from render to publish."""

from enum import StrEnum
from pathlib import Path

from msgspec import Struct

TO_SAVE = "saved"
"""The folder of clips to save: never fetched unless somebody asks."""


class SiteKind(StrEnum):
    STUDENT = "student"
    CASES = "cases"
    CARD = "card"  # the coach's own front page of site/
    BOOK = "book"
    RANGE = "range"  # the coach's own page to write a lesson down on
    WORKSHEET = "worksheet"  # beside the book: a lesson's notes, worked with a finger


class Page(Struct, frozen=True):
    """One page.

    ``path`` is flat ("index.html", "2027-04-11-k3f9.html"); ``body`` is complete, escaped
    HTML for inside <body> (student, cases, card) or for the content area (book).
    ``made_of``, where it is given, is a digest of all that the whole page is made of;
    where the page as it was left is still there, no ``body`` is needed.
    ``section`` groups the book's navigation and is empty elsewhere. ``line`` is what a message
    shows below a link to it, where the page may be found by anybody.
    """

    path: str
    title: str
    body: str
    section: str = ""
    line: str = ""
    made_of: str = ""


class Asset(Struct, frozen=True):
    """A file copied into the site as it is (a film, a poster)."""

    path: str
    source: Path


class WrittenFile(Struct, frozen=True):
    """A small file that is written out as it stands here (a calendar)."""

    path: str
    text: str


class Site(Struct, frozen=True):
    """Everything one folder of output consists of. ``accent`` is "#rrggbb" or None.

    ``address`` is where it will be read, with a slash at its end, if the coach has said.
    """

    kind: SiteKind
    name: str
    language: str
    pages: tuple[Page, ...]
    assets: tuple[Asset, ...]
    accent: str | None = None
    written: tuple[WrittenFile, ...] = ()
    address: str | None = None
