"""Where a lesson's shots pause: what may be a block is hit without a break."""

import itertools
from collections.abc import Sequence
from statistics import median

from msgspec import Struct

from recapgen.model.shots import Shot, ShotTable

_PAUSE_S = 90.0  # nobody talks for less between two blocks
_OF_PACE = 3.0  # times the usual time from ball to ball
_LEAD = 2.0  # times the longest that is no pause, or it cannot be told from them
FEWEST = 3  # balls that make a block


class UnbrokenRun(Struct, frozen=True):
    """Shots ``first`` to ``last``, hit without a break; ``rested_s`` is the pause before them."""

    first: int
    last: int
    balls: int
    rested_s: float
    clubs: frozenset[str]


def stretches_of(table: ShotTable) -> tuple[UnbrokenRun, ...]:
    """The stretches between clear pauses, in the order of time; none where nothing is clear.

    A pause is clear where it is a minute and a half, three times the usual time from ball to
    ball, and twice the longest time that is no pause. Every stretch has to be one run of the
    numbers by which the notes call shots.
    """
    timed = [(shot.time.replace(tzinfo=None), shot) for shot in table.shots if shot.time]
    if len(timed) != len(table.shots) or table.order_open or table.by_hand or not timed:
        return ()
    timed.sort(key=lambda each: (each[0], each[1].number))
    gaps = [(b - a).total_seconds() for (a, _), (b, _) in itertools.pairwise(timed)]
    least = max(_PAUSE_S, _OF_PACE * median(gaps)) if gaps else 0.0
    pauses = [gap for gap in gaps if gap >= least]
    others = [gap for gap in gaps if gap < least]
    if not pauses or (others and min(pauses) < _LEAD * max(others)):
        return ()
    parts: list[list[Shot]] = [[timed[0][1]]]
    rested = [0.0]
    for gap, (_, shot) in zip(gaps, timed[1:], strict=True):
        if gap >= least:
            parts.append([])
            rested.append(gap)
        parts[-1].append(shot)
    made = [_stretch(part, rest) for part, rest in zip(parts, rested, strict=True)]
    return tuple(made) if _runs(made, table) else ()


def _stretch(shots: Sequence[Shot], rested_s: float) -> UnbrokenRun:
    numbers = [shot.number for shot in shots]
    clubs = frozenset(shot.club for shot in shots if shot.club is not None)
    return UnbrokenRun(min(numbers), max(numbers), len(numbers), rested_s, clubs)


def _runs(stretches: Sequence[UnbrokenRun], table: ShotTable) -> bool:
    """Whether each holds all numbers of the table from its first to its last."""
    there = sorted(shot.number for shot in table.shots)
    inside = [sum(each.first <= number <= each.last for number in there) for each in stretches]
    return inside == [each.balls for each in stretches]
