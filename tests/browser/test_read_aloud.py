"""The order in which a screen reader tells each kind of page, as the browser's own tree has it.

``--golden-update`` keeps what came out.
"""

from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from tests.browser.kinds_of_pages import KINDS

pytestmark = pytest.mark.browser

STEPS = """[...document.querySelectorAll('h1, h2, h3, h4, h5, h6')]
    .filter(heading => heading.checkVisibility()).map(heading => +heading.tagName[1])"""
TOLD = 76  # letters of a name, enough to know it by
UNTOLD = frozenset({"InlineTextBox", "none", "generic", "LineBreak", "ListMarker"})
STATES = ("level", "expanded", "pressed", "disabled", "valuetext")
TEXT = "StaticText"
NAMED = frozenset(("image", "button", "link", "slider", "region", "textbox"))
TOLD_AS_ONE = frozenset({"image", "Date"})  # a date's own parts hold today's
NAMED_BY_WHAT_IS_IN_THEM = frozenset(
    ("link", "heading", "button", "DisclosureTriangle", "term", "columnheader", "rowheader")
)


@pytest.mark.parametrize("kind", KINDS)
def test_a_page_is_told_in_this_order(
    page: Page, every_kind: Path, golden: Callable[[str, str], None], kind: str
) -> None:
    """And, all folds open: pictures and keys have names, headings go down a step at a time."""
    page.goto((every_kind / KINDS[kind]).as_uri())
    aloud = "".join(f"{line}\n" for line in told(nodes_of(page)))
    page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
    assert list(nameless(nodes_of(page))) == []
    steps = page.evaluate(STEPS)
    assert steps.count(1) == 1
    assert steps[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(steps))
    golden(f"{kind}.aloud.txt", aloud)


def nodes_of(page: Page) -> list[dict[str, Any]]:
    """The browser's own tree of what it would tell."""
    session = page.context.new_cdp_session(page)
    nodes: list[dict[str, Any]] = session.send("Accessibility.getFullAXTree")["nodes"]
    session.detach()
    return nodes


def told(nodes: list[dict[str, Any]]) -> Iterator[str]:
    """A line for each thing that is told: its role, its name, its state."""
    known = {node["nodeId"]: node for node in nodes}

    def walk(node: dict[str, Any], depth: int, above: str) -> Iterator[str]:
        role, name = _value(node, "role"), _value(node, "name")
        silent = node.get("ignored") or role in UNTOLD or (role == TEXT and name in above)
        if not silent:
            yield "  " * depth + " ".join(filter(None, (role, _short(name), *_states(node))))
        if role in TOLD_AS_ONE and not silent:
            return
        if role in NAMED_BY_WHAT_IS_IN_THEM:
            above = name
        elif not silent:
            above = ""
        for child in node.get("childIds", ()):
            if child in known:
                yield from walk(known[child], depth + (not silent), above)

    yield from walk(nodes[0], 0, "")


def _value(node: dict[str, Any], key: str) -> str:
    return str(node.get(key, {}).get("value", "")).strip()


def _short(name: str) -> str:
    words = " ".join(name.split())
    return repr(words if len(words) <= TOLD else f"{words[:TOLD]}…") if words else ""


def _states(node: dict[str, Any]) -> Iterator[str]:
    for state in node.get("properties", ()):
        value = state["value"].get("value")
        if state["name"] in STATES and value not in (None, "", False):
            yield f"{state['name']}={value}"


def nameless(nodes: list[dict[str, Any]]) -> Iterator[str]:
    """What should be told by a name and has none."""
    for node in nodes:
        role = _value(node, "role")
        if role in NAMED and not node.get("ignored") and not _value(node, "name"):
            yield role
