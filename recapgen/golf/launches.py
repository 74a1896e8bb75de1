"""Launches from the readings of shots, spin estimated where it is missing."""

import math
from collections.abc import Mapping, Sequence

import numpy as np

from recapgen.golf.air import Floats
from recapgen.golf.clubs import Family
from recapgen.golf.flight import Launch
from recapgen.golf.impact import Estimate, spin_from_launch, spin_from_strike
from recapgen.model.quantity import Quantity

SPIN_SD = 0.05  # of a spin that was read, relative

_LAUNCH = (
    Quantity.BALL_SPEED,
    Quantity.LAUNCH_ANGLE,
    Quantity.LAUNCH_DIRECTION,
    Quantity.SPIN_RATE,
    Quantity.SPIN_AXIS,
)
Readings = Mapping[Quantity, float]


def column(shots: Sequence[Readings], quantity: Quantity) -> Floats:
    """Readings (n,), NaN where missing."""
    return np.array([shot.get(quantity, math.nan) for shot in shots], dtype=np.float64)


def launches_of(shots: Sequence[Readings], family: Family | None) -> tuple[Launch, float]:
    """Launches (n,) and one standard deviation of spin (relative), larger where estimated.

    A missing direction or tilt is taken as straight: it hardly moves the ratio of two carries.
    """
    read = {quantity: column(shots, quantity) for quantity in _LAUNCH}
    spin_rpm, spin_sd = read[Quantity.SPIN_RATE], SPIN_SD
    missing = np.isnan(spin_rpm)
    if missing.any():
        estimate = _spin(shots, read[Quantity.BALL_SPEED], read[Quantity.LAUNCH_ANGLE], family)
        spin_rpm = np.where(missing, estimate.value, spin_rpm)
        doubt = estimate.doubt[missing] / np.maximum(estimate.value[missing], 1.0)
        spin_sd = max(SPIN_SD, float(doubt.max()))
    return Launch(
        read[Quantity.BALL_SPEED],
        read[Quantity.LAUNCH_ANGLE],
        np.nan_to_num(read[Quantity.LAUNCH_DIRECTION]),
        spin_rpm,
        np.nan_to_num(read[Quantity.SPIN_AXIS]),
    ), spin_sd


def _spin(
    shots: Sequence[Readings], speed_mps: Floats, angle_deg: Floats, family: Family | None
) -> Estimate:
    """Spin (n,) from club speed and spin loft where a shot has both, else from its launch."""
    strike = spin_from_strike(column(shots, Quantity.CLUB_SPEED), column(shots, Quantity.SPIN_LOFT))
    launch = spin_from_launch(speed_mps, angle_deg, family)
    struck = np.isfinite(strike.value)
    return Estimate(
        np.where(struck, strike.value, launch.value), np.where(struck, strike.doubt, launch.doubt)
    )
