"""What the coach's book is searched by: a script file, so that it works from disk."""

import json
from collections.abc import Iterable
from html.parser import HTMLParser

from recapgen.model.page import Page

_UNREAD = frozenset({"script", "style", "svg", "template"})
_LONGEST = 20_000


def book_index(pages: Iterable[Page]) -> str:
    """JavaScript that hands ``[path, title, section, text]`` of every page to the search."""
    entries = [[page.path, page.title, page.section, _text(page.body)] for page in pages]
    return f"window.bookIndex = {json.dumps(entries, separators=(',', ':'))};\n"


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


def _text(body: str) -> str:
    reader = _TextCollector()
    reader.feed(body)
    reader.close()
    return " ".join(reader.words)[:_LONGEST]
