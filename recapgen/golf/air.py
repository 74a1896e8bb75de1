"""The air a ball flies through: how dense and sticky it is, and the wind at each height.

Density: CIPM-2007 (Picard, Davis, Glaser & Fujii, Metrologia 45 (2008) 149), 400 ppm CO2.
Viscosity: Sutherland's law. Pressure and height: US Standard Atmosphere 1976. Wind: the
logarithmic profile over ground of even roughness.
"""

import math

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from recapgen.golf.ball import DIAMETER_M
from recapgen.model.carry import Assumed
from recapgen.model.lesson import Conditions, Wind

Floats = NDArray[np.float64]

ZERO_C_IN_K = 273.15
SEA_LEVEL_PA = 101_325.0
SEA_LEVEL_K = 288.15
LAPSE_K_PER_M = 0.0065
PRESSURE_POWER = 5.25588  # g M / (R L) of the standard atmosphere
EARTH_RADIUS_M = 6_356_766.0
CUT_GRASS_M = 0.03  # roughness length of a range

HALF_HUMID = 0.5  # taken where no humidity was noted
TEMPERATURE_SD_K = 2.0
HUMIDITY_SD = 0.25
STATION_PRESSURE_SD_PA = 200.0
REDUCED_PRESSURE_SD_PA = 500.0
WEATHER_PRESSURE_SD_PA = 1000.0  # highs and lows about the mean for the height


class Air(Struct, frozen=True):
    """``density_sd`` is one standard deviation of the density, relative, from what was noted."""

    density_kg_m3: float
    viscosity_pa_s: float
    density_sd: float = 0.0
    assumed: tuple[Assumed, ...] = ()


class WindOnTarget(Struct, frozen=True):
    """A wind seen from the ball: plus ``along`` is with the shot, plus ``across`` to the right."""

    along_mps: float
    across_mps: float
    height_m: float


def vapour_pressure_pa(temperature_c: float, pressure_pa: float) -> float:
    """Saturated water vapour in air, enhancement factor included."""
    kelvin = temperature_c + ZERO_C_IN_K
    saturated = math.exp(
        1.2378847e-5 * kelvin**2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin
    )
    enhancement = 1.00062 + 3.14e-8 * pressure_pa + 5.6e-7 * temperature_c**2
    return saturated * enhancement


def density_kg_m3(temperature_c: float, pressure_pa: float, humidity: float) -> float:
    """Moist air. ``pressure_pa`` at the place itself, ``humidity`` from 0 to 1."""
    kelvin = temperature_c + ZERO_C_IN_K
    vapour = humidity * vapour_pressure_pa(temperature_c, pressure_pa) / pressure_pa
    squeeze = (
        1
        - pressure_pa
        / kelvin
        * (
            1.58123e-6
            - 2.9331e-8 * temperature_c
            + 1.1043e-10 * temperature_c**2
            + (5.707e-6 - 2.051e-8 * temperature_c) * vapour
            + (1.9898e-4 - 2.376e-6 * temperature_c) * vapour**2
        )
        + (pressure_pa / kelvin) ** 2 * (1.83e-11 - 0.765e-8 * vapour**2)
    )
    return 3.483740e-3 * pressure_pa / (squeeze * kelvin) * (1 - 0.3780 * vapour)


def viscosity_pa_s(temperature_c: float) -> float:
    kelvin = temperature_c + ZERO_C_IN_K
    return float(1.458e-6 * kelvin**1.5 / (kelvin + 110.4))


def reynolds(speed_mps: float, air: Air) -> float:
    """Of a ball at ``speed_mps``; below about 70 000 its lift depends on the very ball."""
    return air.density_kg_m3 * speed_mps * DIAMETER_M / air.viscosity_pa_s


def pressure_at_altitude_pa(altitude_m: float) -> float:
    """The standard atmosphere's pressure at a height above the sea."""
    return station_pressure_pa(SEA_LEVEL_PA, altitude_m)


def station_pressure_pa(at_sea_level_pa: float, altitude_m: float) -> float:
    """The pressure at the place, from one that a weather report reduced to sea level.

    Undoes the standard-atmosphere reduction; at 1600 m passing it over loses 7% of carry.
    """
    geopotential_m = EARTH_RADIUS_M * altitude_m / (EARTH_RADIUS_M + altitude_m)
    root = (at_sea_level_pa / SEA_LEVEL_PA) ** (1 / PRESSURE_POWER)
    return float(
        SEA_LEVEL_PA * (root - LAPSE_K_PER_M * geopotential_m / SEA_LEVEL_K) ** PRESSURE_POWER
    )


STANDARD_AIR = Air(density_kg_m3(20.0, SEA_LEVEL_PA, HALF_HUMID), viscosity_pa_s(20.0))


def air_of(conditions: Conditions) -> Air | None:
    """The air of the notes; None without a temperature or any way to the pressure.

    A humidity that was not noted is taken as 50% and said so; it hardly matters.
    """
    temperature_c, found = conditions.temperature_c, _pressure(conditions)
    if temperature_c is None or found is None:
        return None
    pressure_pa, pressure_sd_pa, assumed = found
    noted = conditions.humidity_percent
    humidity = HALF_HUMID if noted is None else noted / 100
    vapour_sd = 0.0
    if noted is None:
        assumed = (*assumed, Assumed.HUMIDITY)
        vapour_sd = HUMIDITY_SD * vapour_pressure_pa(temperature_c, pressure_pa) / pressure_pa
    return Air(
        density_kg_m3(temperature_c, pressure_pa, humidity),
        viscosity_pa_s(temperature_c),
        math.hypot(
            TEMPERATURE_SD_K / (temperature_c + ZERO_C_IN_K),
            pressure_sd_pa / pressure_pa,
            0.378 * vapour_sd,
        ),
        assumed,
    )


def _pressure(conditions: Conditions) -> tuple[float, float, tuple[Assumed, ...]] | None:
    """Pascals at the place, one standard deviation, and what was taken for granted."""
    altitude_m, noted_hpa = conditions.altitude_m, conditions.pressure_hpa
    if noted_hpa is not None and not conditions.pressure_at_sea_level:
        return noted_hpa * 100, STATION_PRESSURE_SD_PA, ()
    if altitude_m is None:
        return None
    if noted_hpa is not None:
        return station_pressure_pa(noted_hpa * 100, altitude_m), REDUCED_PRESSURE_SD_PA, ()
    return pressure_at_altitude_pa(altitude_m), WEATHER_PRESSURE_SD_PA, (Assumed.PRESSURE,)


def wind_on_target(wind: Wind, target_deg: float) -> WindOnTarget:
    """``target_deg`` is the target's bearing; a wind is named for where it comes from."""
    off = math.radians(wind.from_deg - target_deg)
    return WindOnTarget(
        -wind.speed_mps * math.cos(off), -wind.speed_mps * math.sin(off), wind.height_m
    )


def log_height(height_m: Floats | float, roughness_m: Floats | float) -> Floats:
    """Wind grows with this: a wind at one height over the wind at another is their ratio.

    ln((y + z0) / z0), nothing at the ground and below.
    """
    return np.asarray(np.log(np.maximum(height_m, 0.0) / roughness_m + 1))
