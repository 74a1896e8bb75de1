"""Finished bodies become a site: the one place that knows MkDocs.

MkDocs wraps each body in a template, works out relative links and copies files. Pages exist
only in memory. Only what is named here reaches the output: for a student, the cases and the
card our own page, styles, scripts and fonts and nothing of the theme; for the coach's book
also the theme's stylesheet and script.
"""

import os
import re
from collections.abc import Collection, Iterable
from functools import cache
from itertools import chain
from pathlib import Path
from typing import Any

# The theme announces its own end on every start; what that means for us is settled in
# DEVELOPERS.md, and a coach can do nothing about it.
os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")

import jinja2
from markupsafe import Markup, escape
from mkdocs.commands.build import build
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page as WrappedPage
from mkdocs.theme import Theme
from mkdocs.utils import get_theme_dir
from mkdocs.utils.templates import TemplateContext

from recapgen.model.page import Page, Site, SiteKind
from recapgen.publish.accent import accent_css
from recapgen.publish.book_index import Entry, book_index, entries_of
from recapgen.publish.offline import KEPT, keep_offline
from recapgen.publish.page_styles import fonts, needs, sheet, sheet_path
from recapgen.publish.policy import guarded
from recapgen.publish.scripts import joined_script, packed
from recapgen.tools.leftovers import temporary_folder
from recapgen.tools.template_folder import compiled_templates
from recapgen.words.catalogue import words

_LICENCES = ("fonts", "OFL-*.txt")  # they travel with the fonts
_CARD = (_LICENCES, ("js", "*.js"), ("tab", "*.svg"))
_PREVIEW = ("preview", "*.png")  # two dots: no face, no name
_BESIDE = {
    SiteKind.STUDENT: (*_CARD, ("offline", "*.png")),
    SiteKind.CASES: (*_CARD, _PREVIEW, ("cases", "*.js")),
    SiteKind.CARD: (*_CARD, _PREVIEW),
    SiteKind.RANGE: (_LICENCES, ("js", "card.js"), ("tab", "*.svg"), ("offline", "*.png")),
    SiteKind.WORKSHEET: (_LICENCES, ("tab", "*.svg")),
    SiteKind.BOOK: (
        _LICENCES,
        ("fonts", "*.woff2"),
        ("css", "film*.css"),
        ("book", "*.*"),
    ),
}
_OWN_SCRIPT = {SiteKind.RANGE: "range", SiteKind.WORKSHEET: "worksheet"}
_SHOWN_AT_ONCE = 60
_BLANKS = re.compile(r"\s*\n\s*")
_BODY = "<!-- the body of the page -->"
_THEME_FILES = Path(get_theme_dir("material"))
_LANGUAGES = _THEME_FILES / "partials" / "languages"


def build_site(site: Site, into: Path, template: Path) -> None:
    """Build ``site`` in the empty folder ``into`` with the templates of ``template``.

    Raises OSError where the disk fails, and whatever a faulty template raises: both leave
    ``into`` half built, which is why it is never the published folder.
    """
    wrap_pages(site, into, template, entries=chain(*map(entries_of, site.pages)))
    if site.kind in KEPT:
        keep_offline(site, into, template)


def wrap_pages(
    site: Site,
    into: Path,
    template: Path,
    *,
    entries: Iterable[Entry],
    kept: Collection[str] = (),
) -> None:
    """The same but for what keeps a site on a phone, which is to know all of its files.

    ``entries`` are what the book's search finds. ``kept`` are the paths of pages that are not to
    be wrapped.
    """
    with temporary_folder() as empty:
        assets = _assets(site, template, entries)
        config = _config(site, into, template, docs=empty)
        config.extra_css = [path for path in assets if path.endswith(".css")]
        config.plugins["recapgen"] = _Pages(site, template, assets, kept)
        config.plugins.on_startup(command="build", dirty=False)
        build(config)
        config.plugins.on_shutdown()


class _Pages(BasePlugin):  # type: ignore[type-arg,no-untyped-call]  # it has no settings
    """Hands our pages and files to MkDocs and takes everything else away."""

    def __init__(
        self,
        site: Site,
        template: Path,
        assets: dict[str, Path | str | bytes],
        kept: Collection[str],
    ) -> None:
        super().__init__()
        self._site = site
        self._template = template
        self._assets = assets
        self._kept = kept
        self._pages = {page.path: page for page in site.pages}

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        for page in self._site.pages:
            files.append(File.generated(config, _source(page), content=""))
        for path, kept in self._assets.items():
            file = (
                File.generated(config, path, content=kept)
                if isinstance(kept, (str, bytes))
                else File.generated(config, path, abs_src_path=str(kept))
            )
            files.append(file)
        return files

    def on_nav(self, nav: Navigation, *, config: MkDocsConfig, files: Files) -> Navigation:
        """The navigation is made: what was wrapped before need not be wrapped again."""
        del config
        for file in files.documentation_pages():
            if file.url in self._kept:
                files.remove(file)
        return nav

    def on_page_context(
        self, context: TemplateContext, *, page: WrappedPage, config: MkDocsConfig, nav: Navigation
    ) -> TemplateContext:
        """The body itself goes in last, when the skeleton's own scripts have been counted."""
        del config, nav
        page.content = Markup(_BODY)  # noqa: S704  (our own constant)
        page.meta["hide"] = ["toc"]
        body = self._pages[page.url].body
        needed = [path for path in self._assets if needs(body, path)]
        extra: dict[str, Any] = {
            "site": self._site,
            "line": self._pages[page.url].line,
            "kept": self._site.kind in KEPT,
            "told": self._site.kind is SiteKind.STUDENT,
            "sheets": [path for path in needed if path.endswith(".css")],
            "scripts": [path for path in needed if _is_script(path)],
            "say": words(self._site.language).say,
        }
        return {**context, **extra}  # type: ignore[typeddict-item]  # ours to see

    def on_post_page(self, output: str, *, page: WrappedPage, config: MkDocsConfig) -> str:
        del config
        if output.count(_BODY) != 1:
            raise ValueError("the template must put {{ page.content }} in once")
        body = self._pages[page.url].body
        if self._site.kind is SiteKind.BOOK and "<h1" not in body:
            body = f"<h1>{page.title}</h1>\n{body}"
        skeleton = _BLANKS.sub("\n", output)  # the theme indents a long navigation with spaces
        return guarded(skeleton, self._site.kind).replace(_BODY, body)


