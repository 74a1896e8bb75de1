"""A staged site is read back and checked as a whole before it may replace the one that is up."""

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from pathlib import Path
from posixpath import dirname, join, normpath
from types import MappingProxyType
from urllib.parse import SplitResult, unquote, urlsplit

from msgspec import Struct

from recapgen.model.page import SiteKind
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.public import FRONT_PAGE
from recapgen.model.source import SourceRef
from recapgen.privacy.forbidden import Forbidden
from recapgen.privacy.leaks import Leak, Up, leaks
from recapgen.privacy.names import Vocabulary
from recapgen.publish.policy import hash_of
from recapgen.publish.strays import is_ours
from recapgen.tools.html_reading import ReadPage, ReadSite, css_addresses, read_site
from recapgen.words.catalogue import words
from recapgen.words.ordinary import (
    calendar_words,
    capital_words,
    common_words,
    ordinary_words,
    seldom_words,
    source_sentences,
)

_LARGEST_PAGE = 1_500_000
_LARGEST_FILE = 25_000_000  # what free hosts of static pages take


class SitePlace(Struct, frozen=True):
    """Where a staged folder will be read: ``within`` the folder ``site``, published at ``address``.

    ``within`` is empty for what lies directly in ``site``. ``coming`` are paths below ``site``
    that this run makes later.
    """

    address: str
    within: str
    site: Path
    coming: frozenset[str] = frozenset()

    def below(self, parts: SplitResult) -> str | None:
        """The path below ``site`` that a whole address leads to; None where it is not ours.

        A coach's host may have pages of other makers beside ours.
        """
        home = urlsplit(self.address)
        base = f"{unquote(home.path).rstrip('/')}/"
        path = unquote(parts.path) or "/"
        if parts.netloc.lower() != home.netloc.lower() or not f"{path}/".startswith(base):
            return None
        below = path[len(base) :]
        if below and not is_ours(below.split("/")[0]):
            return None
        return f"{below}{FRONT_PAGE}" if below.endswith("/") or not below else below

    def has(self, path: str) -> bool:
        """Is or will be there, a page or a folder with its front page."""
        return any(
            each in self.coming or (self.site / each).is_file()
            for each in (path, f"{path}/{FRONT_PAGE}")
        )


@cache
def vocabulary(*languages: str) -> Vocabulary:
    """What the leak check needs to know of the languages that a page may hold.

    A coach's own words need not be in the language of the page.
    """
    spoken = [words(language) for language in dict.fromkeys(languages)]
    return Vocabulary(
        ordinary=frozenset().union(*map(ordinary_words, spoken), *map(common_words, spoken)),
        calendar=frozenset().union(*map(calendar_words, spoken)),
        sources=tuple(sentence for each in spoken for sentence in source_sentences(each)),
        capitals=frozenset().union(*map(capital_words, spoken)),
        seldom=frozenset().union(*map(seldom_words, spoken)),
    )


def check_site(
    folder: Path,
    kind: SiteKind,
    forbidden: Forbidden | None,
    *,
    where: SourceRef,
    costs: Cost,
    beside: frozenset[str] = frozenset(),
    place: SitePlace | None = None,
    up: Up | None = None,
    at: Callable[[Leak], SourceRef | None] = lambda _: None,
    read: Mapping[str, ReadPage] = MappingProxyType({}),
) -> tuple[Problem, ...]:
    """Everything that speaks against publishing the staged site in ``folder``.

    Links and anchors resolve inside the folder, nothing is fetched from outside, every page
    states its policy and holds no code of its own, nothing is told that must not be (``forbidden``,
    None for the coach's own book). ``where`` is the student's file; ``costs`` what a fault
    costs; ``beside`` are paths outside the folder that links may lead to; whole addresses that
    lead to what we publish are followed where ``place`` says where that is. ``up`` is what stands
    there now and ``at`` knows the lines of the coach's, both for names. A page or file too heavy
    is a warning. ``read`` are pages that have been read already, by path.
    """
    site = read_site(folder, read, told=forbidden is not None)
    found = [*_broken(site, beside, place), *(() if kind is SiteKind.BOOK else _unguarded(site))]
    problems = [Problem(code, where, facts, costs) for code, facts in found]
    if forbidden is not None:
        problems += leaks(site, forbidden, where, costs, up=up, at=at)
    problems += [Problem(code, where, facts) for code, facts in _heavy(site)]
    return tuple(problems)


