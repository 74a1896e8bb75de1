"""Keys and values with their places, as a coach typed them.

Only the shape is YAML's. Every value stays the text that was typed (``070`` is a bearing,
``10:30`` a time), every key and value knows its line and column, and nothing is ever
constructed, followed or expanded.
"""

import re
from collections.abc import Iterator
from itertools import islice
from typing import Protocol, cast

import yaml
from msgspec import Struct

from recapgen.intake.phone_typing import as_meant
from recapgen.intake.slips import meant, without_tabs
from recapgen.intake.text_file import is_hidden
from recapgen.model.fix import Edit, Sureness
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef

DEEPEST = 8
MOST_CHARACTERS = 100_000
MOST_FAULTS = 20
MOST_TOGETHER = 12  # lines that look like keys of their own, within one bracket or quote
_TOP_KEY = re.compile(r"\w[\w -]*[:：]")
_GLUED = re.compile(r"[\w -]+?[:：](?=\S)")
_LEFT_OPEN = frozenset({Code.BRACKET_NOT_CLOSED, Code.QUOTE_NOT_CLOSED})


class Scalar(Struct, frozen=True):
    """A single value. ``cut`` is where an unquoted " #" cut off what is ``dropped``."""

    text: str
    where: SourceRef
    quoted: bool
    cut: SourceRef | None = None
    dropped: str = ""

    @property
    def empty(self) -> bool:
        return not self.quoted and self.text in {"", "~", "null"}


class ListNode(Struct, frozen=True):
    items: tuple["Node", ...]
    where: SourceRef


class MapEntry(Struct, frozen=True):
    """One ``key: value``; ``key`` as typed."""

    key: str
    where: SourceRef
    value: "Node"

    @property
    def name(self) -> str:
        return plain_key(self.key)


class MapNode(Struct, frozen=True):
    entries: tuple[MapEntry, ...]
    where: SourceRef


Node = Scalar | ListNode | MapNode


def plain_key(text: str) -> str:
    """A key without regard to case, with "_" and "-" as spaces."""
    seen = re.sub(r"[\u00ad\u200b\u2060\ufeff]", "", text)
    return " ".join(re.sub(r"[_\-\s]+", " ", seen).split()).casefold()


def read_map(text: str, file: str, first_line: int = 1) -> Checked[MapNode]:
    """The keys in ``text``, which begins on line ``first_line`` of ``file``.

    None where the layout cannot be read, with a problem for each top key whose lines cannot;
    empty text has no keys.
    """
    start = SourceRef(file, first_line, 1)
    if len(text) > MOST_CHARACTERS:
        facts = {"size": f"{len(text):,}", "most": f"{MOST_CHARACTERS:,}"}
        return Checked(None, (Problem(Code.FILE_TOO_BIG, start, facts),))
    text = as_meant(text)
    found = _read(text, file, first_line)
    if isinstance(found, MapNode):
        return Checked(found, ())
    faults = (part for part in _each_part(text, file, first_line) if isinstance(part, Problem))
    return Checked(None, tuple(islice(faults, MOST_FAULTS)) or (found,))


def read_in_part(text: str, file: str, first_line: int = 1) -> MapNode:
    """As ``read_map``, for a layout that cannot be read: the keys that can, for their own faults.

    What is mended in one way only is taken as mended.
    """
    entries: list[MapEntry] = []
    for part in _each_part(as_meant(text), file, first_line):
        if isinstance(part, MapNode):
            entries.extend(part.entries)
    return MapNode(tuple(entries), SourceRef(file, first_line, 1))


def _read(text: str, file: str, first_line: int) -> MapNode | Problem:
    """The keys in ``text``, or the first thing that is wrong with its layout."""
    reader = _NodeReader(text, file, first_line)
    try:
        return reader.document()
    except _Stop as stop:
        return stop.problem
    except yaml.MarkedYAMLError as fault:
        return reader.explain(fault)
    except (yaml.YAMLError, ValueError, OverflowError) as fault:
        # An escape beyond the last character of all is no YAML error to the parser.
        start = SourceRef(file, first_line, 1)
        return Problem(Code.LAYOUT_BROKEN, start, {"found": brief(str(fault))})


