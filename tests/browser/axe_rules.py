"""The rules of axe-core, held against pages at every width."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import product
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, Page

Scheme = Literal["light", "dark"]
Look = tuple[int, Scheme]
EVERY_LOOK: tuple[Look, ...] = tuple(product((320, 390, 768, 1200), ("light", "dark")))
BOTH_ENDS: tuple[Look, ...] = ((320, "light"), (1200, "dark"))
OPEN_ALL = "document.querySelectorAll('details').forEach(fold => { fold.open = true })"

_AXE = Path(__file__).parents[2] / ".venv" / "browser" / "node_modules" / "axe-core" / "axe.min.js"
_RULES = """async only => (await axe.run(document, {
    resultTypes: ['violations'],
    ...(only.length ? { runOnly: { type: 'rule', values: only } } : {}),
})).violations.map(
    found => `${found.id}: ${found.nodes.map(node => node.html.slice(0, 120)).join(' | ')}`)"""
# What a width or a scheme can change; all other rules read what is written.
_OF_THE_LOOK = ("color-contrast", "link-in-text-block", "scrollable-region-focusable")


@contextmanager
def page_for_axe(browser: Browser) -> Iterator[Page]:
    """A page that lets axe in, which is no part of what is published; else the test is skipped."""
    if not _AXE.is_file():
        pytest.skip("no axe-core here")
    context = browser.new_context(bypass_csp=True, reduced_motion="reduce")
    yield context.new_page()
    context.close()


def let_in(page: Page) -> None:
    """Let axe into the page that is open."""
    page.evaluate(_AXE.read_text(encoding="utf-8"))


def violations(page: Page, only: Sequence[str] = ()) -> list[str]:
    """What axe finds on the page as it stands, by all rules or some: the rule and where."""
    found: list[str] = page.evaluate(_RULES, list(only))
    return found


def violations_in(page: Page, paths: list[Path], looks: Sequence[Look]) -> list[str]:
    """What axe finds on each of the pages with all folds open.

    Each page is held against all rules in one of the looks, in turn, and in the others against
    those whose answer a look can change: axe takes longer than all else here.
    """
    told = []
    for at, path in enumerate(paths):
        page.goto(path.as_uri())
        page.evaluate(OPEN_ALL)
        let_in(page)
        for width, scheme in looks:
            page.set_viewport_size({"width": width, "height": 800})
            page.emulate_media(color_scheme=scheme)
            only = () if (width, scheme) == looks[at % len(looks)] else _OF_THE_LOOK
            told += [f"{path.name} {width} {scheme}: {found}" for found in violations(page, only)]
    return told
