"""Carry as it would be in standard air, with its own doubt, or the reason it is not told.

    carry_standard = carry_read x sim(launch, standard air) / sim(launch, the day's air and wind)

Launches are as read, so a cold ball or another club is not corrected away. The doubt flies
the block's middle shot again with each thing off by one standard deviation and adds the
differences in squares; it is common to all shots of the block, so more shots do not shrink it.
A number is told only where that is at most 5% and the correction at most 15%.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from recapgen.golf.air import (
    CUT_GRASS_M,
    STANDARD_AIR,
    Air,
    Floats,
    WindOnTarget,
    air_of,
    reynolds,
    wind_on_target,
)
from recapgen.golf.clubs import Family
from recapgen.golf.flight import Launch, Weather, fly
from recapgen.golf.launches import SPIN_SD, Readings, column, launches_of
from recapgen.model.carry import Assumed, StandardCarry, Withheld
from recapgen.model.lesson import Conditions
from recapgen.model.quantity import Quantity

STILL_MPS = 0.5
HAND_HELD_M = 2.0
MOST_SD = 0.05
MOST_CORRECTION = 0.15

WIND_SPEED_SD = 0.30
WIND_TURN_SD_DEG = 15.0
BREEZE_SD_MPS = 0.5  # at least, however calm it seemed
ROUGHNESS_SD = 2.9  # a factor: the grounds of ranges, 5 mm to 20 cm
LAUNCH_SD_DEG = 0.7
DRAG_SD = 0.02
LIFT_SD = 0.015
SLOW_LIFT_SD = 0.1  # of a ball too slow for the law: lift then depends on the very ball
SLOW_REYNOLDS = 70_000

# Carry goes with density to minus this power, in still air.
_DENSITY_POWER: Mapping[Family, float] = {Family.DRIVER: 0.30, Family.WOOD: 0.34}
USUAL_DENSITY_POWER = 0.42
DENSITY_POWER_SD = 0.10


@dataclass(frozen=True, slots=True)
class _Correction:
    """What the carries of a block are multiplied by, (n,), and its relative doubt."""

    factors: Floats
    sd: float
    assumed: tuple[Assumed, ...] = ()


def carry_in_standard_air(
    shots: Sequence[Readings], conditions: Conditions, family: Family | None
) -> StandardCarry:
    """The carries of one block's shots, all with one club in the same conditions.

    ``shots`` are readings in inside units. A shot without a carry stays without. Where the
    launch of any shot is missing all are corrected for density alone, and only in still air:
    two launches can carry the same and suffer the wind differently.
    """
    carries = column(shots, Quantity.CARRY)
    if not np.isfinite(carries).any():
        return _withheld(shots, Withheld.NO_CARRY)
    if conditions.indoors:
        return _withheld(shots, Withheld.INDOORS)
    air = air_of(conditions)
    if air is None:
        return _withheld(shots, Withheld.AIR_UNKNOWN)
    wind, blowing = _wind(conditions)
    if blowing and wind is None:
        return _withheld(shots, Withheld.TARGET_UNKNOWN)
    carried = [shot for shot in shots if Quantity.CARRY in shot]
    launch_known = np.isfinite(column(carried, Quantity.BALL_SPEED)).all() and bool(
        np.isfinite(column(carried, Quantity.LAUNCH_ANGLE)).all()
    )
    if blowing and not launch_known:
        return _withheld(shots, Withheld.LAUNCH_UNKNOWN)
    correction = (
        _by_flight(carried, air, wind, family)
        if launch_known
        else _by_density(carried, air, family)
    )
    calm = (Assumed.CALM,) if conditions.wind is None else ()
    correction = replace(correction, assumed=(*air.assumed, *calm, *correction.assumed))
    return _told(shots, correction, blowing=blowing)


def _told(shots: Sequence[Readings], correction: _Correction, *, blowing: bool) -> StandardCarry:
    if not (np.isfinite(correction.factors).all() and math.isfinite(correction.sd)):
        return _withheld(shots, Withheld.FLIGHT_UNLIKELY)
    factor = float(np.median(correction.factors))
    withheld = None
    if not (correction.sd <= MOST_SD and abs(factor - 1) <= MOST_CORRECTION):
        withheld = Withheld.TOO_WINDY if blowing else Withheld.AIR_TOO_FAR
    factors = iter(correction.factors.tolist())
    carries = tuple(
        shot[Quantity.CARRY] * next(factors) if Quantity.CARRY in shot else None for shot in shots
    )
    told = carries if withheld is None else (None,) * len(shots)
    return StandardCarry(told, factor, correction.sd, correction.assumed, withheld)


def _withheld(shots: Sequence[Readings], reason: Withheld) -> StandardCarry:
    return StandardCarry((None,) * len(shots), None, None, (), reason)


def _wind(conditions: Conditions) -> tuple[WindOnTarget | None, bool]:
    """The wind seen from the ball, where its side is known, and whether it counts as wind."""
    wind = conditions.wind
    if wind is None:
        return None, False
    blowing = wind.speed_mps > STILL_MPS
    if conditions.target_deg is None:
        return None, blowing
    return wind_on_target(wind, conditions.target_deg), blowing


def _by_density(shots: Sequence[Readings], air: Air, family: Family | None) -> _Correction:
    """Still air, launch unknown: carry x (density over standard density) to a power."""
    power = _DENSITY_POWER.get(family, USUAL_DENSITY_POWER) if family else USUAL_DENSITY_POWER
    thicker = math.log(air.density_kg_m3 / STANDARD_AIR.density_kg_m3)
    factor = math.exp(power * thicker)
    sd = math.hypot(DENSITY_POWER_SD * thicker, power * air.density_sd)
    return _Correction(np.full(len(shots), factor), sd, (Assumed.LAUNCH,))


def _by_flight(
    shots: Sequence[Readings], air: Air, wind: WindOnTarget | None, family: Family | None
) -> _Correction:
    launch, spin_sd = launches_of(shots, family)
    breeze = wind or WindOnTarget(0.0, 0.0, HAND_HELD_M)
    day = Weather(air.density_kg_m3, breeze.along_mps, breeze.across_mps, breeze.height_m)
    there = fly(launch, day).carry_m
    factors = fly(launch).carry_m / np.where(there > 0, there, np.nan)
    sd = _doubt(launch, spin_sd, air, breeze)
    return _Correction(factors, sd, (Assumed.SPIN,) if spin_sd > SPIN_SD else ())


def _doubt(launch: Launch, spin_sd: float, air: Air, wind: WindOnTarget) -> float:
    """One standard deviation of the middle shot's factor, relative to it.

    Each source of doubt is moved up and down by its own standard deviation, all else kept; a
    ball flown in one row of ``off`` (1 + 2k, k) is off by one of them.
    """
    sources = 9
    off = np.vstack([np.zeros(sources), np.eye(sources), -np.eye(sources)])
    stronger, turned, breezier, rougher, steeper, spinnier, draggier, liftier, thicker = off.T
    same = np.ones(len(off))
    launches = Launch(
        float(np.median(launch.ball_speed_mps)) * same,
        float(np.median(launch.angle_deg)) + LAUNCH_SD_DEG * steeper,
        0 * same,
        float(np.median(launch.spin_rpm)) * (1 + spin_sd * spinnier),
        0 * same,
    )
    slow = reynolds(float(launches.ball_speed_mps[0]), air) < SLOW_REYNOLDS
    lift_sd = SLOW_LIFT_SD if slow else LIFT_SD
    noted_mps = math.hypot(wind.along_mps, wind.across_mps)
    unnoticed_mps = math.sqrt(max(0.0, BREEZE_SD_MPS**2 - (WIND_SPEED_SD * noted_mps) ** 2))
    speed_mps = noted_mps * (1 + WIND_SPEED_SD * stronger)
    bearing = math.atan2(wind.across_mps, wind.along_mps) + np.radians(WIND_TURN_SD_DEG * turned)
    day = Weather(
        density_kg_m3=air.density_kg_m3 * (1 + air.density_sd * thicker),
        along_mps=speed_mps * np.cos(bearing) + unnoticed_mps * breezier,
        across_mps=speed_mps * np.sin(bearing),
        quoted_at_m=wind.height_m,
        roughness_m=CUT_GRASS_M * ROUGHNESS_SD**rougher,
        drag_added=DRAG_SD * draggier,
        lift_added=lift_sd * liftier,
    )
    standard = Weather(drag_added=day.drag_added, lift_added=day.lift_added)
    there = fly(launches, day).carry_m
    factors = fly(launches, standard).carry_m / np.where(there > 0, there, np.nan)
    moved = factors[1:] / factors[0] - 1
    return math.sqrt(float((moved**2).sum()) / 2)
