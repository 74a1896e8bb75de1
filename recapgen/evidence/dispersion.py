"""Where the balls finished: the circle that holds half of them."""

from collections.abc import Sequence
from math import comb, isfinite, nan

import numpy as np

from recapgen.evidence.arrays import Floats
from recapgen.evidence.phases import AFTER, BEFORE
from recapgen.model.evidence import Circle, DispersionChange, Interval
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, ShotStatus, SortedShot

_CIRCLE_FROM = 3
_INTERVAL_FROM = 8

_MEASURED = (
    (Quantity.CARRY, Quantity.CARRY_SIDE),
    (Quantity.TOTAL, Quantity.TOTAL_SIDE),
)


def dispersion_change(shots: Sequence[SortedShot]) -> DispersionChange | None:
    """Where the balls landed, or else where they stopped; None where it was not measured."""
    for distance, side in _MEASURED:
        before, after = (_points(shots, blocks, distance, side) for blocks in (BEFORE, AFTER))
        if min(len(before), len(after)) >= _CIRCLE_FROM:
            return DispersionChange(
                circle(before), circle(after), stopped=distance is Quantity.TOTAL
            )
    return None


def circle(points_m: Floats) -> Circle:
    """Round the medians of distance and side, (n, 2) in metres, n > 0; mishits count.

    The radius is the median of the balls' own distances from that middle. Its interval
    lies between two of them (order statistics, at least 90%).
    """
    middle = np.median(points_m, axis=0)
    away = np.sort(np.hypot(*(points_m - middle).T))
    n = len(away)
    interval = None
    if n >= _INTERVAL_FROM:
        rank = _median_rank(n)
        interval = Interval(float(away[rank - 1]), float(away[n - rank]))
    return Circle(n, float(middle[0]), float(middle[1]), float(np.median(away)), interval)


def _points(
    shots: Sequence[SortedShot], blocks: tuple[Block, ...], distance: Quantity, side: Quantity
) -> Floats:
    rows = [
        (s.shot.readings.get(distance, nan), s.shot.readings.get(side, nan))
        for s in shots
        if s.block in blocks and s.status in (ShotStatus.USED, ShotStatus.NOT_READ)
    ]
    kept = [row for row in rows if all(map(isfinite, row))]
    return np.array(kept, dtype=np.float64).reshape(-1, 2)


def _median_rank(n: int) -> int:
    """Largest k with P(Binomial(n, 1/2) <= k - 1) <= .05; at least 1 from n = 5."""
    below, rank = 0, 0
    while 20 * (below + comb(n, rank)) <= 2**n:
        below += comb(n, rank)
        rank += 1
    return rank
