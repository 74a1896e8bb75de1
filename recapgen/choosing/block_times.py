"""Which block a clip belongs to by its time alone, where its shot is not known.

Phones and most devices are set by the network: their clocks differ by the time zone, which is a
whole number of quarter-hours, and by little more. A block is believed where only one zone, or
none that says otherwise, puts every clip that has a time inside a block.
"""

import itertools
from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct

from recapgen.model.clock_marks import DAY_S, TimedBlock
from recapgen.model.films import FilmedClip
from recapgen.model.shots import Block, SortedShot

_ZONES_S = 900
_AROUND_S = 45.0  # a clip begins before its shot, and a clock is seldom further off
_APART_S = 60.0  # from any other block, or it may be that one's


class _Span(Struct, frozen=True):
    """A stretch of a block in seconds after some midnight."""

    block: Block
    first_s: float
    last_s: float

    def away_s(self, at_s: float) -> float:
        """How far ``at_s`` is from it, round the clock; 0 within."""
        ways = (at_s, at_s + DAY_S, at_s - DAY_S)
        return min(max(self.first_s - at, at - self.last_s, 0.0) for at in ways)


def blocks_by_time(
    clips: Sequence[FilmedClip], timed: Sequence[TimedBlock], shots: Sequence[SortedShot]
) -> Mapping[FilmedClip, Block]:
    """The block of each clip that has a time and no shot; nothing where it is not clear.

    ``timed`` are the blocks as the notes give them by the phone's clock, else those of ``shots``
    by the device's. A clip whose block is known already, by itself or by its shot, has to agree.
    """
    spans = _noted(timed) or _of_shots(shots)
    with_time = [one for one in clips if one.struck_at is not None]
    if len({span.block for span in spans}) < 2 or not with_time:  # noqa: PLR2004 - one of two
        return {}
    of_shot = {each.shot.number: each.block for each in shots}
    known = [one.clip.block or of_shot.get(one.clip.shot or 0) for one in with_time]
    ways = {
        way
        for zone_s in range(0, DAY_S, _ZONES_S)
        if (way := _placed(with_time, spans, zone_s)) is not None
        and all(said in (None, block) for said, block in zip(known, way, strict=True))
    }
    if len(ways) != 1:
        return {}
    (found,) = ways
    both = zip(with_time, known, found, strict=True)
    return {one: block for one, said, block in both if said is None and one.clip.shot is None}


def _placed(
    clips: Iterable[FilmedClip], spans: Sequence[_Span], zone_s: int
) -> tuple[Block, ...] | None:
    """The block of each clip if the clocks differ by ``zone_s``; None where one is in no block."""
    found = []
    for one in clips:
        at_s = ((one.struck_at or 0.0) + zone_s) % DAY_S
        away = sorted((span.away_s(at_s), span.block) for span in spans)
        nearest_s, block = away[0]
        others = (away_s for away_s, other in away if other is not block)
        if nearest_s > _AROUND_S or min(others) < _APART_S:
            return None
        found.append(block)
    return tuple(found)


def _noted(timed: Sequence[TimedBlock]) -> list[_Span]:
    return [_Span(each.block, each.span.first_s, each.span.end_s) for each in timed]


def _of_shots(shots: Sequence[SortedShot]) -> list[_Span]:
    """The stretches of each block from its first shot to its last, by the clock on the wall."""
    told = [each for each in shots if each.shot.time is not None and each.block is not None]
    if len(told) != len(shots):
        return []
    seconds = sorted((_of_day(each), each.block) for each in told)
    runs = itertools.groupby(seconds, key=lambda each: each[1])
    spans = []
    for block, run in runs:
        at = [second for second, _ in run]
        if block is not None:
            spans.append(_Span(block, at[0], at[-1]))
    return spans


def _of_day(each: SortedShot) -> float:
    time = each.shot.time
    if time is None:
        return 0.0
    return time.hour * 3600.0 + time.minute * 60.0 + time.second + time.microsecond / 1e6
