"""How far one block of shots lies from another, and how sure that is.

Take every before-shot, pair it with every after-shot, look at the middle difference
(Hodges & Lehmann 1963). The interval is the exact one of Mann and Whitney's count, so it
holds from three shots a block whatever the shape of the readings.
"""

from math import hypot, inf, sqrt
from statistics import NormalDist

import numpy as np

from recapgen.evidence.arrays import Floats
from recapgen.evidence.ranks import chance_of_so_few, interval_rank
from recapgen.model.evidence import Interval, Shift
from recapgen.model.lesson import Direction, Want

WIDENING = 1.15
"""Shots close in time resemble each other; this keeps chance findings near their rate."""

Z90 = NormalDist().inv_cdf(0.95)
Z80 = NormalDist().inv_cdf(0.90)


def shift_between(before: Floats, after: Floats) -> Shift:
    """After minus before, with exact 90% and 80% intervals; both blocks need a reading.

    ``before`` (n,), ``after`` (m,), one unit. A side that no difference bounds is infinite.
    """
    return _middle_of(np.sort((after[:, None] - before[None, :]).ravel()), len(before), len(after))


def _middle_of(differences: Floats, n: int, m: int) -> Shift:
    def interval(one_in: int) -> Interval:
        rank = interval_rank(n, m, one_in)
        if rank == 0:
            return Interval(-inf, inf)
        return Interval(float(differences[rank - 1]), float(differences[-rank]))

    pairs = n * m
    middle = (differences[(pairs - 1) // 2] + differences[pairs // 2]) / 2
    return Shift(float(middle), interval(20), interval(10))


def widened(shift: Shift, setup_sd: float) -> Shift:
    """Both half-widths x 1.15, and the set-up's own error added in quadrature.

    ``setup_sd`` is the error of putting device, ball or line down again (0: not moved);
    it enters twice, once for each block, and no number of shots makes it smaller.
    """

    def wider(interval: Interval, z: float) -> Interval:
        below, above = (
            hypot(WIDENING * side, z * sqrt(2) * setup_sd)
            for side in (shift.estimate - interval.low, interval.high - shift.estimate)
        )
        return Interval(shift.estimate - below, shift.estimate + above)

    return Shift(shift.estimate, wider(shift.ci90, Z90), wider(shift.ci80, Z80))


def goodness(values: Floats, want: Want) -> Floats:
    """Readings on the scale where more is better: for a window, nearer to its centre."""
    match want.direction:
        case Direction.HIGHER:
            return values
        case Direction.LOWER:
            return -values
        case Direction.WINDOW:
            return -np.abs(values - centre(want))
        case Direction.ZERO:
            return -np.abs(values)


def centre(want: Want) -> float:
    """Middle of a window; ValueError for a want without both ends."""
    if want.low is None or want.high is None:
        raise ValueError("only a window has a centre")
    return (want.low + want.high) / 2


def pairs_won(before: Floats, after: Floats) -> float:
    """Share of all before-after pairs in which the after-shot is better; ties count half."""
    differences = after[:, None] - before[None, :]
    return float(np.mean(differences > 0) + np.mean(differences == 0) / 2)


def chance_of_such_a_shift(before: Floats, after: Floats) -> float:
    """Two-sided exact chance of a difference like this where nothing changed.

    Ties count against a difference, as they do in the interval.
    """
    differences = after[:, None] - before[None, :]
    against = min(int((differences <= 0).sum()), int((differences >= 0).sum()))
    if 2 * against >= differences.size:
        return 1.0
    return min(1.0, 2 * chance_of_so_few(against, len(before), len(after)))
