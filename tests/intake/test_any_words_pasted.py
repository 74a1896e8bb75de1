"""Whatever stands in a cell, a name or a note: the line that is offered is read as it was meant."""

import re
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from recapgen.intake.pasting import with_fixes
from recapgen.intake.text_file import is_hidden
from recapgen.intake.yaml_map import ListNode, MapNode, Node, Scalar, read_map
from recapgen.model.fix import Change, Put, Swap, Value, mended, one_of
from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef

FILE = SourceRef("coach.yml")
WORDS = st.one_of(
    st.text(st.characters(codec="utf-8"), min_size=1, max_size=300),
    st.text("'\"#:,[]{}&*!|>%@`\\-? \t~.=<🏌é÷\u3042\u0301\u202e\x00\x85\ufeff", min_size=1),
    st.sampled_from(("null", "~", "yes", "1e3", "- a", "? b", "a: b", "a #b", "---", "...", "<<")),
)
SHAPES = (
    None,
    "",
    "coach: Ines",
    "coach: Ines\ncolumns:\n",
    "coach: Ines\ncolumns:\n  Dist: carry\n\n# more\nunits: {speed: mph}\n",
    "columns: {Dist: carry}\ncoach: Ines\n",
    "columns: {}\n",
    "{coach: Ines}\n",
    "\ufeffcoach: Ines\r\ncolumns:\r\n    Dist: {is: carry}   # as told\r\n",
)


def seen(text: str) -> str:
    """What anybody can see of it, on one line."""
    line = re.sub(r"[\t\n\r\v\f\x85\u2028\u2029]", " ", text)
    return "".join(c for c in line if not is_hidden(c)).strip()


def after(text: str | None, change: Change) -> str | None:
    """The file with the fix made; None where none is offered."""
    with TemporaryDirectory() as folder:
        root = Path(folder)
        if text is not None:
            (root / FILE.file).write_text(text, "utf-8", newline="")
        offered = Problem(Code.KEY_UNKNOWN, FILE, offers=one_of([change]))
        (problem,) = with_fixes(root, [offered])
    plain = (text or "").removeprefix("\ufeff").replace("\r\n", "\n")
    return mended(plain, problem.fixes[0].edits) if problem.fixes else None


def plain(node: Node) -> Value:
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, ListNode):
        return tuple(plain(item) for item in node.items)
    return {entry.key: plain(entry.value) for entry in node.entries}


def under(text: str, *keys: str) -> Value:
    node: Node | None = read_map(text, FILE.file).value
    for key in keys:
        assert isinstance(node, MapNode)
        (node,) = (entry.value for entry in node.entries if entry.key == key)
    assert node is not None
    return plain(node)


@pytest.mark.parametrize("shape", SHAPES)
@given(heading=WORDS, unit=WORDS)
@example(heading='Carry "max" #1: [yd], {x}\\n', unit="'")
@settings(max_examples=25, deadline=None)
def test_a_key_and_its_value(shape: str | None, heading: str, unit: str) -> None:
    value = {"is": "carry", "unit": unit}
    made = after(shape, Put(FILE, ("columns", heading), value))
    if not seen(heading):
        return  # a heading that nobody can see has no line
    assert made is not None
    assert under(made, "columns", seen(heading)) == {"is": "carry", "unit": seen(unit)}
    before = read_map((shape or "").removeprefix("\ufeff").replace("\r\n", "\n"), FILE.file).value
    for entry in before.entries if before is not None else ():
        if entry.key != "columns":
            assert under(made, entry.key) == plain(entry.value)


@pytest.mark.parametrize(
    "line", ["intent: Hum", "intent: 'Hum'", "x: {intent: Hum, y: 1}", "x:\n  - Hum\n  - b"]
)
@given(words=WORDS)
@settings(max_examples=40, deadline=None)
def test_words_in_the_place_of_others(line: str, words: str) -> None:
    text = f"{line}  # kept\nz: 1\n"
    at = text.index("Hum") - (text[text.index("Hum") - 1] == "'")
    number, column = text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at)
    made = after(text, Swap(SourceRef(FILE.file, number, column), "Hum", words))
    if seen(words) in {"Hum", ""}:
        return
    assert made is not None
    assert made.endswith("# kept\nz: 1\n") or "- b  # kept" in made
    value = under(made)
    assert isinstance(value, dict)
    assert value["z"] == "1"
    inner = value.get("intent") or value["x"]
    told = inner["intent"] if isinstance(inner, dict) else inner
    assert (told[0] if isinstance(told, tuple) else told) == seen(words)
