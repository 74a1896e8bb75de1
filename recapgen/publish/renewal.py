"""A site built again, reusing every page of the last one that would come out the same."""

from collections.abc import Iterable, Sequence
from itertools import chain
from pathlib import Path

from msgspec.structs import replace

from recapgen.model.page import Page, Site, SiteKind
from recapgen.model.problem import Problem
from recapgen.publish.book_index import Entry, entries_of
from recapgen.publish.build_state import recipe
from recapgen.publish.kept_site import links_of
from recapgen.publish.last_site import LaidPage, LastSite, NewSite
from recapgen.publish.offline import keep_offline
from recapgen.publish.site_builder import wrap_pages
from recapgen.tools.cache import key_for
from recapgen.tools.html_reading import ReadPage, read_html


def stands(last: LastSite, template: Path, path: str, made_of: str) -> bool:
    """Whether ``last`` has the page ``path``, made of ``made_of``: then it needs no body."""
    return last.has(path, _key(template, path, made_of)) and path in last.pages


def renew(site: Site, new: NewSite, template: Path, beside: Sequence[Entry] = ()) -> None:
    """Build ``site`` in ``new.folder`` as ``build_site`` does, unchanged pages from ``new.last``.

    Fills ``new.files`` and ``new.pages``. ``beside`` are entries that the book's search finds in
    other sites. Raises OSError where the disk fails.
    """
    navigation = repr([(page.path, page.title, page.section) for page in site.pages])
    around = key_for(site.name, site.language, str(site.accent), navigation)
    made_of = {
        page.path: _key(template, page.path, page.made_of or key_for(around, page.line, page.body))
        for page in site.pages
    }
    kept = {p for p, key in made_of.items() if new.last.has(p, key) and p in new.last.pages}
    searched = site.pages if site.kind is SiteKind.BOOK else ()
    found = {page.path: _entries(page, new.last, kept) for page in searched}
    wrap_pages(site, new.folder, template, kept=kept, entries=(*chain(*found.values()), *beside))
    for page in site.pages:
        new.files[page.path] = made_of[page.path]
        if page.path in kept:
            new.last.take(page.path, new.folder)
            new.pages[page.path] = new.last.pages[page.path]
    if site.kind is SiteKind.STUDENT:
        keep_offline(site, new.folder, template)
    for path in made_of.keys() - kept:
        html = (new.folder / path).read_text("utf-8")
        new.pages[path] = LaidPage(found.get(path, ()), links_of(read_html(html)))


def read_already(new: NewSite, clean_of: str = "") -> dict[str, ReadPage]:
    """By path, pages already searched with the digest ``clean_of``: no check need read them."""
    return {
        path: page.links.as_read() for path, page in new.pages.items() if page.clean_of == clean_of
    }


def found_clean(new: NewSite, problems: Iterable[Problem], clean_of: str) -> NewSite:
    """``new``, its pages without a problem marked as clean of the search digest ``clean_of``."""
    met = {problem.facts.get("page") for problem in problems}
    pages = {
        path: page if path in met else replace(page, clean_of=clean_of)
        for path, page in new.pages.items()
    }
    return replace(new, pages=pages)


def _entries(page: Page, last: LastSite, kept: set[str]) -> tuple[Entry, ...]:
    known = last.pages[page.path].entries if page.path in kept else ()
    return known or entries_of(page)


def _key(template: Path, path: str, made_of: str) -> str:
    return key_for(recipe(template), path, made_of)
