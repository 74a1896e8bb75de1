"""The handbook as pages beside the coach's book, and what the book's search finds of it."""

import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path

from markdown_it import MarkdownIt
from markdown_it.token import Token

from recapgen import handbook
from recapgen.handbook import Chapter, chapters, entries
from recapgen.model.page import Asset, Page, Site, SiteKind
from recapgen.model.public import FRONT_PAGE
from recapgen.words.catalogue import Words

FOLDER = "handbook"
_PICTURE = re.compile(r"!\[[^\]]*\]\((pictures/[a-z_]+\.webp)\)")
# Wide tables and long lines to copy scroll in themselves, by keys as well.
_WIDE = '<div class="book-scroll" role="region" tabindex="0" aria-label="Table">'


def handbook_site(words: Words, accent: str | None) -> Site:
    """One page a chapter; the problems and the parts of a chapter have anchors."""
    return Site(
        kind=SiteKind.BOOK,
        name=words.say("book.handbook.title"),
        language=words.language,
        pages=tuple(_page(chapter, words) for chapter in chapters()),
        assets=tuple(_pictures()),
        accent=accent,
    )


def _pictures() -> Iterator[Asset]:
    """Every picture that a chapter shows."""
    shown = {name for chapter in chapters() for name in _PICTURE.findall(chapter.text)}
    for name in sorted(shown):
        yield Asset(name, Path(handbook.__file__).parent / name)


def to_be_found(words: Words) -> tuple[Page, ...]:
    """Chapters and single problems as the search of the book above lists them."""
    section = words.say("book.handbook.title")
    known = entries()
    whole = [
        Page(f"{FOLDER}/{chapter.name}.html", chapter.title, _body(chapter.text), section)
        for chapter in chapters()
        if chapter.name not in {entry.chapter for entry in known.values()}
    ]
    single = [
        Page(handbook_link(entry.code), entry.code, _body(entry.text), section)
        for entry in known.values()
    ]
    return (*whole, *single)


def handbook_link(code: str) -> str:
    """Where the handbook explains a problem, from the book's pages."""
    return f"{FOLDER}/{entries()[code].chapter}.html#{code}"


def _page(chapter: Chapter, words: Words) -> Page:
    back = words.say("book.handbook.back")
    first = f'<p><a href="../{FRONT_PAGE}">{back}</a></p>\n'
    return Page(
        path=f"{chapter.name}.html",
        title=chapter.title,
        body=f"<h1>{chapter.title}</h1>\n{first}{_body(chapter.text)}",
    )


@cache
def _body(text: str) -> str:
    """A chapter is shown and found: it is turned into markup once."""
    parser = _parser()
    tokens = parser.parse(text)
    for token, inside in pairwise(tokens):
        if token.type == "heading_open":
            token.attrSet("id", _anchor(inside))
    html: str = parser.renderer.render(tokens, parser.options, {})
    html = html.replace("<table>", f"{_WIDE}<table>").replace("</table>", "</table></div>")
    return html.replace("<pre>", '<pre tabindex="0">')


def _anchor(heading: Token) -> str:
    return re.sub(r"[^a-z0-9]+", "-", heading.content.lower()).strip("-")


@cache
def _parser() -> MarkdownIt:
    return MarkdownIt("commonmark", {"html": False}).enable("table")
