"""Shots that two files both hold: counted once where that is sure, asked about where it is not."""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from itertools import combinations

from msgspec import Struct

from recapgen.intake.said_files import IGNORE
from recapgen.intake.table.parts import Part
from recapgen.intake.table.rows import Drafts
from recapgen.model.fix import Put, one_of
from recapgen.model.problem import Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.source import SourceRef

FEWEST_ROWS = 4  # in a row, with so many different ones among them, are one export twice
FEWEST_DIFFERENT = 3
FEWEST_READINGS = 4  # so many that agree are one shot even without a time
LOOKED_AT_ROWS = 2000
Key = tuple[object, ...]


class Repeat(Struct, frozen=True):
    """So many rows of two parts are the same, one after the other."""

    one: Part
    other: Part
    rows: int


def without_repeats(parts: Sequence[Part], notes: SourceRef) -> list[Problem]:
    """Takes out of later parts the shots that an earlier one surely gave, and reports them.

    The same readings in the same order without a time that proves it are asked about.
    """
    problems = [p for one, other in combinations(parts, 2) for p in _once(one, other, _at_its_time)]
    repeats = [found for pair in combinations(parts, 2) if (found := _repeat(*pair)) is not None]
    if repeats:
        return [*problems, _asked(repeats, notes)]
    alike = (_once(one, other, _in_all_readings) for one, other in combinations(parts, 2))
    return problems + [problem for found in alike for problem in found]


def _once(one: Part, other: Part, identity: Callable[[Drafts, int], Key | None]) -> list[Problem]:
    """Takes out of ``other`` what ``one`` holds, too."""
    if _both_said(one, other):
        return []
    drafts = other.drafts
    there = Counter(k for at in _rows(one.drafts) if (k := identity(one.drafts, at)) is not None)
    keep: list[int] = []
    for at in _rows(drafts):
        key = identity(drafts, at)
        if key is not None and there[key] > 0:
            there[key] -= 1
        else:
            keep.append(at)
    gone = len(drafts.where) - len(keep)
    if not gone:
        return []
    other.drafts = Drafts()
    other.drafts.extend(drafts, keep)
    facts = {"rows": str(gone), "other": one.name}
    return [Problem(Code.SHOTS_DUPLICATE, SourceRef(other.file), facts)]


def _both_said(one: Part, other: Part) -> bool:
    """Whether the coach gave both a place in the lesson: then both are meant."""
    return all(p.said is not None and not p.said.ignored for p in (one, other))


def _rows(drafts: Drafts) -> range:
    return range(len(drafts.where))


def _at_its_time(drafts: Drafts, at: int) -> Key | None:
    """Time, club and readings of a row; None without a time."""
    if drafts.times[at] is None or not drafts.readings[at]:
        return None
    return drafts.times[at], drafts.clubs[at], frozenset(_rounded(drafts, at).items())


def _in_all_readings(drafts: Drafts, at: int) -> Key | None:
    """Club and readings of a row without a time; None where they are too few to know it by."""
    if drafts.times[at] is not None or len(drafts.readings[at]) < FEWEST_READINGS:
        return None
    return drafts.clubs[at], frozenset(_rounded(drafts, at).items())


def _rounded(drafts: Drafts, at: int) -> dict[Quantity, float]:
    return {quantity: round(value, 3) for quantity, value in drafts.readings[at].items()}


def _repeat(one: Part, other: Part) -> Repeat | None:
    """The longest stretch of equal readings in both parts, where it is no chance."""
    if _both_said(one, other):
        return None
    shared = _quantities(one.drafts) & _quantities(other.drafts)
    first, second = (_sequence(part.drafts, shared) for part in (one, other))
    starts: defaultdict[tuple[Key, ...], list[int]] = defaultdict(list)
    for at in range(len(second) - FEWEST_ROWS + 1):
        starts[tuple(second[at : at + FEWEST_ROWS])].append(at)
    stretches = (
        _stretch(first, second, at, there)
        for at in range(len(first) - FEWEST_ROWS + 1)
        for there in starts.get(tuple(first[at : at + FEWEST_ROWS]), ())
        if not (at and there and first[at - 1] == second[there - 1])
    )
    rows = max((len(s) for s in stretches if len(set(s)) >= FEWEST_DIFFERENT), default=0)
    return Repeat(one, other, rows) if rows else None


def _quantities(drafts: Drafts) -> set[Quantity]:
    return {quantity for readings in drafts.readings for quantity in readings}


def _sequence(drafts: Drafts, shared: set[Quantity]) -> list[Key]:
    """The readings of each row that has any of ``shared``."""
    order = sorted(shared)
    rows = (_rounded(drafts, at) for at in _rows(drafts)[:LOOKED_AT_ROWS])
    return [tuple(row.get(q) for q in order) for row in rows if shared & row.keys()]


def _stretch(first: Sequence[Key], second: Sequence[Key], at: int, there: int) -> Sequence[Key]:
    length = 0
    while (
        at + length < len(first)
        and there + length < len(second)
        and first[at + length] == second[there + length]
    ):
        length += 1
    return first[at : at + length]


def _asked(repeats: Sequence[Repeat], notes: SourceRef) -> Problem:
    """One question for all of them; each line offered leaves no repeat."""
    first = max(repeats, key=lambda repeat: repeat.rows)
    offers = one_of(
        tuple(Put(notes, ("files", name), IGNORE) for name in names) for names in _ways_out(repeats)
    )
    facts = {"one": first.one.name, "other": first.other.name, "rows": str(first.rows)}
    where = SourceRef(first.other.file)
    return Problem(Code.SHOTS_EXPORTED_TWICE, where, facts, offers=offers)


def _ways_out(repeats: Sequence[Repeat]) -> Iterator[tuple[str, ...]]:
    """Which parts may be passed over: first such as lose no shot, else any of the two."""
    covered: Counter[str] = Counter()
    sizes: dict[str, int] = {}
    for repeat in repeats:
        for part in (repeat.one, repeat.other):
            covered[part.name] += repeat.rows
            sizes[part.name] = len(part.drafts.where)
    whole = [name for name in sizes if covered[name] >= sizes[name]]
    ways = [
        names
        for size in range(1, len(whole) + 1)
        for names in combinations(whole, size)
        if all(repeat.one.name in names or repeat.other.name in names for repeat in repeats)
    ]
    least = [way for way in ways if not any(set(other) < set(way) for other in ways)]
    if least:
        yield from least[:2]
        return
    yield tuple(dict.fromkeys(repeat.other.name for repeat in repeats))
    yield tuple(dict.fromkeys(repeat.one.name for repeat in repeats))
