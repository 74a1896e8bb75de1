"""notes.md to the letter, and where in it every key and value stands."""

import hashlib
from itertools import accumulate
from pathlib import Path

import yaml

from recapgen.intake.clip_directions import SPELT_WITHIN_A_CLIP
from recapgen.intake.clip_list import CLIP_KEYS
from recapgen.intake.front_matter import bounds
from recapgen.intake.notes import KEYS, KNOWN
from recapgen.intake.practice_plan import PLAN_KEYS
from recapgen.intake.spelling import Spelling
from recapgen.intake.table.cell_words import block_named
from recapgen.intake.text_file import marked, one_line_end
from recapgen.intake.yaml_change import Tree, end_of, tree_of
from recapgen.intake.yaml_map import plain_key
from recapgen.model.worksheet import NotesText, Written, WrittenPart, WrittenValue

_ANYTHING = Spelling((), {})
_WITHIN = {
    "": KEYS,
    "clips": CLIP_KEYS,
    "practice": PLAN_KEYS,
    **{f"clips {key}": known for key, known in SPELT_WITHIN_A_CLIP.items()},
}


def notes_as_typed(path: Path) -> NotesText | None:
    """The file's text; None where it cannot be read, or is no text. Raises OSError."""
    return typed_in(path.read_bytes())


def typed_in(data: bytes) -> NotesText | None:
    """The same of the bytes of a file."""
    mark, encoding = marked(data)
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        return None
    digest = digest_of_notes(data)
    told = one_line_end(text.removeprefix("\ufeff"))
    found = bounds(told, KNOWN)
    at = _Places(text, skipped=1 if mark else 0)
    if found is None:
        return NotesText(text, digest, encoding)
    tree = tree_of(told, *found)
    if tree is None:
        return NotesText(text, digest, encoding)
    keys = _value(tree, tree.root, "", at) if tree.root is not None else None
    nothing = WrittenValue(Written.MAP, at[found[1]], at[found[1]], inline=False)
    return NotesText(text, digest, encoding, keys or nothing, at[found[1]])


def digest_of_notes(data: bytes) -> str:
    """By which a page knows the very bytes that it was made of."""
    return hashlib.sha256(data).hexdigest()


class _Places:
    """Where a character of the text with every line end as one newline stands in the file's text.

    ``skipped`` is how many signs stand before the text itself.
    """

    def __init__(self, text: str, skipped: int) -> None:
        kept = [
            2 if ord(character) > 0xFFFF else 1  # noqa: PLR2004 - a script counts these twice
            for character in text
        ]
        starts = [0, *accumulate(kept)]
        self._at = [
            place
            for n, place in enumerate(starts)
            if n >= skipped and text[max(n - 1, 0) : n + 1] != "\r\n"
        ]

    def __getitem__(self, place: int) -> int:
        return self._at[place]


def _value(tree: Tree, node: yaml.Node, path: str, at: _Places) -> WrittenValue:
    first, last = tree.begin + node.start_mark.index, end_of(tree, node)
    parts: tuple[WrittenPart, ...] = ()
    if isinstance(node, yaml.MappingNode):
        kind = Written.MAP
        parts = tuple(_entry(tree, key, value, path, at) for key, value in node.value)
    elif isinstance(node, yaml.SequenceNode):
        kind = Written.LIST
        parts = tuple(
            WrittenPart("", at[tree.begin + item.start_mark.index], _value(tree, item, path, at))
            for item in node.value
        )
    else:
        kind = Written.TEXT
    inline = not isinstance(node, yaml.CollectionNode) or bool(node.flow_style)
    return WrittenValue(kind, at[first], at[last], inline, node.start_mark.column, parts)


def _entry(tree: Tree, key: yaml.Node, value: yaml.Node, path: str, at: _Places) -> WrittenPart:
    typed = key.value if isinstance(key, yaml.ScalarNode) else ""
    name = _called(typed, path)
    first = at[tree.begin + key.start_mark.index]
    return WrittenPart(name, first, _value(tree, value, f"{path} {name}".strip(), at))


def _called(typed: str, path: str) -> str:
    """A key as the house spells it."""
    if path == "shots":
        block = block_named(typed)
        return typed if block is None else block.value
    return _WITHIN.get(path, _ANYTHING).key(plain_key(typed)) or typed
