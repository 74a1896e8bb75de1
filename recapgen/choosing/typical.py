"""The typical clip: the filmed shot nearest to the middle of its block."""

from collections.abc import Sequence
from math import isfinite, nan

import numpy as np
from msgspec import Struct

from recapgen.evidence.phases import AFTER, BEFORE, phase, robust_sd
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, SortedShot

_TOO_FAR = 1.0  # robust standard deviations of the lesson's number


class TypicalShot(Struct, frozen=True):
    """The filmed shots of a block, by how near they lie to its middle.

    ``shot`` is the number of the nearest, None where no filmed shot is typical; ``position``
    its place among the block's readings, from 1. ``order`` holds the numbers of all these
    readings in time order, ``ranking`` those filmed shots that could stand for the block,
    nearest first, mishits not among them.
    """

    shot: int | None
    position: int | None
    order: tuple[int, ...]
    ranking: tuple[int, ...]

    @property
    def of(self) -> int:
        return len(self.order)


def typical_shot(
    shots: Sequence[SortedShot],
    block: Block,
    filmed: Sequence[int],
    judged: Sequence[Quantity],
) -> TypicalShot | None:
    """Among the ``filmed`` shots (by number) that are no mishits, the one nearest the middle.

    ``judged`` are the lesson's number and, after it, what is guarded. The middle is the median of
    all the block's shots; distance is the mean over ``judged``, each in robust standard deviations,
    over those that the shot has a reading of. A shot of at most one in the number goes before one
    further off; the number settles a tie, then the earliest shot. ``shot`` is None where every
    candidate lies more than one off in the number, or none was filmed. Gives None where ``judged``
    is empty or the block holds no reading of the number.
    """
    if not judged:
        return None
    number = judged[0]
    readings = phase(shots, BEFORE if block in BEFORE else AFTER, number)  # flags as shown
    in_block = [s for s in shots if s.block is block and s.shot.number in readings.numbers]
    if not in_block:
        return None
    mishits = {n for n, bad in zip(readings.numbers, readings.mishit, strict=True) if bad}
    away = {q: _away([s.shot.readings.get(q, nan) for s in in_block]) for q in judged}
    candidates = [
        i
        for i, s in enumerate(in_block)
        if s.shot.number in filmed and s.shot.number not in mishits
    ]
    means = {i: float(np.nanmean([away[q][i] for q in judged])) for i in candidates}
    nearest = sorted(
        candidates, key=lambda i: (away[number][i] > _TOO_FAR, means[i], away[number][i], i)
    )
    found = next((i for i in nearest[:1] if away[number][i] <= _TOO_FAR), None)
    return TypicalShot(
        shot=None if found is None else in_block[found].shot.number,
        position=None if found is None else found + 1,
        order=tuple(s.shot.number for s in in_block),
        ranking=tuple(in_block[i].shot.number for i in nearest),
    )


def _away(values: list[float]) -> list[float]:
    """Distance of each from the median, in robust standard deviations; nan stays nan."""
    read = np.array([v for v in values if isfinite(v)])
    if not len(read):
        return values
    middle, usual = float(np.median(read)), robust_sd(read)
    if usual == 0:
        return [nan if not isfinite(v) else 0.0 if v == middle else np.inf for v in values]
    return [abs(v - middle) / usual for v in values]
