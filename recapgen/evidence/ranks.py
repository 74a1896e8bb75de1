"""Exact chances of rank statistics when nothing changed, counted in whole numbers."""

from bisect import bisect_right
from functools import cache
from itertools import accumulate
from math import comb, factorial, floor, sqrt
from statistics import NormalDist

import numpy as np

from recapgen.evidence.arrays import Floats

# Beyond these sizes the normal curve agrees to the third decimal, and counting gets slow.
_PAIRS_COUNTED = 10_000
_TREND_COUNTED = 60


def interval_rank(n: int, m: int, one_in: int) -> int:
    """Rank, from 1, of the pairwise difference that bounds the shift on either side.

    The largest k with P(U <= k - 1) <= 1 / ``one_in``, equality included, U being the
    Mann-Whitney count of ``n`` against ``m`` shots without ties; 0 where no difference
    is far enough out. Two-sided 90%: ``one_in`` = 20; 80%: 10.
    """
    n, m = min(n, m), max(n, m)
    if n == 0:
        return 0
    if n * m > _PAIRS_COUNTED:
        z = NormalDist().inv_cdf(1 - 1 / one_in)
        return max(0, floor(n * m / 2 - z * sqrt(n * m * (n + m + 1) / 12)))
    return bisect_right(_counted_pairs(n, m), comb(n + m, n) // one_in)


def chance_of_so_few(wins: int, n: int, m: int) -> float:
    """P(U <= wins) where nothing changed, U counting the pairs won; for at most half of n x m."""
    n, m = min(n, m), max(n, m)
    if n * m > _PAIRS_COUNTED:
        spread = sqrt(n * m * (n + m + 1) / 12)
        return NormalDist().cdf((wins + 0.5 - n * m / 2) / spread)
    return _counted_pairs(n, m)[wins] / comb(n + m, n)


def chance_of_trend(values: Floats) -> float:
    """One-sided chance that shuffled readings rise at least as steadily (Kendall 1938).

    ``values`` (n,) in time order. Ties count as half a rise, half a fall, which errs on
    the side of no trend.
    """
    n = len(values)
    later_minus_earlier = (values[None, :] - values[:, None])[np.triu_indices(n, 1)]
    score = int(np.sign(later_minus_earlier).sum())
    pairs = n * (n - 1) // 2
    if n > _TREND_COUNTED:
        spread = sqrt(n * (n - 1) * (2 * n + 5) / 18)
        return 1 - NormalDist().cdf((score - 1) / spread)
    return _counted_orders(n)[(pairs - score) // 2] / factorial(n)


@cache
def _counted_pairs(n: int, m: int) -> list[int]:
    """Cumulative counts of U = 0, 1, ... n m // 2 over all ways to mix n and m shots.

    Coefficients of the Gaussian binomial, the product of (1 - x^(m+i)) / (1 - x^i).
    """
    half = n * m // 2
    counts = [1] + [0] * half
    for i in range(1, n + 1):
        for u in range(half, m + i - 1, -1):
            counts[u] -= counts[u - m - i]
        for u in range(i, half + 1):
            counts[u] += counts[u - i]
    return list(accumulate(counts))


@cache
def _counted_orders(n: int) -> list[int]:
    """Cumulative counts of 0, 1, ... n (n - 1) / 2 falls over all orders of n readings."""
    counts = [1]
    for i in range(2, n + 1):
        longer = [0] * (len(counts) + i - 1)
        for falls, orders in enumerate(counts):
            for more in range(i):
                longer[falls + more] += orders
        counts = longer
    return list(accumulate(counts))
