"""A sign, a rounding, a sentence's key, an address and a front page: each made in one place."""

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

HOUSE = Path(__file__).parents[2] / "recapgen"
TELLING = ("words", "care", "recap", "book", "render", "console.py", "app", "privacy")
DRAWING = ("render/charts/",)  # rounds pixels
CATALOGUE = "words/catalogue.py"
FRONT = re.compile(r"index\.html(?!\.jinja)")  # a template may be named after the page it fills


def test_a_number_that_people_read_is_rounded_in_one_place() -> None:
    """``round`` takes 2.5 for 2, and would tell 82 where the page beside it tells 83."""
    found = [
        where
        for where, node in _nodes()
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "round"
        and not where.startswith(("render/diary.py", *DRAWING))  # diary asks if it is whole
    ]
    assert found == []


def test_the_minus_is_stated_once() -> None:
    found = {
        where.partition(":")[0]
        for where, node in _nodes()
        if isinstance(node, ast.Constant) and node.value == "−"
    }
    assert found == {CATALOGUE}


def test_a_members_name_becomes_a_key_in_one_place() -> None:
    found = {
        where.partition(":")[0]
        for where, node in _nodes()
        if isinstance(node, ast.Attribute)
        and node.attr == "lower"
        and isinstance(node.value, ast.Attribute)
        and node.value.attr == "name"
        and not where.startswith("app/destination.py")  # a file's name
    }
    assert found == set()


def test_a_page_of_site_is_addressed_in_one_place() -> None:
    found = [
        where
        for where, node in _nodes()
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and node.value.startswith(("/cases/", "cases/"))
    ]
    assert found == []


def test_a_folders_front_page_is_named_in_one_place() -> None:
    """``FRONT_PAGE``: a name written out would not follow, and a link to it would lead nowhere."""
    nodes = list(_nodes_of(HOUSE.rglob("*.py")))
    docstrings = {id(node.value) for _, node in nodes if isinstance(node, ast.Expr)}
    found = [
        where.partition(":")[0]
        for where, node in nodes
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and id(node) not in docstrings
        and FRONT.search(node.value)
    ]
    assert found == ["model/public.py"]


def _nodes() -> Iterator[tuple[str, ast.AST]]:
    """Each node of the rooms that write what people read, as ``_nodes_of`` gives it."""
    return _nodes_of(
        path
        for path in HOUSE.rglob("*.py")
        if path.relative_to(HOUSE).as_posix().split("/")[0] in TELLING
    )


def _nodes_of(modules: Iterable[Path]) -> Iterator[tuple[str, ast.AST]]:
    """Each node of the syntax trees of ``modules``, with "room/module.py:line"."""
    for path in sorted(modules):
        shown = path.relative_to(HOUSE).as_posix()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            yield f"{shown}:{getattr(node, 'lineno', 0)}", node
