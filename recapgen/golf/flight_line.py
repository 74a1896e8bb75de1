"""The flight of a block's middle shot seen from the side, for one quiet line on the page."""

from collections.abc import Sequence

import numpy as np

from recapgen.golf.clubs import Family
from recapgen.golf.flight import Launch, Weather, track
from recapgen.golf.launches import Readings, launches_of
from recapgen.model.carry import FlightLine
from recapgen.model.quantity import Quantity

ENOUGH_POINTS = 3


def flight_line(
    shots: Sequence[Readings], family: Family | None, weather: Weather | None = None
) -> FlightLine | None:
    """From the medians of launch angle, ball speed and spin; straight, for the eye only.

    None where no shot has both a ball speed and a launch angle, or the ball would not fly.
    """
    whole = [s for s in shots if Quantity.BALL_SPEED in s and Quantity.LAUNCH_ANGLE in s]
    if not whole:
        return None
    read, _ = launches_of(whole, family)
    straight = np.zeros(1)
    middle = Launch(
        np.atleast_1d(np.median(read.ball_speed_mps)),
        np.atleast_1d(np.median(read.angle_deg)),
        straight,
        np.atleast_1d(np.median(read.spin_rpm)),
        straight,
    )
    (way,) = track(middle, weather)
    if len(way.distance_m) < ENOUGH_POINTS:
        return None
    top = int(np.argmax(way.height_m))
    return FlightLine(
        distance_m=tuple(way.distance_m.tolist()),
        height_m=tuple(way.height_m.tolist()),
        apex_m=(float(way.distance_m[top]), float(way.height_m[top])),
        carry_m=float(way.distance_m[-1]),
    )
