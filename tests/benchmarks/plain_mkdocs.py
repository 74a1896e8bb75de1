"""The same finished bodies wrapped by MkDocs as it comes: what the site builder is measured by.

Both get the same bodies, read back from a built folder, the same theme and the same templates.
MkDocs gets the rest of the folder as files to copy, and what our templates ask for beside the
body worked out beforehand.
"""

import re
import time
from collections.abc import Mapping
from html import unescape
from pathlib import Path
from typing import Any

import yaml
from markupsafe import Markup
from mkdocs.commands.build import build
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import BasePlugin
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page as WrappedPage
from mkdocs.utils.templates import TemplateContext

from recapgen.model.page import Asset, Page, Site, SiteKind
from recapgen.publish.page_styles import needs
from recapgen.publish.site_builder import build_site
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words

_TITLE = re.compile(r"<title>(.*?)</title>", re.DOTALL)
_BODY = {
    SiteKind.STUDENT: re.compile(r"<body>\n(.*)\n</body>", re.DOTALL),
    SiteKind.BOOK: re.compile(
        r'<div id="book-page" tabindex="-1">\n(.*)\n</div>\n</article>', re.DOTALL
    ),
}
_THEMES = {SiteKind.STUDENT: "theme", SiteKind.BOOK: "theme_book"}


def site_in(folder: Path, kind: SiteKind) -> Site:
    """A built folder as what it was built from: titles, bodies, and the files beside them."""
    pages, files = [], []
    for file in sorted(folder.rglob("*")):
        path = file.relative_to(folder).as_posix()
        if page := _page(file, path, kind):
            pages.append(page)
        elif file.is_file() and not path.startswith(("assets/", "handbook/")):
            files.append(Asset(path, file))
    assert len(pages) > 1
    pages.sort(key=lambda page: page.path != "index.html")
    return Site(kind, "Ab of many lessons", "en", tuple(pages), tuple(files), "#9c4221")


def _page(file: Path, path: str, kind: SiteKind) -> Page | None:
    """None of a sheet to print, which is written as it stands."""
    if file.suffix != ".html" or "/" in path:
        return None
    html = file.read_text("utf-8")
    title, body = _TITLE.search(html), _BODY[kind].search(html)
    if title is None or body is None:
        return None
    return Page(path, unescape(title[1]).partition(" · ")[0], body[1])


def built_by_us_s(site: Site, into: Path) -> float:
    """Processor seconds of our builder; ``into`` is made."""
    into.mkdir()
    began = time.process_time()
    build_site(site, into, template_folder())
    return time.process_time() - began


def wrapped_s(site: Site, built: Path, into: Path) -> float:
    """Processor seconds of MkDocs as it comes; ``built`` is the folder that ours came to."""
    docs, out = into / "docs", into / "out"
    docs.mkdir(parents=True)
    for page in site.pages:
        title = yaml.safe_dump({"title": page.title, "hide": ["toc"]}, allow_unicode=True)
        (docs / _source(page)).write_text(f"---\n{title}---\n", "utf-8")
    pages = {page.path for page in site.pages}
    for file in built.rglob("*"):
        at = docs / file.relative_to(built)
        if file.is_file() and file.relative_to(built).as_posix() not in pages:
            at.parent.mkdir(parents=True, exist_ok=True)
            at.write_bytes(file.read_bytes())
    asked = {page.path: _asked_for(site, page, built) for page in site.pages}
    began = time.process_time()
    config = _config(site, docs, out)
    config.plugins["bodies"] = _Bodies({page.path: page.body for page in site.pages}, asked)
    build(config)
    took_s = time.process_time() - began
    for page in site.pages:
        assert page.body in (out / page.path).read_text("utf-8")
    return took_s


def _source(page: Page) -> str:
    return page.path.removesuffix(".html") + ".md"


def _asked_for(site: Site, page: Page, built: Path) -> dict[str, Any]:
    """What our templates fill in beside the body."""
    beside = sorted(p.relative_to(built).as_posix() for p in built.glob("assets/*.*"))
    return {
        "site": site,
        "kept": site.kind is SiteKind.STUDENT,
        "sheets": [path for path in beside if path.endswith(".css")],
        "scripts": [path for path in beside if path.endswith(".js") and needs(page.body, path)],
        "say": words(site.language).say,
    }


def _config(site: Site, docs: Path, out: Path) -> MkDocsConfig:
    config = MkDocsConfig()
    config.load_dict(
        {
            "site_name": site.name,
            "docs_dir": str(docs),
            "site_dir": str(out),
            "use_directory_urls": False,
            "nav": [{page.title: _source(page)} for page in site.pages],
            "plugins": [],
            "markdown_extensions": [],
            "extra": {"generator": False},
            "theme": {
                "name": "material",
                "custom_dir": str(template_folder() / _THEMES[site.kind]),
                "font": False,
                "favicon": "assets/mark.svg",
                "features": ["navigation.prune"],
            },
        }
    )
    errors, _ = config.validate()
    assert errors == []
    config.theme.static_templates = set()  # a page for what is not found would need our words
    return config


class _Bodies(BasePlugin):  # type: ignore[type-arg,no-untyped-call]  # it has no settings
    """Puts the finished bodies where MkDocs would put what it made of Markdown."""

    def __init__(self, bodies: Mapping[str, str], asked: Mapping[str, Mapping[str, Any]]) -> None:
        super().__init__()
        self._bodies, self._asked = bodies, asked

    def on_page_context(
        self, context: TemplateContext, *, page: WrappedPage, config: MkDocsConfig, nav: Navigation
    ) -> TemplateContext:
        del config, nav
        page.content = Markup(self._bodies[page.url])  # noqa: S704 - finished when it came
        return {**context, **self._asked[page.url]}  # type: ignore[typeddict-item]
