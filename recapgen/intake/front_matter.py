"""notes.md in two: the keys between the two "---" lines, and the coach's words below them."""

import re
from collections.abc import Iterator, Mapping, Sequence
from difflib import SequenceMatcher

from msgspec import Struct, field
from msgspec.structs import replace

from recapgen.intake.keys_abroad import in_english
from recapgen.intake.pasted_messages import Stamp, stamps_in, without
from recapgen.intake.phone_typing import closes, nearly_opens, opens_or_closes
from recapgen.intake.spelling import with_colons
from recapgen.intake.yaml_map import MapNode, brief, plain_key, read_in_part, read_map
from recapgen.model.fix import Edit, one_of
from recapgen.model.problem import Checked, Code, Cost, Problem
from recapgen.model.source import SourceRef

_KEY_LINES = 12
_MORE_OF_A_KEY = re.compile(r"[ \t]+\S|- ")
_BEFORE_A_KEY = re.compile(r"^[\s>#*•·_-]*")
# Words are told from keys in another language by these alone: "Ball: ..." may be a sentence.
_TOLD_ABROAD = ("intent", "number", "want", "shots", "clips")


class FrontMatter(Struct, frozen=True):
    """``next_key`` is where a further key would be written.

    Not ``whole``: some of it could not be read, or was read as it was probably meant; that is
    enough to look for further faults, and for nothing else. ``cut`` says how many signs before
    a line, by its number, were a messenger's.
    """

    keyed: MapNode
    words: str
    next_key: SourceRef
    whole: bool = True
    cut: Mapping[int, int] = field(default_factory=dict)


def split(text: str, file: str, known: frozenset[str]) -> Checked[FrontMatter]:
    """The keys and the words of a notes file, with every fault of its layout; no keys is fine.

    ``known`` are the keys by which front matter without its first "---" is noticed.
    """
    typed = text.split("\n")
    stamps = stamps_in(typed, lambda line: _begins(line, known) or opens_or_closes(line))
    lines = without(typed, stamps)
    cut = {stamp.at + 1: stamp.length for stamp in stamps}
    first, last = _marks(lines, known)
    found: list[Problem] = []
    if first is None or last is None:
        keys = _keys(lines, known, None if first is None else first + 1)
        if first is None and keys is None:
            return _words_alone(typed, file, stamps)
        begin, end = keys or ((first or 0) + 1, (first or 0) + 1)
        plain = [_plain(line, known) for line in lines[begin:end]]
        for number, (line, bare) in enumerate(zip(lines[begin:end], plain, strict=True), begin + 1):
            cut[number] = cut.get(number, 0) + len(line) - len(bare)
        lines[begin:end] = plain
        found.append(_unmarked(typed, lines, file, first, (begin, end)))
    else:
        begin, end = first + 1, last
    told = _stamped(typed, file, stamps, end)
    if found and told:  # two that are mended by the same lines
        told = (replace(told[0], offers=found[0].offers),)
    inner = "\n".join(lines[begin:end])
    keyed, faults = read_map(inner, file, begin + 1)
    if keyed is None:
        keyed = read_in_part(inner, file, begin + 1)
    held = any(problem.cost is not Cost.NOTHING for problem in (*found, *told, *faults))
    after = end + 1 if last is not None else end
    front = FrontMatter(
        keyed,
        "\n".join(typed[after:]).strip("\n"),
        SourceRef(file, end + 1, 1),
        whole=not held,
        cut={line: length for line, length in cut.items() if length},
    )
    faults = tuple(with_colons(faults, typed, known))
    return Checked(front, (*found, *told, *in_place(faults, front)))


def in_place(problems: Sequence[Problem], front: FrontMatter) -> Iterator[Problem]:
    """The problems at the columns where they stand in the file, a messenger's own signs counted."""
    for problem in problems:
        where = problem.where
        shift = front.cut.get(where.line or 0, 0)
        if shift and where.column is not None:
            where = replace(where, column=where.column + shift)
        yield replace(problem, where=where)


def bounds(text: str, known: frozenset[str] = frozenset()) -> tuple[int, int] | None:
    """From which character to which the keys stand; None where there are none.

    Where one of the two "---" is missing, by the keys that are ``known``.
    """
    lines = text.split("\n")
    first, last = _marks(lines, known)
    if first is None or last is None:
        found = _keys(lines, known, None if first is None else first + 1) if known else None
    else:
        found = first + 1, last
    if found is None:
        return None
    starts = [sum(len(line) + 1 for line in lines[:n]) for n in found]
    return starts[0], min(starts[1], len(text))


