"""The flights of blocks' middle shots seen from the side, for a quiet line on the page."""

from collections.abc import Sequence

import numpy as np

from recapgen.golf.clubs import Family
from recapgen.golf.flight import Launch, Trajectory
from recapgen.golf.flown_together import tracks_together
from recapgen.golf.launches import Readings, launches_of
from recapgen.model.carry import FlightLine
from recapgen.model.quantity import Quantity

ENOUGH_POINTS = 3


def flight_lines(
    blocks: Sequence[tuple[Sequence[Readings], Family | None]],
) -> list[FlightLine | None]:
    """Of each block, from its medians of launch angle, ball speed and spin; straight, for the eye.

    None where no shot has both a ball speed and a launch angle, or the ball would not fly. All
    fly through standard air, together.
    """
    middles = [_middle(shots, family) for shots, family in blocks]
    ways = iter(tracks_together([middle for middle in middles if middle is not None]))
    return [_line(*next(ways)) if middle is not None else None for middle in middles]


def _middle(shots: Sequence[Readings], family: Family | None) -> Launch | None:
    """The middle shot of a block, (1,)."""
    whole = [s for s in shots if Quantity.BALL_SPEED in s and Quantity.LAUNCH_ANGLE in s]
    if not whole:
        return None
    read, _ = launches_of(whole, family)
    straight = np.zeros(1)
    return Launch(
        np.atleast_1d(np.median(read.ball_speed_mps)),
        np.atleast_1d(np.median(read.angle_deg)),
        straight,
        np.atleast_1d(np.median(read.spin_rpm)),
        straight,
    )


def _line(way: Trajectory) -> FlightLine | None:
    if len(way.distance_m) < ENOUGH_POINTS:
        return None
    top = int(np.argmax(way.height_m))
    return FlightLine(
        distance_m=tuple(way.distance_m.tolist()),
        height_m=tuple(way.height_m.tolist()),
        apex_m=(float(way.distance_m[top]), float(way.height_m[top])),
        carry_m=float(way.distance_m[-1]),
    )