def _each_part(text: str, file: str, first_line: int) -> Iterator[MapNode | Problem]:
    """Each top key's lines read by themselves, and the faults in them.

    Lines that look like a next key may go on with a bracket or quote of the one above: they
    are taken with it where that makes it whole.
    """
    lines = text.split("\n")
    starts = [at for at, line in enumerate(lines) if _TOP_KEY.match(line)]
    ends = [*starts[1:], len(lines)]
    if starts and any(lines[: starts[0]]):
        starts, ends = [0, *starts], [starts[0], *ends]
    done = 0
    for at, start in enumerate(starts):
        if start < done:
            continue
        fault: Problem | None = None
        for end in ends[at : at + MOST_TOGETHER]:
            found = _read("\n".join(lines[start:end]), file, first_line + start)
            if isinstance(found, MapNode):
                done, fault = end, None
                yield found
                break
            fault = fault or found
            if fault.code not in _LEFT_OPEN:
                break
        if fault is not None:
            yield from _one_by_one(lines[start : ends[at]], file, first_line + start, fault)


def _one_by_one(
    lines: list[str], file: str, first_line: int, fault: Problem
) -> Iterator[MapNode | Problem]:
    """The faults in a key's lines, each found with those before it out of the way."""
    seen: set[int | None] = set()
    found: MapNode | Problem = fault
    while isinstance(found, Problem) and found.where.line not in seen:
        yield found
        seen.add(found.where.line)
        rest = _out_of_the_way(lines, found, first_line)
        if rest is None:
            return
        lines = rest
        found = _read("\n".join(lines), file, first_line)
    if isinstance(found, MapNode):
        yield found


def _out_of_the_way(lines: list[str], fault: Problem, first_line: int) -> list[str] | None:
    """The lines with a fault mended that can be mended in one way, or without one that is none."""
    sure = [offer for offer in fault.offers if offer.sureness is Sureness.CERTAIN]
    edits = [edit for offer in sure[:1] for edit in offer.changes if isinstance(edit, Edit)]
    if fault.code is Code.NOT_KEYS and not edits and fault.where.line is not None:
        edits = [Edit(fault.where.file, fault.where.line, fault.where.line, ("",))]
    after = list(lines)
    for edit in edits:
        after[edit.first_line - first_line : edit.last_line - first_line + 1] = edit.lines
    return after if edits else None


class YamlMark(Protocol):
    """A place in the text, line and column from nought."""

    line: int
    column: int


def _start(event: yaml.Event) -> YamlMark:
    return cast("YamlMark", event.start_mark)


def _marked(event: yaml.Event) -> bool:
    """True for an anchor or a tag: words of the coach's that begin with "&" or "!"."""
    if isinstance(event, (yaml.ScalarEvent, yaml.CollectionStartEvent)):
        return event.anchor is not None or event.tag is not None
    return False


def _glued(line: str) -> bool:
    """True for "key:value" without the blank that makes it a key."""
    return _GLUED.match(line.lstrip().removeprefix("- ")) is not None


class _Stop(Exception):  # noqa: N818  (carries a finding out of the nesting, not an error)
    def __init__(self, problem: Problem) -> None:
        self.problem = problem


