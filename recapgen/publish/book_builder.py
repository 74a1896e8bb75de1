"""The coach's book: only those pages are wrapped that the last run did not leave."""

from collections.abc import Sequence
from pathlib import Path

from recapgen.model.page import Page, Site
from recapgen.publish.book_index import Entry, entry_of
from recapgen.publish.build_state import recipe
from recapgen.publish.kept_site import links_of
from recapgen.publish.last_book import LaidPage, LastBook, NewBook
from recapgen.publish.site_builder import build_site
from recapgen.tools.cache import key_for
from recapgen.tools.html_reading import read_html


def stands(last: LastBook, template: Path, path: str, made_of: str) -> bool:
    """Whether the page that is ``made_of`` this is in the last book, so that it needs no body."""
    return last.has(path, _key(template, path, made_of)) and path in last.pages


def build_book(site: Site, new: NewBook, template: Path, beside: Sequence[Entry]) -> None:
    """As ``build_site``, in the folder of ``new``; what stands is taken from its last book.

    ``beside`` is what the search finds of other sites. Raises OSError where the disk fails.
    """
    navigation = repr([(page.path, page.title, page.section) for page in site.pages])
    around = key_for(site.name, site.language, str(site.accent), navigation)
    made_of = {
        page.path: _key(template, page.path, page.made_of or key_for(around, page.body))
        for page in site.pages
    }
    kept = {p for p, key in made_of.items() if new.last.has(p, key) and p in new.last.pages}
    entries = [_entry(page, new.last, kept) for page in site.pages]
    build_site(site, new.folder, template, kept=kept, entries=(*entries, *beside))
    for page, entry in zip(site.pages, entries, strict=True):
        path = page.path
        new.files[path] = made_of[path]
        if path in kept:
            new.last.take(path, new.folder)
            new.pages[path] = new.last.pages[path]
        else:
            html = (new.folder / path).read_text("utf-8")
            new.pages[path] = LaidPage(entry, links_of(read_html(html)))


def _entry(page: Page, last: LastBook, kept: set[str]) -> Entry:
    return last.pages[page.path].entry if page.path in kept else entry_of(page)


def _key(template: Path, path: str, made_of: str) -> str:
    return key_for(recipe(template), path, made_of)
