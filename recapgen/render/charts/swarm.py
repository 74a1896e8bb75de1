"""Dots that would lie on each other step aside, so that every shot can be seen."""

from collections.abc import Sequence

_SLACK = 1e-6
_MOST_PX = 150.0  # a row grows no higher than this; beyond it dots move closer together


def step_aside(places_px: Sequence[float], reach_px: float) -> tuple[float, ...]:
    """How far each dot moves off the row's middle line, in the order given.

    Taken from left to right, every dot goes to the free place nearest to the line, where
    it keeps ``reach_px`` (a dot and its air) from all others. Equal places stack evenly.
    """
    order = sorted(range(len(places_px)), key=lambda i: (places_px[i], i))
    set_down: list[tuple[float, float]] = []
    aside = [0.0] * len(places_px)
    for i in order:
        x = places_px[i]
        near = [(px, off) for px, off in set_down if abs(px - x) < reach_px]
        aside[i] = _nearest_free(x, near, reach_px)
        set_down.append((x, aside[i]))
    return _within_reason(aside)


def _nearest_free(x: float, near: list[tuple[float, float]], reach_px: float) -> float:
    """The place nearest to the line, above it if both are as near."""
    taken = []
    for px, off in near:
        rise = (reach_px**2 - (px - x) ** 2) ** 0.5
        taken.append((off - rise, off + rise))
    below = _first_free(taken)
    above = _first_free([(-high, -low) for low, high in taken])
    return below if round(below, 3) < round(above, 3) else -above


def _first_free(taken: list[tuple[float, float]]) -> float:
    """The least distance from 0 upwards that lies in none of the stretches ``taken``."""
    free = 0.0
    for low, high in sorted(taken):
        if low + _SLACK < free < high - _SLACK:
            free = high
    return free


def _within_reason(aside: list[float]) -> tuple[float, ...]:
    tall = max(aside, default=0.0) - min(aside, default=0.0)
    squeeze = min(1.0, _MOST_PX / tall) if tall else 1.0
    return tuple(off * squeeze for off in aside)
