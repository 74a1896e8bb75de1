"""Pages that were built before are kept: the handbook as a whole, the book a page at a time."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from zipfile import ZipFile

from recapgen.model.as_data import FAULTS, as_text, from_text
from recapgen.model.page import Page, Site
from recapgen.publish.book_index import Entry, entry_of
from recapgen.publish.build_state import recipe
from recapgen.publish.site_builder import build_site
from recapgen.tools.cache import Cache, key_for
from recapgen.tools.html_reading import Pointer, ReadPage, read_html
from recapgen.tools.leftovers import temporary_folder
from recapgen.tools.walking import files_below

_PACKED = "site.zip"
_READ = "read.json"


@dataclass(frozen=True, slots=True)
class Links:
    """What a check of links wants to know of a page."""

    addresses: tuple[str, ...]
    anchors: frozenset[str]
    policy: str | None
    styles: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Told:
    """What is kept of a site beside its files."""

    links: Mapping[str, Links]
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class KeptPage:
    """A wrapped page, what the search finds of it, and what it links to."""

    html: str
    entry: Entry
    links: Links


@dataclass(frozen=True, slots=True)
class KeptSite:
    """A finished site in the cache.

    ``read`` is each page as a check of links reads it, ``entries`` what the search finds.
    """

    packed: Path
    read: Mapping[str, ReadPage]
    entries: tuple[Entry, ...]

    def unpack(self, into: Path) -> None:
        """Put the files of the site into the folder ``into``. Raises OSError."""
        with ZipFile(self.packed) as packed:
            packed.extractall(into)


def build_kept(
    site: Site, into: Path, template: Path, cache: Cache, beside: Sequence[Entry]
) -> dict[str, ReadPage]:
    """As ``build_site``; only those pages are wrapped that were not, with this navigation, before.

    ``beside`` is what the search finds of other sites. Gives each page as a check of links reads
    it. Raises OSError where the disk fails.
    """
    navigation = repr([(page.path, page.title, page.section) for page in site.pages])
    around = key_for(recipe(template), site.name, site.language, str(site.accent), navigation)
    keys = {page.path: key_for("book page", around, page.path, page.body) for page in site.pages}
    known = {path: _found(cache, key) for path, key in keys.items()}
    kept = {path: page for path, page in known.items() if page is not None}
    own = [kept[p.path].entry if p.path in kept else entry_of(p) for p in site.pages]
    finished = {path: page.html for path, page in kept.items()}
    build_site(site, into, template, kept=finished, entries=(*own, *beside))
    for page, entry in zip(site.pages, own, strict=True):
        if page.path not in kept:
            html = (into / page.path).read_text("utf-8")
            kept[page.path] = KeptPage(html, entry, _links(read_html(html)))
            cache.keep_text(keys[page.path], as_text(kept[page.path], KeptPage))
    return {path: _as_read(page.links) for path, page in kept.items()}


def kept_site(
    make_site: Callable[[], tuple[Site, Iterable[Page]]],
    template: Path,
    cache: Cache,
    *facts: str,
) -> KeptSite:
    """A site that changes with the program and ``facts`` alone.

    It is made, with what the search is to find of it, where this version has not kept it.
    Raises OSError where the disk fails.
    """

    def make(entry: Path) -> None:
        site, found = make_site()
        with temporary_folder() as built, ZipFile(entry / _PACKED, "w") as packed:
            build_site(site, built, template)
            links = {}
            for file in sorted(files_below(built)):
                path = file.relative_to(built).as_posix()
                packed.write(file, path)
                if file.suffix == ".html":
                    links[path] = _links(read_html(file.read_text("utf-8")))
        told = _Told(links, tuple(entry_of(page) for page in found))
        (entry / _READ).write_text(as_text(told, _Told), encoding="utf-8")

    entry = cache.find_or_make(key_for("site", recipe(template), *facts), make)
    told = from_text((entry / _READ).read_text("utf-8"), _Told)
    read = {path: _as_read(each) for path, each in told.links.items()}
    return KeptSite(entry / _PACKED, read, told.entries)


def _found(cache: Cache, key: str) -> KeptPage | None:
    text = cache.find_text(key)
    try:
        return None if text is None else from_text(text, KeptPage)
    except FAULTS:
        return None


def _links(page: ReadPage) -> Links:
    return Links(
        addresses=tuple(dict.fromkeys(pointer.address for pointer in page.pointers)),
        anchors=frozenset(page.anchors),
        policy=page.policy,
        styles=tuple(page.styles),
    )


def _as_read(links: Links) -> ReadPage:
    return ReadPage(
        source="",
        pointers=[
            Pointer("a", address, followed=True, private=False) for address in links.addresses
        ],
        anchors=set(links.anchors),
        styles=list(links.styles),
        policy=links.policy,
    )