def _broken(
    site: ReadSite, beside: frozenset[str], place: SitePlace | None
) -> Iterable[tuple[Code, dict[str, str]]]:
    met: dict[tuple[str, str], bool] = {}  # pages of one folder share most of their links
    for path, page in site.pages.items():
        folder = dirname(path)
        for pointer in page.pointers:
            within = path if pointer.address[:1] in ("", "#", "?") else folder
            link = (within, pointer.address)
            if link not in met:
                met[link] = _resolves(site, beside, path, pointer.address, place)
            if not met[link]:
                yield Code.LINK_DEAD, {"page": path, "link": pointer.address}
    for path, css in site.all_styles():
        for address in css_addresses(css):
            if not _resolves(site, beside, path, address):
                yield Code.LINK_DEAD, {"page": path, "link": address}
    for path, page in site.pages.items():
        if page.policy is None or "default-src 'none'" not in page.policy:
            yield Code.PAGE_UNGUARDED, {"page": path, "found": "-"}


def _unguarded(site: ReadSite) -> Iterable[tuple[Code, dict[str, str]]]:
    for path, page in site.pages.items():
        for code in dict.fromkeys(page.code):
            yield Code.PAGE_UNGUARDED, {"page": path, "found": code}
        if page.policy is not None and "unsafe" in page.policy:
            yield Code.PAGE_UNGUARDED, {"page": path, "found": "unsafe"}
        if page.referrer != "no-referrer":
            yield Code.PAGE_UNGUARDED, {"page": path, "found": "referrer"}
        if any(hash_of(style) not in (page.policy or "") for style in page.styles):
            yield Code.PAGE_UNGUARDED, {"page": path, "found": "<style>"}


def _resolves(
    site: ReadSite,
    beside: frozenset[str],
    path: str,
    address: str,
    place: SitePlace | None = None,
) -> bool:
    """An outside address is the leak check's business; a link to a folder opens no page."""
    if "/" not in path and address in site.files:
        return True  # most links by far: a page or file of a flat folder
    try:
        parts = urlsplit(address)
    except ValueError:
        return False
    if parts.scheme or parts.netloc:
        return place is None or _is_published(site, parts, place)
    if address.startswith(("/", "\\")):
        return False
    target = normpath(join(dirname(path), unquote(parts.path))) if parts.path else path
    return _opens(site, target, parts.fragment) if target in site.files else target in beside


def _is_published(site: ReadSite, parts: SplitResult, place: SitePlace) -> bool:
    """Does a whole address lead to what is there, or to nothing of ours?"""
    path = place.below(parts)
    if path is None:
        return True
    own = path.removeprefix(f"{place.within}/") if place.within else path
    if own in site.files and (own != path or not place.within):
        return _opens(site, own, parts.fragment)
    return own == path and place.has(path)


def _opens(site: ReadSite, target: str, fragment: str) -> bool:
    return not fragment or target not in site.pages or _has(site.pages[target], fragment)


def _has(page: ReadPage, fragment: str) -> bool:
    return unquote(fragment) in page.anchors or fragment == "top"


def _heavy(site: ReadSite) -> Iterable[tuple[Code, dict[str, str]]]:
    for path, size in site.files.items():
        page = path in site.pages
        if size > (_LARGEST_PAGE if page else _LARGEST_FILE):
            code = Code.PAGE_HEAVY if page else Code.FILE_HEAVY
            yield code, {"page": path, "size": f"{size / 1e6:.1f}"}
