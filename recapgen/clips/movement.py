"""How fast the picture changes."""

import numpy as np
import numpy.typing as npt
from msgspec import Struct
from scipy.ndimage import uniform_filter1d

from recapgen.tools.media.senses import Glimpses

Signal = npt.NDArray[np.float64]

_FEWEST_GLIMPSES = 5
_MOVES_WITHIN_S = 0.15
_NO_SWING_S = 0.15  # at either end: what moves there is the phone, picked up or put down
_MOVES_ENOUGH = 0.5  # of the clip's fastest movement
_STRUCK_AFTER_S = (-0.08, 0.16)
_PEAKS_APART_S = 0.07
_NEXT_SWING_S = 0.45
_AS_FAST = 0.7
_THROUGH_S = 0.22  # how long a swing is fast
_EVENED_OVER_S = 0.1  # a slowed film often shows each picture several times
_SLOWED_FROM_S = 0.65
_SLOWED_IF_DULL_S = 0.2
_SLOW_FACTORS = (2, 4, 8, 16)


class Movement(Struct, frozen=True):
    """How fast the picture changes: ``speed`` (n,) at ``times_s`` (n,), any unit."""

    times_s: Signal
    speed: Signal

    def has_room_at(self, at_s: float) -> bool:
        """Is ``at_s`` far enough from either end for a swing to go through it?"""
        if not len(self.times_s):
            return True
        first_s, last_s = float(self.times_s[0]), float(self.times_s[-1])
        return first_s + _NO_SWING_S <= at_s <= last_s - _NO_SWING_S

    def with_room(self) -> "Movement":
        """Only where a swing may be; all of it where that would leave next to nothing."""
        kept = np.array([self.has_room_at(at_s) for at_s in self.times_s.tolist()], np.bool_)
        if kept.sum() < _FEWEST_GLIMPSES:
            return self
        return Movement(self.times_s[kept], self.speed[kept])

    @property
    def fastest_s(self) -> float:
        if not len(self.speed):
            return 0.0
        return float(self.times_s[int(np.argmax(self.speed))])

    def is_fast_at(self, at_s: float) -> bool:
        """Is the movement within 150 ms of ``at_s`` among the fastest of the clip?"""
        near = self.speed[np.abs(self.times_s - at_s) <= _MOVES_WITHIN_S]
        return bool(len(near) and near.max() >= _MOVES_ENOUGH * self.speed.max() > 0)

    def may_be_struck_at(self, at_s: float) -> bool:
        """Does ``at_s`` fall where a strike falls beside one of the fast movements?

        Seen from the front the club is fastest within 60 ms of the strike, along the line it
        looks fastest up to 130 ms before.
        """
        fast = np.flatnonzero(self.speed >= _MOVES_ENOUGH * self.speed.max(initial=0.0))
        early, late = _STRUCK_AFTER_S
        for peak in fast.tolist():
            around = np.abs(self.times_s - self.times_s[peak]) <= _PEAKS_APART_S
            highest = self.speed[peak] == self.speed[around].max() > 0
            if highest and early <= at_s - self.times_s[peak] <= late:
                return True
        return False

    def swings_after(self, at_s: float) -> bool:
        """Is there a swing about as fast after ``at_s``? What came before it was a rehearsal."""
        later = self.speed[self.times_s >= at_s + _NEXT_SWING_S]
        return bool(len(later) and later.max() >= _AS_FAST * self.speed.max(initial=0.0) > 0)

    def agrees_with(self, at_s: float) -> bool:
        return abs(at_s - self.fastest_s) <= _MOVES_WITHIN_S


def movement_in(glimpses: Glimpses) -> Movement:
    """Change from glimpse to glimpse above the camera's noise, per second, lightly smoothed."""
    times = glimpses.times_s
    if len(times) < _FEWEST_GLIMPSES:
        return Movement(np.zeros(0), np.zeros(0))
    change = np.abs(np.diff(glimpses.grey.astype(np.int16), axis=0)).astype(np.float64)
    noise = float(np.median(change))
    moved = np.clip(change - 4 * noise - 4, 0, 40).mean(axis=(1, 2))
    speed = moved / np.maximum(np.diff(times), 1 / 240)
    return Movement((times[1:] + times[:-1]) / 2, uniform_filter1d(speed, 3, mode="nearest"))


def slowness(movement: Movement, *, dull: bool = False) -> int | None:
    """How many times slower than life the swing seems to play; None where it does not.

    Through the ball the picture moves at half its fastest or more for a fifth to two fifths
    of a second. ``dull`` where the sound has lost its top, as slowed sound has: then less is
    enough. The answer is a power of two, as phones save it.
    """
    movement = movement.with_room()
    if len(movement.speed) < _FEWEST_GLIMPSES:
        return None
    apart_s = float(np.median(np.diff(movement.times_s)))
    speed = uniform_filter1d(movement.speed, max(1, round(_EVENED_OVER_S / apart_s)))
    fast = speed >= speed.max() / 2
    peak = int(np.argmax(speed))
    slower_before = np.flatnonzero(~fast[:peak])
    slower_after = np.flatnonzero(~fast[peak:])
    if not dull and not (slower_before.size and slower_after.size):
        return None  # a phone in the hand moves all the time: no swing is seen to begin and end
    begins_s = movement.times_s[slower_before[-1] if slower_before.size else 0]
    ends_s = movement.times_s[peak + slower_after[0] if slower_after.size else -1]
    lasts_s = float(ends_s - begins_s)
    if lasts_s < (_SLOWED_IF_DULL_S if dull else _SLOWED_FROM_S):
        return None
    return min(_SLOW_FACTORS, key=lambda factor: abs(np.log(lasts_s / _THROUGH_S / factor)))
