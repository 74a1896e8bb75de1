"""Start, top and finish of a swing, estimated from how fast the picture changes."""

import numpy as np
import numpy.typing as npt
from scipy.ndimage import gaussian_filter1d

from recapgen.clips.movement import Movement, Signal
from recapgen.model.filming import Position

_STEP_S = 0.005
_SMOOTHING_S = 0.02
_TOP_BEFORE_S = (0.5, 0.12)  # a downswing lasts between a tenth and half a second
_BACKSWING_S = (0.25, 1.6)  # before the top
_FOLLOWS_S = (0.2, 1.5)  # after the strike
_REST = 0.05  # of the fastest movement around the strike counts as resting
_RESTS_FOR_S = 0.08
_TURNS_BELOW = 0.6  # of the fastest: a top is where the club all but stops


def find_positions(movement: Movement, strike_s: float) -> dict[Position, float]:
    """Seconds from the first picture for those that can be found; the strike is among them."""
    found = {Position.IMPACT: strike_s}
    if not len(movement.times_s):
        return found
    times = np.arange(movement.times_s[0], movement.times_s[-1], _STEP_S)
    speed = np.interp(times, movement.times_s, movement.speed)
    speed = gaussian_filter1d(speed, _SMOOTHING_S / _STEP_S, mode="nearest")
    fastest = float(speed[np.abs(times - strike_s) <= _TOP_BEFORE_S[1] * 2].max(initial=0.0))
    if fastest <= 0:
        return found
    resting = _rests(speed < _REST * fastest)
    if (top_s := _top(times, speed, strike_s, fastest)) is not None:
        found[Position.TOP] = top_s
        earlier = (times >= top_s - _BACKSWING_S[1]) & (times <= top_s - _BACKSWING_S[0])
        if (still := np.flatnonzero(earlier & resting)).size:
            found[Position.START] = float(times[still[-1]])
    later = (times >= strike_s + _FOLLOWS_S[0]) & (times <= strike_s + _FOLLOWS_S[1])
    if (still := np.flatnonzero(later & resting)).size:
        found[Position.FINISH] = float(times[still[0]])
    return {position: found[position] for position in Position if position in found}


def _top(times: Signal, speed: Signal, strike_s: float, fastest: float) -> float | None:
    """The slowest moment before the strike, if it is one between two faster ones."""
    window = np.flatnonzero(
        (times >= strike_s - _TOP_BEFORE_S[0]) & (times <= strike_s - _TOP_BEFORE_S[1])
    )
    if not window.size:
        return None
    turns = int(window[np.argmin(speed[window])])
    if turns in (window[0], window[-1]) or speed[turns] > _TURNS_BELOW * fastest:
        return None
    return float(times[turns])


def _rests(slow: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    """Where it is slow and has been, or will be, for a while: on either side."""
    span = round(_RESTS_FOR_S / _STEP_S)
    counts = np.convolve(slow, np.ones(span, np.int64))
    for_a_while_after = counts[span - 1 :] == span
    for_a_while_before = counts[: len(slow)] == span
    rests: npt.NDArray[np.bool_] = slow & (for_a_while_after | for_a_while_before)
    return rests
