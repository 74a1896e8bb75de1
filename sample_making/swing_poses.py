"""The invented golfer's swing as key positions: angles and places at thirteen moments.

Frame: x to the target, y from the golfer to the ball, z up; metres, degrees, seconds. A
left-hander is the same swing in a mirror, which the camera holds.

The arms and the club are two levers in tilted planes through the target line: ``arm`` turns
about the lead shoulder, ``club`` about the hands, 0 pointing at the ball, plus to the target.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np
import numpy.typing as npt
from scipy.interpolate import PchipInterpolator

Floats = npt.NDArray[np.float64]

MOMENTS = (
    "address",
    "start",
    "takeaway",
    "half back",
    "top",
    "transition",
    "half down",
    "delivery",
    "impact",
    "release",
    "half through",
    "wrap",
    "finish",
)

# Seconds from impact at a middling tempo.
_TIMES = (-1.50, -0.92, -0.66, -0.44, -0.24, -0.155, -0.088, -0.042, 0.0, 0.042, 0.115, 0.26, 0.48)

_FULL: Mapping[str, tuple[float, ...]] = MappingProxyType(
    {
        "arm": (-15, -15, -42, -88, -138, -126, -92, -52, -12, 22, 78, 122, 138),
        "arm_plane": (75, 75, 68, 58, 48, 52, 60, 68, 74, 70, 58, 56, 62),
        "reach": (0.62, 0.62, 0.62, 0.62, 0.60, 0.61, 0.62, 0.62, 0.62, 0.62, 0.59, 0.46, 0.40),
        "club": (-3, -3, -84, -178, -256, -248, -204, -118, 0, 88, 178, 262, 318),
        "club_plane": (57, 57, 55, 52, 48, 46, 48, 52, 57, 55, 50, 46, 40),
        "chest": (0, 0, -28, -66, -94, -78, -48, -16, 18, 42, 74, 102, 116),
        "hips": (0, 0, -10, -28, -44, -28, 2, 24, 38, 50, 68, 88, 96),
        "bend": (37, 37, 37, 37, 36, 37, 38, 38, 36, 34, 28, 14, 6),
        "side": (4, 4, 3, 1, 0, 3, 7, 11, 14, 16, 15, 8, 2),
        "hips_x": (0, 0, -0.01, -0.02, -0.015, 0.02, 0.05, 0.07, 0.085, 0.10, 0.13, 0.17, 0.19),
        "hips_y": (
            -0.13,
            -0.13,
            -0.13,
            -0.13,
            -0.13,
            -0.14,
            -0.14,
            -0.14,
            -0.13,
            -0.12,
            -0.10,
            -0.06,
            -0.04,
        ),
        "hips_z": (
            0.90,
            0.90,
            0.90,
            0.90,
            0.90,
            0.88,
            0.875,
            0.885,
            0.90,
            0.91,
            0.93,
            0.955,
            0.965,
        ),
        "look": (0, 0, -3, -8, -14, -10, -6, -3, 0, 6, 34, 72, 86),
        "heel": (0, 0, 0, 0, 0, 0, 0.01, 0.02, 0.035, 0.055, 0.10, 0.15, 0.17),
    }
)

_PITCH: Mapping[str, tuple[float, ...]] = MappingProxyType(
    {
        "arm": (-13, -13, -32, -60, -84, -80, -62, -38, -9, 18, 54, 80, 88),
        "arm_plane": (75, 75, 70, 64, 60, 61, 65, 70, 74, 71, 64, 59, 58),
        "reach": (0.62, 0.62, 0.62, 0.62, 0.61, 0.61, 0.62, 0.62, 0.62, 0.62, 0.61, 0.57, 0.55),
        "club": (-2, -2, -52, -112, -160, -156, -124, -74, 0, 46, 104, 150, 164),
        "club_plane": (61, 61, 59, 57, 55, 54, 55, 57, 61, 59, 55, 52, 51),
        "chest": (0, 0, -18, -38, -54, -48, -30, -10, 14, 30, 52, 70, 76),
        "hips": (0, 0, -5, -12, -18, -14, -2, 10, 22, 32, 46, 58, 62),
        "bend": (38, 38, 38, 38, 38, 38, 38, 38, 37, 36, 31, 24, 21),
        "side": (2, 2, 2, 1, 1, 2, 4, 6, 8, 9, 8, 6, 5),
        "hips_x": (0.03, 0.03, 0.03, 0.03, 0.03, 0.04, 0.05, 0.06, 0.065, 0.075, 0.09, 0.11, 0.115),
        "hips_y": (
            -0.13,
            -0.13,
            -0.13,
            -0.13,
            -0.13,
            -0.13,
            -0.13,
            -0.13,
            -0.13,
            -0.12,
            -0.11,
            -0.09,
            -0.09,
        ),
        "hips_z": (
            0.90,
            0.90,
            0.90,
            0.90,
            0.90,
            0.895,
            0.895,
            0.90,
            0.90,
            0.905,
            0.92,
            0.935,
            0.94,
        ),
        "look": (0, 0, -2, -4, -6, -5, -4, -2, 0, 4, 24, 52, 60),
        "heel": (0, 0, 0, 0, 0, 0, 0, 0.005, 0.01, 0.02, 0.045, 0.07, 0.075),
    }
)


@dataclass(frozen=True, slots=True)
class SwingStyle:
    """A habit: ``changes`` add to a track at named moments; ``tempo`` stretches time."""

    base: str = "full"
    changes: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    tempo: float = 1.0

    def tracks(self) -> Mapping[str, Floats]:
        base = {"full": _FULL, "pitch": _PITCH}[self.base]
        tracks = {name: np.array(values, dtype=np.float64) for name, values in base.items()}
        for name, by_moment in self.changes.items():
            for moment, change in by_moment.items():
                tracks[name][MOMENTS.index(moment)] += change
        return tracks


class Tempo:
    """The smooth course of every track; ``at`` takes seconds from impact."""

    def __init__(self, style: SwingStyle) -> None:
        self.times = np.array(_TIMES, dtype=np.float64) * style.tempo
        tracks = style.tracks()
        self._names = tuple(tracks)
        self._course = PchipInterpolator(self.times, np.stack(list(tracks.values()), axis=1))

    def at(self, seconds: float) -> Mapping[str, float]:
        """Before address and after the finish the golfer stands still."""
        inside = min(max(seconds, float(self.times[0])), float(self.times[-1]))
        return dict(zip(self._names, (float(v) for v in self._course(inside)), strict=True))

    def moment(self, name: str) -> float:
        return float(self.times[MOMENTS.index(name)])


STYLES: Mapping[str, SwingStyle] = MappingProxyType(
    {
        "stays down": SwingStyle(),
        # The hips go to the ball and the chest comes up to make room for them.
        "stands up": SwingStyle(
            changes={
                "hips_y": {
                    "transition": 0.03,
                    "half down": 0.07,
                    "delivery": 0.11,
                    "impact": 0.14,
                    "release": 0.14,
                    "half through": 0.11,
                    "wrap": 0.06,
                },
                "hips_z": {
                    "half down": 0.015,
                    "delivery": 0.04,
                    "impact": 0.055,
                    "release": 0.055,
                    "half through": 0.03,
                },
                "bend": {
                    "half down": -4,
                    "delivery": -10,
                    "impact": -16,
                    "release": -16,
                    "half through": -12,
                    "wrap": -6,
                },
            }
        ),
        "centred": SwingStyle(changes={"side": {"half back": 1, "top": 2}}),
        # Off the ball on the way back, and never quite home again.
        "sways": SwingStyle(
            changes={
                "hips_x": {
                    "takeaway": -0.04,
                    "half back": -0.10,
                    "top": -0.13,
                    "transition": -0.13,
                    "half down": -0.13,
                    "delivery": -0.13,
                    "impact": -0.12,
                    "release": -0.12,
                    "half through": -0.12,
                    "wrap": -0.11,
                    "finish": -0.11,
                },
                "hips": {"half back": 10, "top": 16, "impact": -12, "release": -10},
                "side": {"half back": 3, "top": 5, "impact": 2, "half through": 5, "finish": 5},
            }
        ),
        "even pitch": SwingStyle(base="pitch", tempo=1.08),
        # A long way back, then the club gives up at the ball.
        "gives up": SwingStyle(
            base="pitch",
            changes={
                "arm": {"half back": -10, "top": -26, "transition": -24, "half down": -14}
                | {"release": -6, "half through": -22, "wrap": -40, "finish": -46},
                "club": {"half back": -22, "top": -50, "transition": -46, "half down": -30}
                | {"release": -6, "half through": -40, "wrap": -72, "finish": -84},
                "chest": {"top": -16, "transition": -12, "impact": -6}
                | {"half through": -24, "wrap": -38, "finish": -42},
                "hips": {"impact": -10, "half through": -20, "wrap": -30, "finish": -32},
                "look": {"half through": -14, "wrap": -34, "finish": -40},
                "bend": {"half through": 4, "wrap": 9, "finish": 11},
                "heel": {"half through": -0.025, "wrap": -0.05, "finish": -0.055},
            },
        ),
        "turns far": SwingStyle(
            changes={"chest": {"half through": -4, "wrap": -8, "finish": -10}}, tempo=1.06
        ),
        # Mostly arms: the buttons never look away.
        "arms only": SwingStyle(
            changes={
                "chest": {"takeaway": 12, "half back": 28, "top": 40, "transition": 32}
                | {"half down": 16, "half through": -14, "wrap": -26, "finish": -32},
                "hips": {"half back": 16, "top": 26, "transition": 16, "impact": -12}
                | {"half through": -20, "wrap": -30, "finish": -34},
                "arm": {"half back": 6, "top": 24, "transition": 20, "half down": 6}
                | {"wrap": -14, "finish": -22},
                "club": {"top": 34, "transition": 30, "half down": 10}
                | {"wrap": -26, "finish": -40},
                "reach": {"wrap": 0.06, "finish": 0.07},
                "heel": {"half through": -0.05, "wrap": -0.07, "finish": -0.08},
                "look": {"wrap": -14, "finish": -20},
            },
            tempo=1.06,
        ),
        "sweeps up": SwingStyle(
            changes={
                "side": {"half down": 2, "delivery": 4, "impact": 6, "release": 6}
                | {"half through": 4},
                "hips_x": {"top": -0.01, "impact": 0.01},
                "arm": {"impact": -2},
            }
        ),
        # Over the ball with the chest, hands first, and a finish cut short.
        "chops": SwingStyle(
            changes={
                "side": {"transition": -4, "half down": -9, "delivery": -13, "impact": -17}
                | {"release": -18, "half through": -15, "wrap": -6},
                "chest": {"transition": 22, "half down": 22, "delivery": 18, "impact": 12}
                | {"half through": -10, "wrap": -22, "finish": -30},
                "arm_plane": {"transition": 6, "half down": 6},
                "club": {"transition": 14, "half down": 44, "delivery": 34}
                | {"wrap": -40, "finish": -60},
                "arm": {"impact": 6, "release": 4, "half through": -6, "wrap": -24, "finish": -34},
                "reach": {"release": -0.03, "half through": -0.08, "wrap": 0.02, "finish": 0.08},
                "hips": {"half through": -12, "wrap": -24, "finish": -26},
                "heel": {"wrap": -0.05, "finish": -0.06},
            }
        ),
    }
)
