"""Was the number already moving before anything was changed?"""

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from recapgen.evidence.arrays import Floats
from recapgen.evidence.phases import Phase
from recapgen.evidence.ranks import chance_of_trend
from recapgen.evidence.shift import shift_between
from recapgen.evidence.verdict import lowered, rounding
from recapgen.model.evidence import DriftFinding, Verdict

_CHECKED_FROM = 6  # before-shots
_CLEAR_AT = 0.01
_GOES_ON = 0.5
"""Of a trend seen in so few balls, so much is taken to be real; the rest is luck."""
_CLOSING_COUNTS_FROM = 3  # shots in each of the two before-blocks


class Trend(Struct, frozen=True):
    """``predicted``: what the before-block's own trend would have brought by the after-block.

    On the good scale, all of it. ``clear`` where a steady trend like it is rare by chance.
    """

    predicted: float
    clear: bool


def trend(before: Phase, good: Floats, after: Phase) -> Trend | None:
    """Theil-Sen slope over the before-balls, times the distance of the blocks' mean places.

    Balls of a drill or a warm-up do not count in it: a slope from a handful of balls, drawn out
    over a bucket, would explain anything. ``good`` (n,) are the before-readings on the good
    scale. None for a short block.
    """
    if len(before) < _CHECKED_FROM:
        return None
    predicted = slope(before.order, good) * float(after.order.mean() - before.order.mean())
    towards = good if predicted > 0 else -good
    return Trend(predicted, chance_of_trend(towards) <= _CLEAR_AT)


def after_drift(
    verdict: Verdict, estimate: float, smallest_change: float, was: Trend
) -> tuple[Verdict, DriftFinding]:
    """The verdict lowered where the trend accounts for the change.

    All the way where the trend is clear and, gone on, leaves less than what matters; one level
    where half of it does. "No change" and "too early" stay, with a clear trend that is worth
    a sentence reported beside them.
    """
    slack = rounding(estimate, was.predicted, smallest_change)
    if verdict not in {Verdict.CHANGED, Verdict.PROBABLY, Verdict.OTHER_WAY}:
        worth_telling = was.clear and abs(was.predicted) >= smallest_change - slack > 0
        return verdict, DriftFinding.CLEARLY_MOVING if worth_telling else DriftFinding.STEADY
    way = -1 if verdict is Verdict.OTHER_WAY else 1

    def explained(share: float) -> bool:
        brought = way * share * was.predicted
        return brought > slack and way * estimate - brought < smallest_change - slack

    if was.clear and explained(1.0):
        return Verdict.TOO_EARLY, DriftFinding.CLEARLY_MOVING
    if explained(_GOES_ON):
        return lowered(verdict), DriftFinding.MOVING
    return verdict, DriftFinding.STEADY


def slope(order: npt.NDArray[np.int64], values: Floats) -> float:
    """Median slope of all pairs of shots, per ball (Theil 1950, Sen 1968)."""
    first, second = np.triu_indices(len(values), 1)
    return float(np.median((values[second] - values[first]) / (order[second] - order[first])))


def closing_shift(before: Phase) -> float | None:
    """How far the closing block's readings lie from the opening ones; None for too few."""
    opening, closing = before.values[~before.closing], before.values[before.closing]
    if min(len(opening), len(closing)) < _CLOSING_COUNTS_FROM:
        return None
    return shift_between(opening, closing).estimate
