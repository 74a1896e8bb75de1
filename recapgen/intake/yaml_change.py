"""Changes to keys and values in the text that the coach typed: what stays, stays as it was."""

from collections.abc import Iterator

import yaml
from msgspec import Struct

from recapgen.intake.phone_typing import as_meant
from recapgen.intake.yaml_map import plain_key
from recapgen.intake.yaml_words import in_line, on_lines, scalar
from recapgen.model.fix import Value


class Splice(Struct, frozen=True):
    """``text[first:last]`` becomes ``new``."""

    first: int
    last: int
    new: str


class Tree(Struct, frozen=True):
    """The nodes of ``text`` from the character ``begin`` on; ``root`` is None where it has none."""

    text: str
    begin: int
    end: int
    root: yaml.Node | None


def tree_of(text: str, begin: int, end: int) -> Tree | None:
    """None where YAML cannot read it."""
    try:
        root = yaml.compose(as_meant(text[begin:end]), Loader=yaml.SafeLoader)
    except (yaml.YAMLError, ValueError, RecursionError):
        return None
    return Tree(text, begin, end, root)


def put(tree: Tree, at: int | None, keys: tuple[str, ...], value: Value) -> Splice | None:
    """``value`` under ``keys`` of the mapping at the character ``at``, or of the whole."""
    node = _beginning_at(tree, at)
    if node is None or _empty(node):
        return None if at is not None else _at_the_end(tree, on_lines(keys, value, 0))
    if isinstance(node, yaml.ScalarNode) and at is not None:  # a bare item is short for its file
        whole = {"file": node.value, keys[0]: value}
        return Splice(*_span(tree, node), in_line(whole)) if len(keys) == 1 else None
    while isinstance(node, yaml.MappingNode):
        entry = next((e for e in node.value if _is(e[0], keys[0])), None)
        if entry is None:
            return _insert(tree, node, keys, value)
        node, keys = entry[1], keys[1:]
        if not keys:
            return _replace(tree, entry, value)
        if _empty(node):
            indent = entry[0].start_mark.column + 2
            line_end = _line_end(tree, tree.begin + entry[0].end_mark.index)
            return Splice(line_end, line_end, _lines(on_lines(keys, value, indent)))
    return None


def add(tree: Tree, at: int | None, keys: tuple[str, ...], item: Value) -> Splice | None:
    """``item`` behind the last of the list under ``keys``; a list of one where there is none."""
    node = _below(_beginning_at(tree, at), keys)
    if node is None or _empty(node):
        return put(tree, at, keys, (item,))
    if not isinstance(node, yaml.SequenceNode):
        return None
    if node.flow_style:
        end = tree.begin + node.end_mark.index - 1
        last = end_of(tree, node.value[-1]) if node.value else end
        return Splice(last, end, f", {in_line(item)}" if node.value else in_line(item))
    line_end = _line_end(tree, end_of(tree, node.value[-1]))
    return Splice(line_end, line_end, f"\n{' ' * node.start_mark.column}- {in_line(item)}")


def swap(tree: Tree, at: int, old: str | None, new: Value) -> Splice | None:
    """The value or key that begins at ``at`` and reads ``old``, quotes and all."""
    if old is None:
        return _all_of(tree, at, new)
    for node in _all(tree.root):
        here = isinstance(node, yaml.ScalarNode) and tree.begin + node.start_mark.index == at
        if here and node.value.strip() == old.strip() and not _empty(node):
            return Splice(*_span(tree, node), in_line(new))
    return None


def _all_of(tree: Tree, at: int, new: Value) -> Splice | None:
    """Whatever value begins at ``at``."""
    for node in _all(tree.root):
        if isinstance(node, yaml.MappingNode):
            for key, value in node.value:
                if tree.begin + value.start_mark.index == at:
                    return _replace(tree, (key, value), new)
    item = _beginning_at(tree, at)
    return None if item is None else Splice(*_span(tree, item), in_line(new))


def cut(tree: Tree, at: int) -> Splice | None:
    """The entry or item that begins at ``at``, with the comma or the lines that go with it."""
    for node in _all(tree.root):
        if isinstance(node, yaml.CollectionNode):
            parts = [(e, e) if isinstance(e, yaml.Node) else e for e in node.value]
            for n, (first, _) in enumerate(parts):
                if tree.begin + first.start_mark.index == at:
                    return _without(tree, node, parts, n)
    return None


KeyAndValue = tuple[yaml.Node, yaml.Node]


