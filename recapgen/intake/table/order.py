"""In which order the shots of several files were hit: by times, numbers, blocks, or not known."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from itertools import pairwise

from msgspec import Struct

from recapgen.intake.table.parts import Part
from recapgen.intake.table.rows import Drafts
from recapgen.model.shots import Block

_RANK = {block: rank for rank, block in enumerate(Block)}


class Order(Struct, frozen=True):
    """Indexes into the joined drafts, their shot numbers, and the parts whose order is open.

    ``against``: times or numbers go against the blocks that the parts' names say.
    """

    indexes: Sequence[int]
    numbers: Sequence[int]
    unique: bool
    open_parts: tuple[Part, ...]
    against: bool


def joined(parts: Sequence[Part]) -> Drafts:
    """All drafts, part after part in the order they are known or filed in."""
    if len(parts) == 1:
        return parts[0].drafts
    drafts = Drafts()
    for part in parts:
        drafts.extend(part.drafts)
    return drafts


def by_rank(parts: Sequence[Part]) -> list[Part]:
    """The parts by the place or the block that each has; those without keep their order."""
    if parts and all(_place(part) is not None for part in parts):
        return sorted(parts, key=lambda part: _place(part) or 0)
    if all(_reach(part) is not None for part in parts):
        return sorted(parts, key=lambda part: _reach(part) or (0, 0))
    return list(parts)


def order_of(parts: Sequence[Part], drafts: Drafts) -> Order:
    """The order of the joined drafts of ``parts``, which are in order of their rank."""
    count = len(drafts.where)
    own = [n for n in drafts.numbers if n is not None]
    unique = len(own) == count and len(set(own)) == count
    timed = all(time is not None for time in drafts.times)
    told = all(part.said is not None and not part.said.ignored for part in parts)
    if told and _ranked(parts) and not timed:
        indexes: Sequence[int] = range(count)
        unique = unique and own == sorted(own)
    else:
        indexes = _time_order(drafts, numbers=unique)
    numbers = [drafts.numbers[i] or 0 for i in indexes] if unique else range(1, count + 1)
    known = timed or unique or _ranked(parts)
    against = not told and _against(parts, indexes)
    open_parts = () if len(parts) < 2 or (known and not against) else tuple(parts)  # noqa: PLR2004
    return Order(indexes, numbers, unique, open_parts, against)


def _place(part: Part) -> int | None:
    return part.said.place if part.said is not None else None


def _reach(part: Part) -> tuple[int, int] | None:
    """The first and the last block of the lesson that a part has shots of; None if unknown."""
    ranks = [_RANK[block] for block in part.blocks if block is not None]
    return (min(ranks), max(ranks)) if ranks and None not in part.blocks else None


def _ranked(parts: Sequence[Part]) -> bool:
    """Whether places or blocks put every part clearly behind the one before it."""
    places = [place for part in parts if (place := _place(part)) is not None]
    if len(places) == len(parts):
        return len(set(places)) == len(places)
    reaches = [reach for part in parts if (reach := _reach(part)) is not None]
    if len(reaches) < len(parts):
        return False
    return all(one[1] < other[0] for one, other in pairwise(reaches))


def _against(parts: Sequence[Part], indexes: Sequence[int]) -> bool:
    """Whether a file that is called "after" was hit before one that is called "before"."""
    first: dict[Block, int] = {}
    last: dict[Block, int] = {}
    place_of = {index: place for place, index in enumerate(indexes)}
    start = 0
    for part in parts:
        places = [place_of[start + at] for at in range(len(part.drafts.where))]
        start += len(places)
        if part.by_name is not None and places:
            first[part.by_name] = min(*places, first.get(part.by_name, len(indexes)))
            last[part.by_name] = max(*places, last.get(part.by_name, -1))
    later = (Block.AFTER, Block.CLOSING)
    return any(first.get(b, len(indexes)) < last.get(Block.BEFORE, -1) for b in later)


def _time_order(drafts: Drafts, *, numbers: bool) -> Sequence[int]:
    """Indexes in time order: by time where all have one, else by unique number, else as filed."""
    indexes = range(len(drafts.where))
    times = [t for t in drafts.times if t is not None]
    if any(t.tzinfo is not None for t in times):
        times = [t.replace(tzinfo=None) for t in times]
    if len(times) == len(indexes):
        backwards = all(a >= b for a, b in pairwise(times))
        return _sorted(reversed(indexes) if backwards else indexes, times)
    if numbers:
        return _sorted(indexes, [n or 0 for n in drafts.numbers])
    return indexes


def _sorted(indexes: Iterable[int], keys: Sequence[datetime] | Sequence[int]) -> Sequence[int]:
    found = sorted(indexes, key=keys.__getitem__)
    plain = range(len(found))
    return plain if found == list(plain) else found
