"""Offers become fixes: the very lines, with the coach's own around them, ready to paste."""

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from difflib import SequenceMatcher
from itertools import product, zip_longest
from pathlib import Path
from typing import TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.folder import named_file
from recapgen.intake.front_matter import bounds, split
from recapgen.intake.notes import KEYS, KNOWN
from recapgen.intake.text_file import lines_in
from recapgen.intake.yaml_change import Splice, Tree, add, cut, put, swap, tree_of
from recapgen.intake.yaml_map import ListNode, MapEntry, MapNode, Scalar, read_map
from recapgen.intake.yaml_words import comment, in_line, on_lines, scalar
from recapgen.model.fix import Add, Change, Cut, Edit, Fix, Offer, Put, Sureness, Swap, Value
from recapgen.model.naming import folded
from recapgen.model.notes_line import NotesPart, Said
from recapgen.model.problem import Problem
from recapgen.model.source import SourceRef

_FileLine: TypeAlias = tuple[str, int]
MOST_CHARACTERS = 1_000_000
MOST_WAYS = 6  # more lines to choose from are no help
_KEYS_ONLY = (".yml", ".yaml")
_KEYS_ABOVE_WORDS = ".md"
_FIRST_LINES = {"coach.yml": 'coach: ""\n', "student.yml": "name: {name}\n", "notes.md": ""}