def _config(site: Site, into: Path, template: Path, docs: Path) -> MkDocsConfig:
    book = site.kind is SiteKind.BOOK
    folder = template / ("theme_book" if book else "theme")
    many = len(site.pages) > _SHOWN_AT_ONCE  # the contents then list only the section one is in
    known = (_LANGUAGES / f"{site.language}.html").is_file()
    config = MkDocsConfig()
    config.load_dict(
        {
            "site_name": escape(site.name) if book else site.name,
            "docs_dir": str(docs),
            "site_dir": str(into),
            "use_directory_urls": False,
            "nav": _navigation(site.pages, escaped=book),
            "plugins": [],
            "markdown_extensions": [],
            "extra": {"generator": False},
            "theme": {
                "name": "material",
                "custom_dir": str(folder),
                "language": site.language if known else "en",
                "font": False,
                "favicon": "assets/mark.svg",
                "features": ["navigation.prune" if many else "navigation.expand"],
            },
        }
    )
    errors, _ = config.validate()
    if errors:
        raise ValueError(f"MkDocs refuses its settings: {errors}")
    config.theme.static_templates = set()  # no 404 page, whose links start at the root; no sitemap
    _share_environment(config.theme, autoescape=not book)
    return config


def _navigation(pages: Iterable[Page], *, escaped: bool) -> list[dict[str, Any]]:
    """Pages by section, in the order given. The theme prints titles as they are."""
    shown = escape if escaped else str
    entries: list[dict[str, Any]] = []
    sections: dict[str, list[dict[str, str]]] = {}
    for page in pages:
        entry = {shown(page.title): _source(page)}
        if not page.section:
            entries.append(entry)
        elif page.section in sections:
            sections[page.section].append(entry)
        else:
            sections[page.section] = [entry]
            entries.append({shown(page.section): sections[page.section]})
    return entries


def _source(page: Page) -> str:
    return page.path.removesuffix(".html") + ".md"


def _assets(site: Site, template: Path, entries: Iterable[Entry]) -> dict[str, Path | str | bytes]:
    """What is copied beside the pages: published path -> file, or what stands in it."""
    book = site.kind is SiteKind.BOOK
    assets: dict[str, Path | str | bytes] = {
        f"assets/{file.name}": file
        for folder, pattern in _BESIDE[site.kind]
        for file in sorted((template / folder).glob(pattern))
    }
    script = _OWN_SCRIPT.get(site.kind, "film")
    assets[f"assets/{script}.js"] = joined_script(template, script)
    assets |= {path: packed(_text_of(asset)) for path, asset in assets.items() if _is_script(path)}
    if book:
        assets["assets/accent.css"] = accent_css(site.accent)
        assets["assets/book_index.js"] = book_index(entries)
    else:
        for name in fonts(template, site.language):
            assets[f"assets/{name}"] = template / "fonts" / name
        worn = sheet(template, site.language, site.accent, site.kind)
        assets[sheet_path(worn)] = worn
    assets |= {written.path: written.text.encode() for written in site.written}
    return assets | {asset.path: asset.source for asset in site.assets}


def _is_script(path: str) -> bool:
    return path.endswith(".js")


def _text_of(asset: Path | str | bytes) -> str:
    return asset.read_text("utf-8") if isinstance(asset, Path) else str(asset)


class _NamedFiles(jinja2.FileSystemLoader):
    """Templates from the theme's folders, of whose other files only a few are named.

    MkDocs copies every file of a theme that the loader lists; this theme lists 14,000.
    """

    def __init__(self, folders: Iterable[str], named: list[str]) -> None:
        super().__init__(list(folders))
        self._named = named

    def list_templates(self) -> list[str]:
        return self._named


@cache
def _environment(folders: tuple[str, ...], *, autoescape: bool) -> jinja2.Environment:
    """One for all sites of a kind: compiling the templates costs more than filling them."""
    theme = Theme(name="material", custom_dir=folders[0])
    environment = theme.get_env()
    environment.loader = _NamedFiles(folders, [] if autoescape else _theme_assets())
    environment.autoescape = autoescape
    environment.bytecode_cache = compiled_templates()
    if autoescape:
        environment.undefined = jinja2.StrictUndefined
    return environment


def _share_environment(theme: Theme, *, autoescape: bool) -> None:
    """The theme's own pages are written for no escaping; ours never go without."""
    shared = _environment(tuple(theme.dirs), autoescape=autoescape)
    theme.get_env = lambda: shared  # type: ignore[method-assign]  # asked once per build


@cache
def _theme_assets() -> list[str]:
    """The theme's stylesheet and script, without source maps, search and colour palette."""
    return sorted(
        file.relative_to(_THEME_FILES).as_posix()
        for pattern in ("main.*.min.css", "bundle.*.min.js")
        for file in (_THEME_FILES / "assets").rglob(pattern)
    )
