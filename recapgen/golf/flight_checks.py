"""Heights and descents that no flight of a row's own launch can have.

The rows' launches are flown twice more, each time with everything in favour of one end: speed
and angle off by what devices err, spin as far off as it may be or at any rate where it was not
read, a livelier or a duller ball than any, and wind along the line. What lies beyond both, with
some room, is no reading of that ball.
"""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from recapgen.golf.air import Floats
from recapgen.golf.flight import Launch, Weather
from recapgen.golf.flown_together import Flown, fly_together
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import Check, RowRule

Flags = NDArray[np.bool_]

FLOWN_FROM_MPS = 10.0  # a slower ball rolls or hops
WIND_MPS = 9.0
SPEED_OFF = 0.03
ANGLE_OFF_DEG = 2.0
SPIN_OFF = 0.2
MOST_SPIN_RPM = 12_000.0
DRAG_OFF, LIFT_OFF = 0.03, 0.03  # half as much again as balls differ, and twice
SPEED_STEP_MPS, ANGLE_STEP_DEG, SPIN_STEP_RPM = 0.5, 0.5, 250.0
APEX_ROOM, APEX_ROOM_M = 0.15, 2.0
DESCENT_ROOM_DEG = 6.0
STEP_S = 0.2  # off a hundredth of a second by less than 0.05 m and 0.2 deg: little beside the rooms


def no_flight_has(columns: Mapping[Quantity, Floats]) -> list[tuple[RowRule, Flags]]:
    """The rules on apex and descent angle, a flag for each row.

    ``columns`` are in inside units, parallel, NaN where missing: a row without ball speed,
    launch angle or the reading in question breaks no rule.
    """
    seen = {q: columns[q] for q in (Quantity.APEX, Quantity.DESCENT_ANGLE) if q in columns}
    if not seen or Quantity.BALL_SPEED not in columns or Quantity.LAUNCH_ANGLE not in columns:
        return []
    speed, angle = columns[Quantity.BALL_SPEED], columns[Quantity.LAUNCH_ANGLE]
    spin = columns.get(Quantity.SPIN_RATE, np.full_like(speed, np.nan))
    flies = (speed >= FLOWN_FROM_MPS) & (angle > 0)
    low, high = _bounds(np.where(flies, speed, np.nan), angle, spin)
    found = []
    if Quantity.APEX in seen:
        apex = seen[Quantity.APEX]
        beyond = (apex < low[0] * (1 - APEX_ROOM) - APEX_ROOM_M) | (
            apex > high[0] * (1 + APEX_ROOM) + APEX_ROOM_M
        )
        found.append((RowRule(Check.APEX_NOT_OF_LAUNCH), np.asarray(beyond)))
    if Quantity.DESCENT_ANGLE in seen:
        descent = seen[Quantity.DESCENT_ANGLE]
        beyond = (descent < low[1] - DESCENT_ROOM_DEG) | (descent > high[1] + DESCENT_ROOM_DEG)
        found.append((RowRule(Check.DESCENT_NOT_OF_LAUNCH), np.asarray(beyond)))
    return found


def _bounds(speed: Floats, angle: Floats, spin: Floats) -> Sequence[tuple[Floats, Floats]]:
    """Apex in m and descent in degrees where all that is unknown holds a ball down, and lifts it.

    A head wind lifts, a tail wind holds down. Launches are taken to the next step outward, so
    that the thousands of a season share a few flights.
    """
    flown, of_rows = zip(
        *(_outward(speed, angle, spin, up=up) for up in (False, True)), strict=True
    )
    return [
        (flights.apex_m[of_row], flights.descent_deg[of_row])
        for flights, of_row in zip(fly_together(flown, STEP_S), of_rows, strict=True)
    ]


def _outward(
    speed: Floats, angle: Floats, spin: Floats, *, up: bool
) -> tuple[Flown, NDArray[np.intp]]:
    """The launches to fly, each once, and which of them every row is of."""
    way = 1.0 if up else -1.0
    any_spin = MOST_SPIN_RPM if up else 0.0
    spun = np.where(np.isnan(spin), any_spin, spin)
    launches, of_row = np.unique(
        np.stack(
            [
                way * np.ceil(way * given / step) * step
                for given, step in (
                    (speed, SPEED_STEP_MPS),
                    (angle, ANGLE_STEP_DEG),
                    (spun, SPIN_STEP_RPM),
                )
            ]
        ),
        axis=1,
        return_inverse=True,
    )
    level = np.zeros(launches.shape[1])
    launch = Launch(
        launches[0] * (1 + way * SPEED_OFF),
        np.clip(launches[1] + way * ANGLE_OFF_DEG, 0.0, 90.0),
        level,
        launches[2] * (1 + way * SPIN_OFF),
        level,
    )
    weather = Weather(
        along_mps=-way * WIND_MPS,
        quoted_at_m=10.0,
        drag_added=-way * DRAG_OFF,
        lift_added=way * LIFT_OFF,
    )
    return (launch, weather), of_row
