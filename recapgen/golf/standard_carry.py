"""Carry as it would be in standard air, with its standard deviation, or why it is not known.

    carry_standard = carry_read x sim(launch, standard air) / sim(launch, the day's air and wind)

Launches are as read, so a cold ball or another club is not corrected away. The doubt flies
the block's middle shot again with each thing off by one standard deviation and adds the
differences in squares; it is common to all shots of the block, so more shots do not shrink it.
A number is given only where that is at most 5% and the correction at most 15%.
"""

import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from msgspec import Struct

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
from recapgen.golf.flight import STEP_S, Launch, Weather
from recapgen.golf.flown_together import Flown, fly_together
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


class _Correction(Struct, frozen=True):
    """What the carries of a block are multiplied by, (n,), and its relative doubt."""

    factors: Floats
    sd: float
    assumed: tuple[Assumed, ...] = ()


class _BlockFlown(Struct, frozen=True):
    """What is known of a block whose launches are: those that carried, (n,), and the day."""

    launch: Launch
    spin_sd: float
    air: Air
    wind: WindOnTarget

    def both_airs(self) -> tuple[Flown, Flown]:
        """The launches through the day's air and through standard air."""
        wind = self.wind
        day = Weather(self.air.density_kg_m3, wind.along_mps, wind.across_mps, wind.height_m)
        return (self.launch, day), (self.launch, Weather())


class CarriedBlock(Struct, frozen=True):
    """Readings of shots in inside units, all with one club in the same conditions."""

    shots: Sequence[Readings]
    conditions: Conditions
    family: Family | None


def carries_in_standard_air(blocks: Sequence[CarriedBlock]) -> list[StandardCarry]:
    """The carries of each block's shots; all balls of all blocks are flown together.

    A shot without a carry stays without. Where the launch of any shot is missing all of its
    block are corrected for density alone, and only in still air: two launches can carry the
    same and suffer the wind differently.
    """
    ways = [_way_to_correct(block) for block in blocks]
    flown = iter(_by_flight([way for way in ways if isinstance(way, _BlockFlown)]))
    return [
        _withheld(block.shots, way)
        if isinstance(way, Withheld)
        else _told(block, next(flown) if isinstance(way, _BlockFlown) else way)
        for block, way in zip(blocks, ways, strict=True)
    ]


def _way_to_correct(block: CarriedBlock) -> "Withheld | _Correction | _BlockFlown":
    """Why not at all, or by density alone, or what has to be flown."""
    conditions = block.conditions
    if not np.isfinite(column(block.shots, Quantity.CARRY)).any():
        return Withheld.NO_CARRY
    air = air_of(conditions)
    if conditions.indoors or air is None:
        return Withheld.INDOORS if conditions.indoors else Withheld.AIR_UNKNOWN
    wind, blowing = _wind(conditions)
    if blowing and wind is None:
        return Withheld.TARGET_UNKNOWN
    carried = [shot for shot in block.shots if Quantity.CARRY in shot]
    launch_known = np.isfinite(column(carried, Quantity.BALL_SPEED)).all() and bool(
        np.isfinite(column(carried, Quantity.LAUNCH_ANGLE)).all()
    )
    if blowing and not launch_known:
        return Withheld.LAUNCH_UNKNOWN
    if not launch_known:
        return _by_density(carried, air, block.family)
    launch, spin_sd = launches_of(carried, block.family)
    return _BlockFlown(launch, spin_sd, air, wind or WindOnTarget(0.0, 0.0, HAND_HELD_M))


def _told(block: CarriedBlock, correction: _Correction) -> StandardCarry:
    shots, blowing = block.shots, _wind(block.conditions)[1]
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
    return StandardCarry(told, factor, correction.sd, _assumed(block, correction), withheld)


def _assumed(block: CarriedBlock, correction: _Correction) -> tuple[Assumed, ...]:
    air = air_of(block.conditions)
    calm = (Assumed.CALM,) if block.conditions.wind is None else ()
    return (*(air.assumed if air is not None else ()), *calm, *correction.assumed)


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


def _by_flight(blocks: Sequence[_BlockFlown]) -> Iterator[_Correction]:
    """Each block's shots in the day's air and in standard air, and its middle shot in doubt."""
    groups = [group for block in blocks for group in (*block.both_airs(), *_in_doubt(block))]
    flights = iter(fly_together(groups, STEP_S))
    for block in blocks:
        there, here, doubted, doubted_here = (next(flights).carry_m for _ in range(4))
        factors = here / np.where(there > 0, there, np.nan)
        off = doubted_here / np.where(doubted > 0, doubted, np.nan)
        moved = off[1:] / off[0] - 1
        sd = math.sqrt(float((moved**2).sum()) / 2)
        yield _Correction(factors, sd, (Assumed.SPIN,) if block.spin_sd > SPIN_SD else ())


def _in_doubt(block: _BlockFlown) -> tuple[Flown, Flown]:
    """The middle shot there and in standard air, each source of doubt off in turn.

    Each is moved up and down by its own standard deviation, all else kept; a ball flown in one
    row of ``off`` (1 + 2k, k) is off by one of them.
    """
    launch, air, wind = block.launch, block.air, block.wind
    sources = 9
    off = np.vstack([np.zeros(sources), np.eye(sources), -np.eye(sources)])
    stronger, turned, breezier, rougher, steeper, spinnier, draggier, liftier, thicker = off.T
    same = np.ones(len(off))
    launches = Launch(
        float(np.median(launch.ball_speed_mps)) * same,
        float(np.median(launch.angle_deg)) + LAUNCH_SD_DEG * steeper,
        0 * same,
        float(np.median(launch.spin_rpm)) * (1 + block.spin_sd * spinnier),
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
    return (launches, day), (launches, standard)
