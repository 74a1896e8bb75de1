"""The coach's Markdown, made harmless: no HTML, no pictures, links only outwards and plain."""

from functools import cache
from urllib.parse import urlsplit

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup

_SCHEMES = frozenset({"http", "https", "mailto"})
_LONGEST_HEADING = 6
_LINE = 80
_HEADINGS_START_AT = 3  # h1 is the intent, h2 names the part of the card


def coach_words(text: str) -> Markup | None:
    """``text`` as HTML; None where nothing was written."""
    if not text.strip():
        return None
    parser = _parser()
    tokens = parser.parse(text)
    for token in tokens:
        _lower_heading(token)
        for inner in token.children or ():
            _plain_link(inner)
    return Markup(parser.renderer.render(tokens, parser.options, {}))  # noqa: S704 (html is off)


def first_words(text: str) -> str:
    """How ``text`` begins, without its marks and in one line; "" where nothing was written."""
    inline = next((t for t in _parser().parse(text) if t.type == "inline"), None)
    parts = inline.children or () if inline is not None else ()
    line = " ".join("".join(each.content or " " for each in parts).split())
    if len(line) <= _LINE:
        return line
    cut, blank, _ = line[: _LINE - 1].rpartition(" ")
    return f"{cut if blank else line[: _LINE - 1]}…"


@cache
def _parser() -> MarkdownIt:
    parser = MarkdownIt("commonmark", {"html": False, "typographer": False})
    parser.disable(["image", "html_block", "html_inline"])
    parser.validateLink = _allowed  # type: ignore[method-assign, assignment]  # its own hook
    return parser


def _allowed(address: str) -> bool:
    try:
        return urlsplit(address.strip()).scheme.lower() in _SCHEMES
    except ValueError:
        return False


def _plain_link(token: Token) -> None:
    if token.type == "link_open":
        token.attrSet("rel", "noreferrer noopener")


def _lower_heading(token: Token) -> None:
    if token.type in ("heading_open", "heading_close"):
        level = int(token.tag[1:]) + _HEADINGS_START_AT - 1
        token.tag = f"h{min(level, _LONGEST_HEADING)}"
