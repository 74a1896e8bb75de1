"""A window to hit: who is inside, and did the middle cross it."""

import numpy as np
import numpy.typing as npt

from recapgen.evidence.arrays import Floats
from recapgen.evidence.share import share, share_change
from recapgen.model.evidence import ShareChange
from recapgen.model.lesson import Direction, Want
from recapgen.model.quantity import Quantity

_ROUNDING = 1e-9  # of the window's ends: what converting units may add


def inside_change(before: Floats, after: Floats, want: Want) -> ShareChange | None:
    """Shots inside then and now, mishits in the count; None without a window or a block."""
    if not len(before) or not len(after):
        return None
    was, now = _inside(before, want), _inside(after, want)
    if was is None or now is None:
        return None
    return share_change(share(int(was.sum()), len(before)), share(int(now.sum()), len(after)))


def counted_as(want: Want, quantity: Quantity) -> Want:
    """What is in or out has a window of its own: in."""
    return Want(Direction.WINDOW, 1.0, 1.0) if quantity.is_outcome else want


def both_inside(before: Floats, after: Floats, want: Want) -> bool:
    """Both medians lie in the window already: distance from its centre says nothing more."""
    if not len(before) or not len(after):
        return False
    medians = _inside(np.array([np.median(before), np.median(after)]), want)
    return medians is not None and bool(medians.all())


def overshot(before: Floats, after: Floats, want: Want, smallest_change: float) -> bool:
    """The median crossed the whole window and left it on the other side.

    Where zero is wanted, all that is nearer to it than ``smallest_change`` is the window.
    """
    if want.direction is Direction.ZERO:
        want = Want(Direction.WINDOW, -smallest_change, smallest_change)
    if not len(before) or not len(after):
        return False
    was, now = (_side(np.array([np.median(block)]), want) for block in (before, after))
    return was is not None and now is not None and bool(was[0] * now[0] < 0)


def _inside(values: Floats, want: Want) -> npt.NDArray[np.bool_] | None:
    """Both ends belong to the window."""
    side = _side(values, want)
    return None if side is None else side == 0


def _side(values: Floats, want: Want) -> npt.NDArray[np.int64] | None:
    """-1 below the window, 0 inside, +1 above; None where there is no window."""
    if want.low is None or want.high is None:
        return None
    slack = _ROUNDING * max(abs(want.low), abs(want.high))
    above, below = values > want.high + slack, values < want.low - slack
    return above.astype(np.int64) - below.astype(np.int64)
