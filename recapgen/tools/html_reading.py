"""A finished page, read back: what it says, what it points at, what code it holds."""

import re
from collections.abc import Iterator, Mapping, Sequence
from html.parser import HTMLParser
from pathlib import Path
from types import MappingProxyType

from msgspec import Struct, field

from recapgen.tools.plain_reading import READERS
from recapgen.tools.remarks import REMARKS
from recapgen.tools.walking import sizes_below

# Tags that do not part words from each other; every other tag does.
_WITHIN_WORDS = frozenset(
    """a abbr b bdi code em i mark q s small span strong sub sup tspan u wbr""".split()  # noqa: SIM905  (reads as a list)
)
_FETCHED = frozenset(
    {"src", "poster", "srcset", "data", "href", "xlink:href", "background", "action", "formaction"}
)
_SPOKEN = frozenset(
    """alt title aria-label aria-description aria-roledescription aria-valuetext placeholder value
    label summary""".split()  # noqa: SIM905  (reads as a list)
)
_SPOKEN_META = frozenset(
    """description keywords author application-name apple-mobile-web-app-title og:title
    og:description og:site_name""".split()  # noqa: SIM905  (reads as a list)
)
_CODE_TAGS = frozenset({"script", "style"})
# Read as pages and styles, or copied as they came to us: fonts and their licences.
_NOT_TOLD = frozenset({".html", ".css", ".woff2", ".txt"})
_CSS_ADDRESS = re.compile(r"""url\(\s*(['"]?)(.*?)\1\s*\)|@import\s+(['"])(.*?)\3""")


class Pointer(Struct, frozen=True):
    """An address in a page; ``followed`` where a reader follows it, else the page fetches it."""

    tag: str
    address: str
    followed: bool
    private: bool  # rel=noreferrer: the target is not told where the reader came from


class ReadPage(Struct):
    """``texts`` are what people read, see or hear, a stretch at a time; ``code`` is inline.

    Words of a script are in ``data-`` attributes, what it works on in JSON: both are texts.
    A stylesheet is in ``styles``, not among the texts: no coach typed it. Only the page's policy
    can vouch for it.
    """

    source: str
    texts: list[str] = field(default_factory=list)
    pointers: list[Pointer] = field(default_factory=list)
    anchors: set[str] = field(default_factory=set)
    code: list[str] = field(default_factory=list)
    styles: list[str] = field(default_factory=list)
    policy: str | None = None
    referrer: str | None = None  # what other sites are told of where the reader came from


class ReadSite(Struct, frozen=True):
    """A folder of pages; every path is relative to it, with forward slashes."""

    pages: Mapping[str, ReadPage]
    styles: Mapping[str, str]
    files: Mapping[str, int]  # all of them, with their size in bytes
    told: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # by files that are no pages

    def readable(self) -> Iterator[tuple[str, Sequence[str]]]:
        """What people can read of each page and file."""
        yield from ((path, page.texts) for path, page in self.pages.items())
        yield from self.told.items()

    def all_styles(self) -> Iterator[tuple[str, str]]:
        """Every stylesheet with the path it counts from: files, and those inside pages."""
        yield from self.styles.items()
        for path, page in self.pages.items():
            yield from ((path, style) for style in page.styles)


def read_site(
    folder: Path, read: Mapping[str, ReadPage] = MappingProxyType({}), *, told: bool = True
) -> ReadSite:
    """Read every page and stylesheet below ``folder`` that is not among those ``read`` already.

    The text of other files is read where ``told``. Raises OSError.
    """
    files = dict(sizes_below(folder))
    kept = {path: folder / path for path in files}
    return ReadSite(
        {
            path: read.get(path) or read_html(file.read_text("utf-8"))
            for path, file in kept.items()
            if path.endswith(".html")
        },
        {p: f.read_text("utf-8") for p, f in kept.items() if p.endswith(".css")},
        files,
        {p: _told(f) for p, f in kept.items() if told and f.suffix not in _NOT_TOLD},
    )


def _told(file: Path) -> tuple[str, ...]:
    """The text of a file that is no page; all of it where the kind is none that we make."""
    if file.suffix == ".svg":  # marked up as a page is: what it is drawn of is no word
        return tuple(read_html(file.read_text("utf-8")).texts)
    if read := READERS.get(file.suffix):
        return read(file.read_text("utf-8"))
    if find := REMARKS.get(file.suffix):
        return find(file)
    return (file.read_text("utf-8", "ignore"),)


def read_pages(folder: Path) -> ReadSite:
    """The pages directly in ``folder`` alone. Raises OSError."""
    pages = {file.name: read_html(file.read_text("utf-8")) for file in folder.glob("*.html")}
    return ReadSite(pages, {}, {})


def read_html(html: str) -> ReadPage:
    """Read a page as a browser would meet it, top to bottom."""
    reader = _PageReader(html)
    reader.feed(html)
    reader.close()
    reader.end_text()
    return reader.page


def css_addresses(css: str) -> list[str]:
    """What a stylesheet fetches: every url() and @import, as written."""
    return [bare or imported for _, bare, _, imported in _CSS_ADDRESS.findall(css)]


class _PageReader(HTMLParser):
    def __init__(self, source: str) -> None:
        super().__init__()
        self.page = ReadPage(source)
        self._text: list[str] = []
        self._in_code: str | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in _WITHIN_WORDS:
            self.end_text()
        given = {name: value or "" for name, value in attrs}
        if tag == "meta" and given.get("http-equiv", "").lower() == "content-security-policy":
            self.page.policy = given.get("content", "")
        if tag == "meta" and given.get("name", "").lower() == "referrer":
            self.page.referrer = given.get("content", "")
        runs = tag == "script" and "src" not in given and given.get("type") != "application/json"
        if runs:
            self.page.code.append("<script>")
        self._in_code = tag if tag in _CODE_TAGS else self._in_code
        for name, value in given.items():
            self._attribute(tag, name, value, given)

    def handle_endtag(self, tag: str) -> None:
        if tag not in _WITHIN_WORDS:
            self.end_text()
        if tag == self._in_code:
            self._in_code = None

    def handle_data(self, data: str) -> None:
        if self._in_code is None:
            self._text.append(data)
        elif self._in_code == "style":
            self.page.styles.append(data)
        elif data.strip():
            self.page.texts.append(data)

    def handle_comment(self, data: str) -> None:
        self.page.texts.append(data)

    def end_text(self) -> None:
        text = " ".join("".join(self._text).split())
        self._text.clear()
        if text:
            self.page.texts.append(text)

    def _attribute(self, tag: str, name: str, value: str, given: dict[str, str]) -> None:
        if name == "id" or (tag == "a" and name == "name"):
            self.page.anchors.add(value)
        elif name == "style" or name.startswith("on"):
            self.page.code.append(f"{name}=")
        if name in _SPOKEN or name.startswith("data-") or (name == "content" and _is_read(given)):
            self.page.texts.append(value)
        if name in _FETCHED:
            private = "noreferrer" in given.get("rel", "").lower().split()
            followed = tag in ("a", "area") and name == "href"
            for address in _addresses(name, value):
                self.page.pointers.append(Pointer(tag, address, followed, private))


def _is_read(given: dict[str, str]) -> bool:
    """Is a meta shown to people: by a search, or where a link is sent?"""
    return (given.get("name") or given.get("property") or "").lower() in _SPOKEN_META


def _addresses(name: str, value: str) -> list[str]:
    if name != "srcset":
        return [value.strip()]
    return [part.split()[0] for part in value.split(",") if part.strip()]
