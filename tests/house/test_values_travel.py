"""No room takes apart what another wrote as text: the facts of problems and notes are values."""

import ast
from collections.abc import Iterator
from pathlib import Path

HOUSE = Path(__file__).parents[2] / "recapgen"
TAKES_APART = frozenset(
    {"split", "rsplit", "partition", "rpartition", "startswith", "endswith", "removeprefix"}
)
READS_BACK = frozenset({"float", "int", "fromisoformat"})


def test_no_fact_is_taken_apart_or_read_back() -> None:
    found = [
        f"{path.relative_to(HOUSE)}:{call.lineno}"
        for path in sorted(HOUSE.rglob("*.py"))
        for call in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(call, ast.Call) and any(_is_fact(part) for part in _worked_on(call))
    ]
    assert found == []


def test_a_fact_read_back_would_be_seen() -> None:
    for line in ('problem.facts["heard"].split(",")', 'float(note.facts["usual"])'):
        (call,) = (node for node in ast.walk(ast.parse(line)) if isinstance(node, ast.Call))
        assert any(_is_fact(part) for part in _worked_on(call))


def _worked_on(call: ast.Call) -> Iterator[ast.expr]:
    """What a call takes apart, or reads back into a value."""
    match call.func:
        case ast.Attribute(value, name) if name in TAKES_APART:
            yield value
        case ast.Attribute(_, name) | ast.Name(name) if name in READS_BACK:
            yield from call.args


def _is_fact(part: ast.expr) -> bool:
    """Whether ``part`` looks a fact up, however it is dressed: ``str(p.facts["day"])``."""
    return any(
        isinstance(node, (ast.Attribute, ast.Name))
        and (node.attr if isinstance(node, ast.Attribute) else node.id) == "facts"
        for node in ast.walk(part)
    )