class _NodeReader:
    def __init__(self, text: str, file: str, first_line: int) -> None:
        self._text = text
        self._lines = text.split("\n")
        self._file = file
        self._first_line = first_line

    def document(self) -> MapNode:
        events = yaml.parse(self._text, Loader=yaml.SafeLoader)
        root: Node | None = None
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                if root is not None:
                    raise self._stop(Code.NOT_KEYS, _start(event), "---")
                root = self._node(next(events), events, 0)
        start = SourceRef(self._file, self._first_line, 1)
        if root is None or (isinstance(root, Scalar) and root.empty):
            return MapNode((), start)
        if isinstance(root, MapNode):
            return root
        raise self._not_keys(root)

    def _node(self, event: yaml.Event, events: Iterator[yaml.Event], depth: int) -> Node:
        start = _start(event)
        if depth > DEEPEST:
            raise self._stop(Code.TOO_DEEP, start)
        if isinstance(event, yaml.AliasEvent) or _marked(event):
            raise self._stop(Code.NEEDS_QUOTES, start, self._rest(start))
        where = self._where(start)
        if isinstance(event, yaml.ScalarEvent):
            return self._words(event, where)
        if isinstance(event, yaml.SequenceStartEvent):
            items = []
            while not isinstance(event := next(events), yaml.SequenceEndEvent):
                items.append(self._node(event, events, depth + 1))
            return ListNode(tuple(items), where)
        entries = []
        in_braces = isinstance(event, yaml.MappingStartEvent) and bool(event.flow_style)
        while not isinstance(event := next(events), yaml.MappingEndEvent):
            key = self._node(event, events, depth + 1)
            value = self._node(next(events), events, depth + 1)
            if not isinstance(key, Scalar):
                raise self._not_keys(key)
            bare = in_braces and isinstance(value, Scalar) and value.empty
            if (bare or depth == 0) and not key.quoted and _GLUED.match(key.text):
                raise self._glued_key(key)
            entries.append(MapEntry(key.text.strip(), key.where, value))
        return MapNode(tuple(entries), where)

    def _words(self, event: yaml.ScalarEvent, where: SourceRef) -> Scalar:
        quoted = event.style is not None
        hidden = next((c for c in event.value if c not in "\n\t" and is_hidden(c)), None)
        if hidden is not None:  # written as an escape, or it would have been met before
            facts = {"found": f"U+{ord(hidden):04X}"}
            raise _Stop(Problem(Code.HIDDEN_CHARACTER, where, facts))
        cut, dropped = None, ""
        if not quoted:
            end = cast("YamlMark", event.end_mark)
            rest = self._rest(end)
            # A comment stands off by two spaces and starts with one; anything else was words.
            if re.match(r"[ \t]#|[ \t]+#\S", rest):
                cut, dropped = self._where(end, further=rest.index("#")), rest.rstrip()
        return Scalar(event.value, where, quoted, cut, dropped)

    def explain(self, fault: yaml.MarkedYAMLError) -> Problem:
        """The parser's complaint as something that a coach can mend."""
        context, trouble = fault.context or "", fault.problem or ""
        mark = fault.problem_mark or fault.context_mark
        if mark is None:
            where = SourceRef(self._file, self._first_line, 1)
            return Problem(Code.LAYOUT_BROKEN, where, {"found": brief(trouble)})
        start = fault.context_mark or mark
        sign = self._rest(mark)[:1]
        if sign == "\t" or "'\\t'" in trouble:
            return self._problem(Code.TAB_BEFORE_KEY, mark)
        if "quoted scalar" in context:
            code = Code.LAYOUT_BROKEN if "escape" in trouble else Code.QUOTE_NOT_CLOSED
            return self._problem(code, start, self._rest(start))
        if "flow" in context and (sign != ":" or (mark.line > start.line and self._key_at(mark))):
            return self._problem(Code.BRACKET_NOT_CLOSED, start, self._rest(start))
        if sign == ":":
            return self._colon(mark, trouble)
        return self._stray_sign(mark, start, context, trouble)

    def _stray_sign(self, mark: YamlMark, start: YamlMark, context: str, trouble: str) -> Problem:
        """A sign that YAML reads as its own, or words behind a closing quote."""
        if any(sign in context for sign in ("alias", "anchor", "block scalar", "tag")):
            return self._problem(Code.NEEDS_QUOTES, start, self._rest(start))
        if "expected ':'" in trouble:
            code = Code.NO_SPACE_AFTER_COLON if _glued(self._line(start)) else Code.NOT_KEYS
            return self._problem(code, start, self._line(start))
        if "cannot start any token" in trouble or "not allowed here" in trouble:
            return self._problem(Code.NEEDS_QUOTES, mark, self._rest(mark))
        before = self._line(mark)[: mark.column]
        closed = "but found '<scalar>'" in trouble and before.rstrip().endswith(("'", '"'))
        code = Code.WORDS_AFTER_QUOTE if closed else Code.LAYOUT_BROKEN
        return self._problem(code, mark, self._line(mark))

    def _colon(self, mark: YamlMark, trouble: str) -> Problem:
        """A colon too many, unless it is the line above that lacks the space after its own."""
        above = self._line_before(mark)
        if trouble.startswith("mapping values") and _glued(above) and self._key_at(mark):
            column = len(above) - len(above.lstrip()) + 1
            where = SourceRef(self._file, self._first_line + mark.line - 1, column)
            offers = meant(Code.NO_SPACE_AFTER_COLON, above, where)
            return Problem(Code.NO_SPACE_AFTER_COLON, where, {"found": brief(above)}, None, offers)
        line = self._line(mark)
        if not line.startswith(" ") and _glued(line):
            where = self._where(mark, further=-mark.column)
            offers = meant(Code.NO_SPACE_AFTER_COLON, line, where)
            return Problem(Code.NO_SPACE_AFTER_COLON, where, {"found": brief(line)}, None, offers)
        return self._problem(Code.COLON_IN_WORDS, mark, line)

    def _key_at(self, mark: YamlMark) -> bool:
        """True where the colon at ``mark`` ends a proper key: then the line above is at fault."""
        return re.fullmatch(r"[\w -]+", self._line(mark)[: mark.column]) is not None

    def _line(self, mark: YamlMark) -> str:
        return self._lines[mark.line] if mark.line < len(self._lines) else ""

    def _line_before(self, mark: YamlMark) -> str:
        return self._lines[mark.line - 1] if 0 < mark.line <= len(self._lines) else ""

    def _rest(self, mark: YamlMark) -> str:
        return self._line(mark)[mark.column :]

    def _where(self, mark: YamlMark, *, further: int = 0) -> SourceRef:
        line, column = mark.line, mark.column + 1 + further
        last = len(self._lines) - 1
        while line > 0 and (line > last or (line == last and not self._lines[line])):
            line -= 1  # the end of the text is told as the end of its last line
            column = len(self._lines[line]) + 1
        return SourceRef(self._file, self._first_line + line, column)

    def _problem(self, code: Code, mark: YamlMark, found: str = "") -> Problem:
        where = self._where(mark)
        at = (where.line or 1) - self._first_line
        above = self._lines[at - 1] if at else ""
        offers = meant(code, self._lines[at], where, above)
        if code is Code.TAB_BEFORE_KEY and sum(line.startswith("\t") for line in self._lines) > 1:
            offers = without_tabs(self._lines, self._file, self._first_line)
        return Problem(code, where, {"found": brief(found)}, offers=offers)

    def _stop(self, code: Code, mark: YamlMark, found: str = "") -> _Stop:
        return _Stop(self._problem(code, mark, found))

    def _glued_key(self, key: Scalar) -> _Stop:
        """To YAML the whole of "before:1-10" is a key, within braces one without a value."""
        line = self._lines[(key.where.line or 1) - self._first_line]
        offers = meant(Code.NO_SPACE_AFTER_COLON, line, key.where)
        facts = {"found": brief(key.text)}
        return _Stop(Problem(Code.NO_SPACE_AFTER_COLON, key.where, facts, None, offers))

    def _not_keys(self, node: Node) -> _Stop:
        line = self._lines[(node.where.line or 1) - self._first_line]
        found = brief(line) if isinstance(node, Scalar) else ""
        if isinstance(node, Scalar) and _glued(line):
            offers = meant(Code.NO_SPACE_AFTER_COLON, line, node.where)
            facts = {"found": found}
            return _Stop(Problem(Code.NO_SPACE_AFTER_COLON, node.where, facts, None, offers))
        return _Stop(Problem(Code.NOT_KEYS, node.where, {"found": found}))


def brief(text: str, most: int = 60) -> str:
    """Words as a problem quotes them: one line, not too long."""
    line = " ".join(text.split())
    return line if len(line) <= most else line[: most - 1] + "…"
