"""What the coach's book is searched by: a script file, so that it works from disk."""

import json
from collections.abc import Iterable
from html.parser import HTMLParser
from typing import TypeAlias

from recapgen.model.page import Page

_UNREAD = frozenset({"script", "style", "svg", "template"})
_LONGEST = 20_000


Entry: TypeAlias = tuple[str, str, str, str]
"""A page's path, title, section, and what a person reads on it."""


def entry_of(page: Page) -> Entry:
    """The page as the search knows it, its text up to what a search needs."""
    reader = _TextCollector()
    reader.feed(page.body)
    reader.close()
    return page.path, page.title, page.section, " ".join(reader.words)[:_LONGEST]


def book_index(entries: Iterable[Entry]) -> str:
    """JavaScript that hands all ``entries`` to the search."""
    return f"window.bookIndex = {json.dumps(list(entries), separators=(',', ':'))};\n"


class _TextCollector(HTMLParser):
    """Collects what a person would read, without pictures and scripts."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self._unread = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        del attrs
        self._unread += tag in _UNREAD

    def handle_endtag(self, tag: str) -> None:
        self._unread -= tag in _UNREAD

    def handle_data(self, data: str) -> None:
        if not self._unread:
            self.words.extend(data.split())
