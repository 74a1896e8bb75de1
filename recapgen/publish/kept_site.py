"""A site that was built before is kept as a whole: the handbook."""

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from pathlib import Path
from zipfile import ZipFile

from msgspec import Struct

from recapgen.model.as_data import as_text, from_text
from recapgen.model.page import Page, Site
from recapgen.publish.book_index import Entry, entries_of
from recapgen.publish.build_state import recipe
from recapgen.publish.last_site import Links, NewSite
from recapgen.publish.site_builder import build_site
from recapgen.tools.cache import Cache, key_for
from recapgen.tools.html_reading import ReadPage, read_html
from recapgen.tools.leftovers import temporary_folder
from recapgen.tools.walking import files_below

_PACKED = "site.zip"
_READ = "read.json"


class _Told(Struct, frozen=True):
    """What is kept of a site beside its files."""

    links: Mapping[str, Links]
    entries: tuple[Entry, ...]


class KeptSite(Struct, frozen=True):
    """A finished site in the cache.

    ``read`` is each page as a check of links reads it, ``entries`` what the search finds,
    ``made_of`` a digest of everything in it.
    """

    packed: Path
    read: Mapping[str, ReadPage]
    entries: tuple[Entry, ...]
    made_of: str

    def lay_into(self, new: NewSite, folder: str) -> None:
        """Put the files of the site below ``folder`` of a book. Raises OSError."""
        with ZipFile(self.packed) as packed:
            for name in packed.namelist():
                new.lay(f"{folder}/{name}", self.made_of, partial(packed.read, name))


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
                    links[path] = links_of(read_html(file.read_text("utf-8")))
        told = _Told(links, tuple(each for page in found for each in entries_of(page)))
        (entry / _READ).write_text(as_text(told, _Told), encoding="utf-8")

    key = key_for("site", recipe(template), *facts)
    entry = cache.find_or_make(key, make)
    told = from_text((entry / _READ).read_text("utf-8"), _Told)
    read = {path: each.as_read() for path, each in told.links.items()}
    return KeptSite(entry / _PACKED, read, told.entries, key)


def links_of(page: ReadPage) -> Links:
    """What a check of links wants to know of a page that was read."""
    return Links(
        addresses=tuple(dict.fromkeys(pointer.address for pointer in page.pointers)),
        anchors=frozenset(page.anchors),
        policy=page.policy,
        styles=tuple(page.styles),
        referrer=page.referrer,
    )