def _marks(lines: Sequence[str], known: frozenset[str]) -> tuple[int | None, int | None]:
    """The lines around the keys, as far as they are there; the first may stand twice."""
    first = next((at for at, line in enumerate(lines) if line.strip()), 0)
    if not opens_or_closes(lines[first]):
        return None, None
    last = _closing(lines, first)
    if last is not None and not any(line.strip() for line in lines[first + 1 : last]):
        below = next((at for at in range(last + 1, len(lines)) if lines[at].strip()), None)
        if below is not None and _begins(lines[below], known):
            return last, _closing(lines, last)
    return first, last


def _closing(lines: Sequence[str], first: int) -> int | None:
    return next((at for at in range(first + 1, len(lines)) if closes(lines[at])), None)


def _keys(lines: Sequence[str], known: frozenset[str], begin: int | None) -> tuple[int, int] | None:
    """From which line to which keys stand that are not marked; ``begin`` where that is known.

    They begin with a key among the first lines, or right below a "---" anywhere, and end with
    the last key of a paragraph.
    """
    if begin is None:
        begin = next((at for at in range(len(lines)) if _may_begin(lines, at, known)), None)
    if begin is None:
        return None
    end, blank = begin, False
    for at in range(begin, len(lines)):
        if closes(lines[at]):
            break
        if _begins(lines[at], known) or (_MORE_OF_A_KEY.match(lines[at]) and not blank):
            end, blank = at + 1, False
        elif not lines[at].strip():
            blank = True
        elif blank:  # a paragraph that begins with no key: words
            break
    return begin, end


def _may_begin(lines: Sequence[str], at: int, known: frozenset[str]) -> bool:
    below_a_mark = at > 0 and opens_or_closes(lines[at - 1])
    return (at < _KEY_LINES or below_a_mark) and _begins(lines[at], known)


def _begins(line: str, known: frozenset[str]) -> bool:
    """Whether ``line`` begins with a key, whatever a phone or a list put before it."""
    key, colon, _ = _BEFORE_A_KEY.sub("", line).replace("：", ":").partition(":")
    name = plain_key(key.strip("*_ "))
    return bool(colon) and (name in known or bool(in_english(name, _TOLD_ABROAD)))


def _plain(line: str, known: frozenset[str]) -> str:
    """A key without the sign of a list, or of bold letters, before and around it."""
    if not _begins(line, known):
        return line
    key, colon, rest = re.split("([:：])", _BEFORE_A_KEY.sub("", line), maxsplit=1)
    return f"{key.strip('*_ ')}{colon}{rest.lstrip('*_')}"


def _unmarked(
    typed: Sequence[str],
    lines: Sequence[str],
    file: str,
    first: int | None,
    keys: tuple[int, int],
) -> Problem:
    """One "---" is missing, or both: the file as it should be, words above the keys below them."""
    begin, end = keys
    closed = end < len(lines) and closes(lines[end])
    above = [
        line
        for line in lines[: first if first is not None else begin]
        if line.strip() and not nearly_opens(line)
    ]
    begun = first + 1 if first is not None else begin
    below = end + 1 if closed else end
    whole = ("---", *lines[begun:end], "---", *above, *lines[below:])
    offers = one_of([_changed_lines(file, typed, whole)] if end > begun else ())
    if first is not None:
        return Problem(Code.NOTES_NOT_CLOSED, SourceRef(file, first + 1, 1), offers=offers)
    facts = {"found": f"{brief(lines[begin].replace('：', ':').partition(':')[0])}:"}
    return Problem(Code.NOTES_UNMARKED, SourceRef(file, begin + 1, 1), facts, offers=offers)


def _changed_lines(file: str, typed: Sequence[str], whole: Sequence[str]) -> tuple[Edit, ...]:
    """The edits that make ``whole`` of what was typed; lines that stay are left alone."""
    changes = SequenceMatcher(None, typed, whole, autojunk=False).get_opcodes()
    return tuple(
        Edit(file, i + 1, j, tuple(whole[k:m])) for kind, i, j, k, m in changes if kind != "equal"
    )


def _words_alone(typed: Sequence[str], file: str, stamps: Sequence[Stamp]) -> Checked[FrontMatter]:
    start = SourceRef(file, 1, 1)
    words = "\n".join(typed).strip("\n")
    return Checked(FrontMatter(MapNode((), start), words, start), _stamped(typed, file, stamps, 0))


def _stamped(
    typed: Sequence[str], file: str, stamps: Sequence[Stamp], end: int
) -> tuple[Problem, ...]:
    """A messenger's times, told once: they cost nothing where they stand in the words alone."""
    if not stamps:
        return ()
    alone = {stamp.at for stamp in stamps if stamp.alone}
    whole = [line for at, line in enumerate(without(typed, stamps)) if at not in alone]
    edits = _changed_lines(file, typed, whole)
    facts = {"found": brief(stamps[0].found), "lines": str(len(stamps))}
    costs = None if stamps[0].at <= end else Cost.NOTHING
    where = SourceRef(file, stamps[0].at + 1, 1)
    return (Problem(Code.MESSENGER_TIMES, where, facts, costs, one_of([edits])),)
