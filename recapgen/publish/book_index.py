"""What the coach's book is searched by: a script file, so that it works from disk."""

import json
from collections.abc import Iterable
from html.parser import HTMLParser
from typing import TypeAlias

from msgspec import Struct, field

from recapgen.model.page import Page

_UNREAD = frozenset({"script", "style", "svg", "template", "textarea", "select", "details"})
_LESSON = "book-lesson"
_LONGEST = 20_000


Entry: TypeAlias = tuple[str, str, str, str]
"""The address of a page or a lesson on it, title, section, and what a person reads there."""


def entries_of(page: Page) -> tuple[Entry, ...]:
    """The page as the search knows it: what stands before its lessons, and each of these.

    A lesson is found where it stands, under the page's title and its own heading.
    """
    reader = _TextCollector()
    reader.feed(page.body)
    reader.close()
    return tuple(
        (
            f"{page.path}#{part.anchor}" if part.anchor else page.path,
            f"{page.title}, {' '.join(part.heading)}" if part.anchor else page.title,
            page.section,
            " ".join(part.words)[:_LONGEST],
        )
        for part in reader.parts
    )


def book_index(entries: Iterable[Entry]) -> str:
    """JavaScript that hands all ``entries`` to the search."""
    return f"window.bookIndex = {json.dumps(list(entries), separators=(',', ':'))};\n"


class _Part(Struct):
    """``anchor`` is empty for what belongs to no lesson; ``heading`` is a lesson's day."""

    anchor: str = ""
    heading: list[str] = field(default_factory=list)
    words: list[str] = field(default_factory=list)


class _TextCollector(HTMLParser):
    """Collects what a person would read, without pictures, scripts and messages to send.

    Neither tables of readings, which hold nothing that anybody would look for.
    """

    def __init__(self) -> None:
        super().__init__()
        self.parts = [_Part()]
        self._unread = 0
        self._in_heading = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._unread += tag in _UNREAD
        told = dict(attrs)
        if tag == "section" and told.get("class") == _LESSON:
            self.parts.append(_Part(told.get("aria-labelledby") or ""))
        self._in_heading = self._in_heading or (tag == "h3" and bool(self.parts[-1].anchor))

    def handle_endtag(self, tag: str) -> None:
        self._unread -= tag in _UNREAD
        if tag in ("h3", "time"):
            self._in_heading = False

    def handle_data(self, data: str) -> None:
        if not self._unread:
            self.parts[-1].words.extend(data.split())
            if self._in_heading:
                self.parts[-1].heading.extend(data.split())