def _without(tree: Tree, node: yaml.Node, parts: list[KeyAndValue], n: int) -> Splice | None:
    begin = tree.begin + parts[n][0].start_mark.index
    end = end_of(tree, parts[n][1])
    if _flow(node):
        if n + 1 < len(parts):
            return Splice(begin, tree.begin + parts[n + 1][0].start_mark.index, "")
        return Splice(end_of(tree, parts[n - 1][1]) if n else begin, end, "")
    line = tree.text.rfind("\n", 0, begin) + 1
    before = tree.text[line:begin].strip()
    if before not in ("", "-") or (before and isinstance(node, yaml.MappingNode)):
        return None  # the dash of an item stands before its first key
    return Splice(line, min(_line_end(tree, end) + 1, len(tree.text)), "")


def _insert(tree: Tree, node: yaml.MappingNode, keys: tuple[str, ...], value: Value) -> Splice:
    """A key that is new in ``node``, after its last."""
    if _flow(node):
        end = tree.begin + node.end_mark.index - 1
        last = end_of(tree, node.value[-1][1]) if node.value else end
        nested: Value = value
        for key in reversed(keys[1:]):
            nested = {key: nested}
        entry = f"{scalar(keys[0])}: {in_line(nested)}"
        return Splice(last, end, f", {entry}" if node.value else entry)
    indent = node.start_mark.column
    if node is tree.root and not node.value:
        return _at_the_end(tree, on_lines(keys, value, indent))
    line_end = _line_end(tree, end_of(tree, node.value[-1][1]))
    return Splice(line_end, line_end, _lines(on_lines(keys, value, indent)))


def _replace(tree: Tree, entry: KeyAndValue, value: Value) -> Splice:
    key, node = entry
    begin, end = tree.begin + node.start_mark.index, end_of(tree, node)
    if _empty(node):
        return Splice(begin, begin, f" {in_line(value)}")
    if isinstance(node, yaml.CollectionNode) and not _flow(node):
        begin = tree.text.index(":", tree.begin + key.end_mark.index) + 1
        return Splice(begin, end, f" {in_line(value)}")
    return Splice(begin, end, in_line(value))


def _at_the_end(tree: Tree, lines: list[str]) -> Splice:
    """New lines at the end of all keys, each ended."""
    lead = "" if tree.end == 0 or tree.text[tree.end - 1] == "\n" else "\n"
    return Splice(tree.end, tree.end, lead + "".join(f"{line}\n" for line in lines))


def _lines(lines: list[str]) -> str:
    """New lines below the end of a line."""
    return "".join(f"\n{line}" for line in lines)


def _beginning_at(tree: Tree, at: int | None) -> yaml.Node | None:
    """The outermost node that begins at ``at``; the root without it."""
    if at is None:
        return tree.root
    return next((n for n in _all(tree.root) if tree.begin + n.start_mark.index == at), None)


def _below(node: yaml.Node | None, keys: tuple[str, ...]) -> yaml.Node | None:
    """What stands under ``keys``."""
    if not keys or not isinstance(node, yaml.MappingNode):
        return None if keys else node
    below = next((value for name, value in node.value if _is(name, keys[0])), None)
    return _below(below, keys[1:])


def _all(node: yaml.Node | None) -> Iterator[yaml.Node]:
    """Every node, the outer before the inner."""
    if node is not None:
        yield node
    if isinstance(node, yaml.CollectionNode):
        for part in node.value:
            for inner in (part,) if isinstance(part, yaml.Node) else part:
                yield from _all(inner)


def _is(node: yaml.Node, key: str) -> bool:
    return isinstance(node, yaml.ScalarNode) and (
        node.value == key or plain_key(node.value) == plain_key(key)
    )


def _empty(node: yaml.Node) -> bool:
    return isinstance(node, yaml.ScalarNode) and not node.value and node.style is None


def _flow(node: yaml.Node) -> bool:
    return isinstance(node, yaml.CollectionNode) and bool(node.flow_style)


def _span(tree: Tree, node: yaml.Node) -> tuple[int, int]:
    return tree.begin + node.start_mark.index, end_of(tree, node)


def end_of(tree: Tree, node: yaml.Node) -> int:
    """Where the node's last sign ends; YAML's own end is after the blank lines below."""
    if isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
        last = node.value[-1]
        return end_of(tree, last if isinstance(last, yaml.Node) else last[1])
    end = tree.begin + node.end_mark.index
    begin = tree.begin + node.start_mark.index
    return begin + len(tree.text[begin:end].rstrip())


def _line_end(tree: Tree, at: int) -> int:
    found = tree.text.find("\n", at)
    return len(tree.text) if found < 0 else found
