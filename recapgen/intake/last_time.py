"""``as last time``: a key of the notes that holds what the lesson before it says."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.folder import EarlierNotes, LessonPaths
from recapgen.intake.front_matter import split
from recapgen.intake.phone_typing import as_meant
from recapgen.intake.spelling import Spelling
from recapgen.intake.text_file import file_of, read_text
from recapgen.intake.yaml_map import ListNode, MapEntry, MapNode, Node, Scalar, brief, plain_key
from recapgen.model.filled import FilledFrom, FilledKey
from recapgen.model.fix import Cut, Value, one_of
from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef

_WORDS = frozenset(
    map(plain_key, (
        "as last time", "same as last time", "like last time", "as before", "as last lesson",
        "wie letztes Mal", "wie beim letzten Mal", "comme la dernière fois",
        "como la última vez", "前回と同じ", "지난번과 같음", "지난번처럼",
    ))
)  # fmt: skip
# What belongs to one day's balls and files alone.
_OF_ITS_DAY = frozenset({
    "shots", "files", "left out", "mishits", "readings", "clips", "chosen", "case", "student says",
})  # fmt: skip


class FilledNotes(Struct, frozen=True):
    """The keys with what they take over put in, and which they were."""

    keyed: MapNode
    filled: tuple[FilledKey, ...]
    problems: tuple[Problem, ...]


class SaidBefore(Struct, frozen=True):
    """What the notes of an earlier lesson say under a key, as they were typed, and its day."""

    value: Value
    on: date


def says_last_time(notes: Path) -> bool:
    """Whether these notes may take anything over; they rest on the earlier ones then.

    Rather once too often: the words may be written in another encoding, or with escapes.
    """
    try:
        written = notes.read_bytes()
    except OSError:
        return False
    if b"\0" in written or b"\\" in written:
        return True
    text = plain_key(as_meant(written.decode("utf-8", "replace")))
    return any(words in text for words in _WORDS)


def with_last_time(
    keyed: MapNode, root: Path, paths: LessonPaths, keys: Spelling, known: frozenset[str]
) -> FilledNotes:
    """``keyed`` with every "as last time" in it, below a key too, replaced by what that was.

    What is found there is reported at the words "as last time": a fault of it is a fault here too.
    """
    wanted = list(_asking(keyed, keys, ()))
    if not wanted:
        return FilledNotes(keyed, (), ())
    earlier = [(each, _front(root, each, known)) for each in paths.earlier]
    filled: list[FilledKey] = []
    problems: list[Problem] = []
    found: dict[SourceRef, Node] = {}
    for path, entry in wanted:
        key = " ".join(path)
        node, day = _looked_up(path, earlier, keys)
        if path[0] in _OF_ITS_DAY:
            problems.append(_told(Code.LAST_TIME_UNFIT, entry, key))
        elif not earlier:
            problems.append(_told(Code.LAST_TIME_NONE, entry, key))
        elif node is None or day is None:
            problems.append(_told(Code.LAST_TIME_UNSAID, entry, key, day=str(earlier[0][0].on)))
        else:
            found[entry.where] = _moved_to(node, entry.value.where)
            filled.append(FilledKey(key, FilledFrom.LAST_TIME, day.on))
    return FilledNotes(
        _put_in(keyed, found, {w.where for _, w in wanted}), tuple(filled), tuple(problems)
    )


def _told(code: Code, entry: MapEntry, key: str, **facts: str) -> Problem:
    offers = one_of([Cut(entry.where)])
    return Problem(code, entry.where, {"key": brief(key), **facts}, offers=offers)


def _asking(
    node: MapNode, keys: Spelling, above: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], MapEntry]]:
    """Each entry that takes over, with the names of the keys down to it."""
    for entry in node.entries:
        name = entry.name if above else keys.key(entry.name) or entry.name
        path = (*above, name)
        if isinstance(entry.value, Scalar) and plain_key(entry.value.text) in _WORDS:
            yield path, entry
        elif isinstance(entry.value, MapNode):
            yield from _asking(entry.value, keys, path)


def _front(root: Path, paths: EarlierNotes, known: frozenset[str]) -> MapNode | None:
    """The keys of an earlier lesson; its faults are reported at their own places."""
    text, _ = read_text(root, paths.notes)
    front = None if text is None else split(text, file_of(root, paths.notes), known).value
    return None if front is None else front.keyed


def _looked_up(
    path: tuple[str, ...],
    earlier: Sequence[tuple[EarlierNotes, MapNode | None]],
    keys: Spelling,
) -> tuple[Node | None, EarlierNotes | None]:
    """What the lesson before says; where that says "as last time" too, the one before that."""
    for lesson, keyed in earlier:
        node = None if keyed is None else _below(keyed, path, keys)
        if isinstance(node, Scalar) and (node.empty or plain_key(node.text) in _WORDS):
            if node.empty:
                return None, None
            continue
        return node, lesson
    return None, None


def _below(keyed: MapNode, path: tuple[str, ...], keys: Spelling) -> Node | None:
    node: Node = keyed
    for depth, name in enumerate(path):
        if isinstance(node, Scalar) and depth and plain_key(node.text) in _WORDS:
            return node  # all of it was taken over there
        if not isinstance(node, MapNode):
            return None
        named = (e for e in node.entries if (e.name if depth else keys.key(e.name)) == name)
        entry = next(named, None)
        if entry is None:
            return None
        node = entry.value
    return node


def _moved_to(node: Node, where: SourceRef) -> Node:
    """The same values, each with ``where`` as its place."""
    if isinstance(node, Scalar):
        cut = None if node.cut is None else where
        return replace(node, where=where, cut=cut)
    if isinstance(node, ListNode):
        return ListNode(tuple(_moved_to(item, where) for item in node.items), where)
    entries = (MapEntry(e.key, where, _moved_to(e.value, where)) for e in node.entries)
    return MapNode(tuple(entries), where)


def _put_in(node: MapNode, found: dict[SourceRef, Node], asked: set[SourceRef]) -> MapNode:
    entries: list[MapEntry] = []
    for entry in node.entries:
        if entry.where in found:
            entries.append(replace(entry, value=found[entry.where]))
        elif entry.where in asked:
            continue
        elif isinstance(entry.value, MapNode):
            entries.append(replace(entry, value=_put_in(entry.value, found, asked)))
        else:
            entries.append(entry)
    return replace(node, entries=tuple(entries))


def said_last_time(
    root: Path, paths: LessonPaths, keys: Spelling, known: frozenset[str]
) -> Mapping[str, SaidBefore]:
    """What the lesson before says under each of its keys, "as last time" followed back.

    Without what belongs to that day's balls and files alone.
    """
    earlier = [(each, _front(root, each, known)) for each in paths.earlier]
    newest = earlier[0][1] if earlier else None
    told = (keys.key(entry.name) for entry in newest.entries) if newest is not None else ()
    said: dict[str, SaidBefore] = {}
    for key in told:
        node, day = _looked_up((key,), earlier, keys) if key else (None, None)
        if key is not None and key not in _OF_ITS_DAY and node is not None and day is not None:
            said[key] = SaidBefore(_value(node), day.on)
    return said


def _value(node: Node) -> Value:
    """What was typed, without its places."""
    if isinstance(node, Scalar):
        return node.text.strip()
    if isinstance(node, ListNode):
        return tuple(_value(item) for item in node.items)
    return {entry.key: _value(entry.value) for entry in node.entries}
