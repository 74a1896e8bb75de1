"""The keys that a mapping may have, however a coach spelt them, and which one a word stands for."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.keys_abroad import in_english
from recapgen.intake.near_words import nearest
from recapgen.intake.yaml_map import ListNode, MapEntry, MapNode, Node, Scalar, plain_key
from recapgen.model.fix import Edit, one_of
from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef


class Spelling(Struct, frozen=True):
    """The keys that a mapping may have, and the other ways in which each may be spelt."""

    keys: tuple[str, ...]
    variants: Mapping[str, str]

    def key(self, name: str) -> str | None:
        return name if name in self.keys else self.variants.get(name)

    @property
    def names(self) -> tuple[str, ...]:
        return (*self.keys, *self.variants)

    def nearest(self, name: str) -> str | None:
        near = nearest(name, self.names)
        return None if near is None else self.variants.get(near, near)


def spelling(*keys: str, **variants: str) -> Spelling:
    """``spelling("feels like", feel="feels like")``; "_" in a variant stands for a space."""
    return Spelling(keys, {plain_key(variant): key for variant, key in variants.items()})


def from_abroad(
    entries: Iterable[MapEntry], known: Spelling
) -> Mapping[SourceRef, tuple[str, ...]]:
    """For each entry with a key in another language the English keys that it may be.

    The likeliest is first; there is none where all that it could be is there already. A word
    may mean several ("Ziel" is an intent or what is wanted): those that mean one are settled
    first, so that no key is offered twice.
    """
    told = tuple(entries)
    taken = {key for entry in told if (key := known.key(entry.name)) is not None}
    likely: set[str] = set()
    found: dict[SourceRef, tuple[str, ...]] = {}
    words = [(entry, in_english(entry.name, known.keys)) for entry in told]
    foreign = [(e, meant) for e, meant in words if meant and known.key(e.name) is None]
    for entry, meant in sorted(foreign, key=lambda each: len(each[1])):
        free = sorted((key for key in meant if key not in taken), key=likely.__contains__)
        found[entry.where] = tuple(free)
        taken.update(free if len(free) == 1 else ())
        likely.update(free[:1])
    return found


def with_colons(
    problems: Iterable[Problem], lines: Sequence[str], names: Iterable[str]
) -> Iterator[Problem]:
    """The problems; a line that begins with a key and no colon ("Coach Nora") offers it with one.

    ``lines`` are those of the whole file, ``names`` what keys may be called, in plain form.
    """
    known = sorted(names, key=len, reverse=True)
    for problem in problems:
        number = problem.where.line or 0
        line = lines[number - 1] if 0 < number <= len(lines) else ""
        whole = _with_colon(line, known) if problem.code is Code.NOT_KEYS else None
        if whole is None or any(offer.changes for offer in problem.offers):
            yield problem
        else:
            edit = Edit(problem.where.file, number, number, (whole,))
            yield replace(problem, offers=one_of([edit]))


def _with_colon(line: str, known: Iterable[str]) -> str | None:
    words = line.split()
    for name in known:
        length = len(name.split())
        if len(words) > length and plain_key(" ".join(words[:length])) == name:
            return f"{line[: len(line) - len(line.lstrip())]}{name}: {' '.join(words[length:])}"
    return None


def together(first: MapEntry, again: MapEntry) -> MapEntry | None:
    """Two entries of one key as one, as two pasted fixes make them.

    The same value twice is that value; two mappings are one where what they share is the same,
    and so are two lists of files (the clips) line by line. None where they differ.
    """
    one, other = first.value, again.value
    if _plain(one) == _plain(other):
        return first
    if isinstance(one, ListNode) and isinstance(other, ListNode):
        lines = _files_together(one, other)
        return None if lines is None else replace(first, value=replace(one, items=lines))
    if not (isinstance(one, MapNode) and isinstance(other, MapNode)):
        return None
    entries = {entry.name: entry for entry in one.entries}
    for entry in other.entries:
        here = entries.get(entry.name, entry)
        both = entry if here is entry else together(here, entry)
        if both is None:
            return None
        entries[entry.name] = both
    return replace(first, value=replace(one, entries=tuple(entries.values())))


def _files_together(one: ListNode, other: ListNode) -> tuple[Node, ...] | None:
    """The lines of two lists that tell of files, each file once."""
    by_file: dict[str, MapEntry] = {}
    for listed in (one, other):
        named = [(_file_named(item), MapEntry("", item.where, item)) for item in listed.items]
        names = [name for name, _ in named if name is not None]
        if len(set(names)) < len(named):
            return None
        for name, line in zip(names, (line for _, line in named), strict=True):
            both = together(by_file[name], line) if name in by_file else line
            if both is None:
                return None
            by_file[name] = both
    return tuple(line.value for line in by_file.values())


def _file_named(item: Node) -> str | None:
    entries = item.entries if isinstance(item, MapNode) else ()
    files = [entry.value for entry in entries if entry.name == "file"]
    return files[0].text if len(files) == 1 and isinstance(files[0], Scalar) else None


def _plain(node: Node) -> object:
    """What a value says, wherever it stands."""
    if isinstance(node, Scalar):
        return node.text, node.empty, node.dropped
    if isinstance(node, ListNode):
        return [_plain(item) for item in node.items]
    return {entry.name: _plain(entry.value) for entry in node.entries}
