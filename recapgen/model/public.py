"""What is published: where it lies, what a build changed of it, what is handed over of it."""

from enum import StrEnum
from pathlib import Path

from msgspec import Struct

CASES = "cases"
"""The folder of site/ that holds the past cases."""

FRONT_PAGE = "index.html"
"""The page of a folder that a web server sends for the folder's own address."""

RANGE_PAGE = "range.html"
"""The coach's page for the range, alone in a folder of site/ that has a name of its own."""


def public_path(folder: str, page: str) -> str:
    """Where a page lies below site/: "q7w2e9/2027-04-11-k3f9.html"."""
    return f"{folder}/{page}"


def path_up(folder: str, page: str, *, locked: bool) -> str:
    """Which file below site/ shows ``page``: the page itself, or what opens a locked folder."""
    return public_path(folder, FRONT_PAGE if locked else page)


def page_within(page: str, *, locked: bool) -> str:
    """What follows the folder's address in a link to ``page``; a locked folder has one file."""
    return f"{FRONT_PAGE}#/{page}" if locked and page != FRONT_PAGE else page


def public_address(published_at: str | None, folder: str, page: str = "") -> str:
    """The same as a reader has it, or from site/ where its address is not stated.

    ``published_at`` has no slash at its end. Without ``page`` it is the folder's own address.
    """
    return f"{published_at or 'site'}/{public_path(folder, page)}"


class Move(StrEnum):
    """What became of a folder of site/."""

    PUT_UP = "put-up"
    CHANGED = "changed"
    CAME_DOWN = "came-down"


class PublicChange(Struct, frozen=True):
    """``name`` is whose pages they are; "" for the cases. ``folder`` lies in site/."""

    move: Move
    name: str
    folder: str


class FolderGone(Struct, frozen=True):
    """A student's or lesson's ``folder`` that is not among the lessons any more.

    What is kept of it waits for ``days_left``; none left means that it was cleared.
    """

    folder: str
    days_left: int


class Bundle(Struct, frozen=True):
    """A student's published site as one ``file`` that holds so many ``files``."""

    student: str
    file: Path
    files: int
    size_bytes: int
    locked: bool