def with_fixes(root: Path, problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems, each offer as the lines to paste into the files below ``root``.

    An offer that fits no line, or after which the file could not be read, is dropped: what is
    printed works. Whatever is certain of a line goes with every offer for it, and what is asked
    twice of a line is offered once with all answers, so that of two lines to paste in one place
    neither takes back the other.
    """
    met = tuple(problems)
    files, sure, told = _Files(root), _sure_of_lines(met), _asked_once(met)
    return tuple(
        replace(problem, offers=(), fixes=(*problem.fixes, *_fixes(files, problem, sure)))
        if problem.offers
        else problem
        for problem in told
    )


def begun(parts: Sequence[NotesPart], tell: Callable[[Said], str]) -> str:
    """The text of a notes.md of ``parts``; ``tell`` makes the sentence of a remark."""
    written = ["\n".join(_written(part, tell)) for part in parts]
    return "\n".join(("---", "\n\n".join(filter(None, written)), "---", ""))


def completed(text: str, parts: Sequence[NotesPart], tell: Callable[[Said], str]) -> str | None:
    """The notes ``text`` with what of ``parts`` was found and is not said there.

    Nothing that is there is touched; what is offered or open is left out. None where the keys
    of ``text`` cannot be read.
    """
    page = begun_page = _Page("notes.md", text).with_room_for_keys()
    front = split(page.text, "notes.md", KNOWN).value
    if bounds(page.text, KNOWN) is None or front is None or not front.whole:
        return None
    there = {KEYS.key(entry.name): entry for entry in front.keyed.entries}
    if "clips" in there:
        values = (line.value for part in parts for line in part.lines if line.key == "clips")
        items = (item for value in values for item in value if isinstance(item, Mapping))
        page = page.with_clips(there["clips"], items)
    new: list[str] = []
    for part in parts:
        lines = [each for each in part.lines if not each.offered and each.value != ""]
        missing = tuple(line for line in lines if line.key not in there)
        if missing:
            new += _written(replace(part, lines=missing), tell)
    if page == begun_page and not new:
        return text
    _, end = bounds(page.text, KNOWN) or (0, 0)
    lead = "" if not new or end == 0 or page.text[end - 1] == "\n" else "\n"
    return page.text[:end] + lead + "".join(f"{line}\n" for line in new) + page.text[end:]


def _written(part: NotesPart, tell: Callable[[Said], str]) -> Iterator[str]:
    """What is said, then the lines; those that are offered behind a "#"."""
    for said in part.said:
        yield from comment(tell(said))
    for line in part.lines:
        mark = "# " if line.offered else ""
        if line.value == "":
            yield f"{mark}{line.key}:"
            continue
        key, *items = on_lines((line.key,), line.value, 0)
        yield f"{mark}{key}"
        for item, told in zip_longest(items, line.beside, fillvalue=()):
            for said in told:
                yield from (f"  {mark}{each}" for each in comment(tell(said)))
            yield f"{mark}{item}"


def _fixes(
    files: "_Files", problem: Problem, sure: Mapping[_FileLine, list[Change]]
) -> Iterator[Fix]:
    for offer in problem.offers:
        lines = {_line_of(change) for change in offer.changes} - {None}
        also = [c for line in lines if line for c in sure.get(line, ()) if c not in offer.changes]
        whole = _fix(files, replace(offer, changes=(*offer.changes, *also)), problem)
        fix = whole or (_fix(files, offer, problem) if also else None)
        if fix is not None:
            yield fix


def _asked_once(problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Of problems whose answers all replace one line, the first offers the line with all mended.

    Where that would be too many to choose from it offers its own alone, and the next its own
    once that is settled. What is certain of such a line goes with its answers, and nowhere else.
    """
    of_line: defaultdict[_FileLine, list[int]] = defaultdict(list)
    for n, problem in enumerate(problems):
        line = None if _certain(problem) else _only_line(problem.offers)
        if line is not None:
            of_line[line].append(n)
    told = [
        replace(problem, offers=())
        if _certain(problem) and _only_line(problem.offers) in of_line
        else problem
        for problem in problems
    ]
    for together in (numbers for numbers in of_line.values() if len(numbers) > 1):
        first, *others = sorted(together, key=lambda n: (problems[n].where.column or 0, n))
        distinct = dict.fromkeys(problems[n].offers for n in (first, *others))
        ways = [_both(ways) for ways in product(*distinct)]
        if len(ways) <= MOST_WAYS:
            told[first] = replace(told[first], offers=tuple(ways))
        for n in others:
            told[n] = replace(told[n], offers=())
    return tuple(told)


def _certain(problem: Problem) -> bool:
    return any(offer.sureness is Sureness.CERTAIN for offer in problem.offers)


def _only_line(offers: tuple[Offer, ...]) -> _FileLine | None:
    """The one line that every one of ``offers`` replaces."""
    lines = {_line_of(change) for offer in offers for change in offer.changes}
    return lines.pop() if len(lines) == 1 else None


def _both(ways: tuple[Offer, ...]) -> Offer:
    changes = (change for way in ways for change in way.changes)
    return Offer(tuple(dict.fromkeys(changes)), Sureness.ONE_OF_SEVERAL)


def _sure_of_lines(problems: Iterable[Problem]) -> Mapping[_FileLine, list[Change]]:
    """For each line the changes that are certain and of that line alone."""
    sure: defaultdict[_FileLine, list[Change]] = defaultdict(list)
    for problem in problems:
        for offer in problem.offers:
            line = _line_of(offer.changes[0]) if len(offer.changes) == 1 else None
            if line is not None and offer.sureness is Sureness.CERTAIN:
                sure[line].append(offer.changes[0])
    return sure


def _line_of(change: Change) -> _FileLine | None:
    if isinstance(change, Edit):
        alone = change.first_line == change.last_line
        return (change.file, change.first_line) if alone and len(change.lines) == 1 else None
    return None if change.where.line is None else (change.where.file, change.where.line)


def _fix(files: "_Files", offer: Offer, problem: Problem) -> Fix | None:
    by_file: defaultdict[str, list[Change]] = defaultdict(list)
    for change in offer.changes:
        by_file[change.file if isinstance(change, Edit) else change.where.file].append(change)
    made = [_edits_in(files, file, changes, problem) for file, changes in sorted(by_file.items())]
    edits = [edit for each in made if each is not None for edit in each]
    return Fix(tuple(edits), offer.sureness) if edits and None not in made else None


class _Files:
    """The coach's files, each read once."""

    def __init__(self, root: Path) -> None:
        self._root = root
        self._texts: dict[str, str | None] = {}

    def named(self, file: str) -> str:
        """The file as it is called where it is written otherwise: Student.yaml."""
        path = self._root / file
        if path.name not in _FIRST_LINES or path.is_file() or not path.parent.is_dir():
            return file
        named, _ = named_file(self._root, path.parent, path.stem)
        return file if named is None else named.relative_to(self._root).as_posix()

    def text(self, file: str) -> str | None:
        """What stands in it; nothing in one of the coach's own that is missing."""
        if file not in self._texts:
            self._texts[file] = self._read(self._root / file)
        return self._texts[file]

    def _read(self, path: Path) -> str | None:
        if path.is_file():
            lines = lines_in(path, MOST_CHARACTERS)
            return None if lines is None else "\n".join(lines)
        return "" if path.name in _FIRST_LINES and path.parent.is_dir() else None


def _edits_in(
    files: _Files, file: str, changes: Iterable[Change], problem: Problem
) -> list[Edit] | None:
    """The lines that differ when all the changes are made; None where one cannot be."""
    file = files.named(file)
    text = files.text(file)
    if text is None:
        return None
    begun = text or _FIRST_LINES.get(Path(file).name, "").format(name=_student_in(file))
    after = _changed(_Page(file, begun), changes)
    if after is None or after == text:
        return None
    faults = _layout(file, after)
    known = {fault.where.line for fault in _layout(file, text)}
    if any(fault.where.line not in known or _same(fault, problem) for fault in faults):
        return None
    return list(_edits(file, text, after))


def _changed(page: "_Page", changes: Iterable[Change]) -> str | None:
    """The text with all the changes made: first those at a place, then what is new."""
    placed: list[Change] = []
    new: list[Change] = []
    for change in changes:
        at_large = isinstance(change, Put | Add) and change.where.line is None
        (new if at_large else placed).append(change)
    lines = [change for change in placed if isinstance(change, Edit)]
    if len(lines) < len(placed) and lines and all(map(_line_of, lines)):
        # A line is made anew first, so that what is swapped within it is found there.
        text = _spliced(page.text, [page.splice(change) for change in lines])
        if text is None:
            return None
        page = _Page(page.file, text)
        placed = [change for change in placed if not isinstance(change, Edit)]
    text = _spliced(page.text, [page.splice(change) for change in placed])
    for change in new:
        if text is None:
            return None
        page = _Page(page.file, text).with_room_for_keys()
        text = _spliced(page.text, [page.splice(change)])
    return text


def _student_in(file: str) -> str:
    """A student's name where only the folder gives it."""
    return scalar(Path(file).parent.name)


class _Page(Struct, frozen=True):
    """The text of a file, and where in it a change belongs."""

    file: str
    text: str

    def with_room_for_keys(self) -> "_Page":
        """Notes that are words alone get the two lines between which keys stand."""
        begun = self.text.lstrip().startswith("---") or bounds(self.text, KNOWN) is not None
        if begun or not self.file.endswith(_KEYS_ABOVE_WORDS):
            return self
        return replace(self, text=f"---\n---\n{self.text}")

    def with_clips(self, listed: MapEntry, items: Iterable[Mapping[str, Value]]) -> "_Page":
        """Each of ``items`` whose file is not ``listed``, behind the last of the list."""
        nodes = listed.value.items if isinstance(listed.value, ListNode) else (listed.value,)
        within = (e.value for n in nodes if isinstance(n, MapNode) for e in n.entries)
        known = {folded(n.text) for n in (*nodes, *within) if isinstance(n, Scalar)}
        page = self
        for item in items:
            tree = page._tree() if folded(str(item["file"])) not in known else None
            change = None if tree is None else add(tree, None, (listed.key,), item)
            text = None if change is None else _spliced(page.text, [change])
            page = page if text is None else replace(page, text=text)
        return page

    def splice(self, change: Change) -> Splice | None:
        if isinstance(change, Edit):
            return self._lines(change)
        at = self._index(change.where)
        if isinstance(change, Swap):
            tree = self._tree()
            found = None if tree is None or at is None else swap(tree, at, change.old, change.new)
            return found or self._words(change, at)
        tree = self._tree()
        if tree is None or (at is None and change.where.line is not None):
            return None
        if isinstance(change, Cut):
            return None if at is None else cut(tree, at)
        if isinstance(change, Add):
            return add(tree, at, change.keys, change.item)
        return put(tree, at, change.keys, change.value)

    def _lines(self, edit: Edit) -> Splice:
        starts = [0, *(m.end() for m in re.finditer("\n", self.text)), len(self.text) + 1]
        first, last = starts[edit.first_line - 1], starts[edit.last_line]
        new = "".join(f"{line}\n" for line in edit.lines)
        if last > len(self.text):  # up to the very end, where no newline is
            return Splice(first, len(self.text), new.removesuffix("\n"))
        return Splice(first, last, new)

    def _words(self, change: Swap, at: int | None) -> Splice | None:
        """Words that are only part of a value, or stand in no file of keys."""
        if at is None or not change.old or not self.text.startswith(change.old, at):
            return None
        keys = self.file.endswith((*_KEYS_ONLY, _KEYS_ABOVE_WORDS))
        new = in_line(change.new) if keys and change.new else str(change.new)
        return Splice(at, at + len(change.old), new)

    def _index(self, where: SourceRef) -> int | None:
        if where.line is None:
            return None
        lines = self.text.split("\n")
        column = where.column or 1
        if where.line > len(lines) or column > len(lines[where.line - 1]) + 1:
            return None
        return sum(len(line) + 1 for line in lines[: where.line - 1]) + column - 1

    def _tree(self) -> Tree | None:
        """The keys of the file: all of it, or what stands between the two "---"."""
        if self.file.endswith(_KEYS_ONLY):
            return tree_of(self.text, 0, len(self.text))
        found = bounds(self.text, KNOWN) if self.file.endswith(_KEYS_ABOVE_WORDS) else None
        return None if found is None else tree_of(self.text, *found)


def _spliced(text: str, splices: Sequence[Splice | None]) -> str | None:
    """None where a splice is missing, or two are of the same words."""
    known = [splice for splice in splices if splice is not None]
    end = len(text)
    for splice in sorted(known, key=lambda each: (each.first, each.last), reverse=True):
        if splice.last > end:
            return None
        text = text[: splice.first] + splice.new + text[splice.last :]
        end = splice.first
    return text if len(known) == len(splices) else None


def _layout(file: str, text: str) -> tuple[Problem, ...]:
    """What keeps the keys of the file from being read as keys."""
    if file.endswith(_KEYS_ONLY):
        return read_map(text, file).problems
    found = bounds(text, KNOWN) if file.endswith(_KEYS_ABOVE_WORDS) else None
    if found is None:
        return ()
    return read_map(text[slice(*found)], file, text.count("\n", 0, found[0]) + 1).problems


def _same(one: Problem, other: Problem) -> bool:
    return (one.code, one.where) == (other.code, other.where)


def _edits(file: str, before: str, after: str) -> Iterator[Edit]:
    """The lines that differ; nothing of a missing file is there to be replaced."""
    if not before:
        yield Edit(file, 1, 0, tuple(after.removesuffix("\n").split("\n")))
        return
    old, new = before.split("\n"), after.split("\n")
    same = _shared(old, new)
    rest = min(len(old), len(new)) - same
    tail = _shared(old[::-1][:rest], new[::-1][:rest])
    middle, other = old[same : len(old) - tail], new[same : len(new) - tail]
    for kind, i, j, k, m in SequenceMatcher(None, middle, other, autojunk=False).get_opcodes():
        if kind != "equal":
            yield Edit(file, same + i + 1, same + j, tuple(other[k:m]))


def _shared(one: list[str], other: list[str]) -> int:
    """How many lines the two begin with alike."""
    pairs = enumerate(zip(one, other, strict=False))
    return next((n for n, (a, b) in pairs if a != b), min(len(one), len(other)))
