"""How tightly shots lie together, then and now."""

from math import exp, log, sqrt
from statistics import NormalDist

import numpy as np

from recapgen.evidence.arrays import Floats
from recapgen.model.evidence import Interval, SpreadChange, SpreadFinding

_Z95 = NormalDist().inv_cdf(0.975)
_TIGHTER_AT = 0.75
_FINDING_FROM = 10  # shots a block


def spread_change(before: Floats, after: Floats) -> SpreadChange | None:
    """Ratio of the mean absolute deviations about the median, after to before.

    95% interval of Bonett & Seier (2003). None where a block holds fewer than three
    readings or does not vary at all.
    """
    if min(len(before), len(after)) < 3:  # noqa: PLR2004 - two shots say nothing of spread
        return None
    was, now = _mean_deviation(before), _mean_deviation(after)
    if was == 0 or now == 0:
        return None
    ratio = (now * _small_sample(after)) / (was * _small_sample(before))
    half = _Z95 * sqrt(_log_variance(before) + _log_variance(after))
    interval = Interval(exp(log(ratio) - half), exp(log(ratio) + half))
    enough = min(len(before), len(after)) >= _FINDING_FROM
    return SpreadChange(
        before=_median_deviation(before),
        after=_median_deviation(after),
        ratio=ratio,
        ci95=interval,
        finding=_finding(ratio, interval) if enough else SpreadFinding.CANNOT_TELL,
    )


def _finding(ratio: float, interval: Interval) -> SpreadFinding:
    if interval.high < 1 and ratio <= _TIGHTER_AT:
        return SpreadFinding.TIGHTER
    if interval.low > 1 and ratio >= 1 / _TIGHTER_AT:
        return SpreadFinding.WIDER
    return SpreadFinding.CANNOT_TELL


def _mean_deviation(values: Floats) -> float:
    return float(np.abs(values - np.median(values)).mean())


def _median_deviation(values: Floats) -> float:
    return float(np.median(np.abs(values - np.median(values))))


def _small_sample(values: Floats) -> float:
    return len(values) / (len(values) - 1)


def _log_variance(values: Floats) -> float:
    """Variance of the log of the mean absolute deviation."""
    deviation = _mean_deviation(values)
    lean = (float(values.mean()) - float(np.median(values))) / deviation
    tails = float(values.var(ddof=1)) / deviation**2
    return (tails + lean**2 - 1) / len(values)
