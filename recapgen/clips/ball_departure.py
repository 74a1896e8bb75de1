"""When the marked ball left its place.

A ball at rest looks the same in every picture until it is struck, and from then on its place
stays empty. A club that waits before it or passes over it changes the place only for a while.
"""

import numpy as np
import numpy.typing as npt

from recapgen.clips.strike import BallGone
from recapgen.tools.media.senses import Glimpses

_FEWEST = 12
_SETTLED = 0.25  # of the pictures at either end show the place with the ball and without it
_LEAST_CHANGE = 6.0  # of 255, between with and without
_SPREAD = 4.0  # the change has to be this many times what happens by itself
_HALF = 0.5


def ball_gone(place: Glimpses) -> BallGone | None:
    """The moment from close-ups of the ball's ``place``; None where there is no clear one."""
    n = len(place.times_s)
    if n < _FEWEST:
        return None
    there, empty = _ends(place.grey)
    change = float(np.abs(empty - there).mean())
    near_there = np.abs(place.grey - there).mean(axis=(1, 2))
    near_empty = np.abs(place.grey - empty).mean(axis=(1, 2))
    settled = max(2, round(n * _SETTLED))
    noise = float(np.median(near_there[:settled]) + np.median(near_empty[-settled:])) / 2
    if change < max(_LEAST_CHANGE, _SPREAD * noise):
        return None
    with_ball = np.flatnonzero(near_there < _HALF * change)
    if not with_ball.size or with_ball[-1] + 1 >= n:
        return None
    last = int(with_ball[-1])
    before_s, after_s = float(place.times_s[last]), float(place.times_s[last + 1])
    return BallGone((before_s + after_s) / 2, (after_s - before_s) / 2)


def _ends(grey: npt.NDArray[np.uint8]) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """The middle of the place as it looks before and after: the median of each end."""
    settled = max(2, round(len(grey) * _SETTLED))
    there = np.median(grey[:settled], axis=0)
    empty = np.median(grey[-settled:], axis=0)
    return there, empty
