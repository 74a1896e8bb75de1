"""Where it is too early to tell: which way it leans, and how many balls would settle it."""

from math import ceil, hypot, sqrt

from recapgen.evidence.share import MATTERS
from recapgen.evidence.shift import WIDENING, Z80
from recapgen.model.evidence import ShareChange, Shift

_CHANCE = 0.8416  # standard normal quantile of four in five
_FEWEST, _MOST, _STEP = 10, 60, 5
"""Balls a block: fewer are never advised, more do not fit into a lesson."""


def leaning(exact: Shift) -> int:
    """+1 or -1 where the exact 80% interval lies on one side of nothing, else 0."""
    return (exact.ci80.low > 0) - (exact.ci80.high < 0)


def balls_for_shift(
    exact: Shift, n: int, m: int, smallest_change: float, setup_sd: float
) -> int | None:
    """Balls a block that would show a change of this size as at least probable, four times in five.

    The size is the estimate, or what matters where that is larger. None where the set-up's
    own error hides such a change from any number of balls, or a lesson cannot hold them.
    """
    one_shot_sd = (exact.ci80.high - exact.ci80.low) / (2 * Z80 * sqrt(1 / n + 1 / m))
    size = max(abs(exact.estimate), smallest_change)
    for balls in range(_FEWEST, _MOST + 1, _STEP):
        error = one_shot_sd * sqrt(2 / balls)
        half = hypot(WIDENING * Z80 * error, Z80 * sqrt(2) * setup_sd)
        if balls > min(n, m) and size - _CHANCE * error >= half:
            return balls
    return None


def hidden(size: float, setup_sd: float) -> bool:
    """No number of balls shows a change of ``size`` past the set-up's or the air's own error."""
    return setup_sd > 0 and size <= Z80 * sqrt(2) * setup_sd


def balls_for_share(change: ShareChange) -> int | None:
    """As ``balls_for_shift``, for the share inside a window."""
    size = max(abs(change.difference), MATTERS)
    shares = [(s.count + 1) / (s.n + 2) for s in (change.before, change.after)]
    variance = sum(p * (1 - p) for p in shares)
    balls = _STEP * ceil(variance * ((Z80 + _CHANCE) / size) ** 2 / _STEP)
    balls = max(balls, _FEWEST, _STEP * (min(change.before.n, change.after.n) // _STEP + 1))
    return balls if balls <= _MOST else None
