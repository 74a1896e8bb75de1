"""Ground, ball and weather, as the notes state them."""

import re
from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from recapgen.golf.unit_words import unit_words
from recapgen.golf.written_amounts import (
    read_amount,
    read_bearing_deg,
    read_percent,
    read_pressure_hpa,
    read_temperature_c,
)
from recapgen.intake.blocks import block_in
from recapgen.intake.form import NAME_LENGTH, Form, instead
from recapgen.intake.quantities import unit_is_missing
from recapgen.intake.settings import read_altitude_m
from recapgen.intake.spelling import spelling
from recapgen.intake.usual_words import SURFACES
from recapgen.intake.yaml_map import MapNode, Scalar, brief, plain_key
from recapgen.model.lesson import Conditions, Wind
from recapgen.model.people import Coach
from recapgen.model.problem import Code
from recapgen.model.quantity import Dimension
from recapgen.model.shots import Block
from recapgen.model.units import Units

_KEYS = spelling(
    "surface", "indoors", "ball", "temperature", "humidity", "pressure", "wind", "target",
    "altitude", "before", "after", "closing", then="before", now="after",
    ground="surface", inside="indoors", indoor="indoors", balls="ball", temp="temperature",
    bearing="target", height="altitude", elevation="altitude",
)  # fmt: skip
_WEATHER_KEYS = spelling(
    "temperature", "humidity", "pressure", "wind", "target", temp="temperature", bearing="target",
)  # fmt: skip
_BLOCKS = (Block.BEFORE, Block.AFTER, Block.CLOSING)
_WIND = re.compile(
    r"(?P<speed>.+?)\s+from\s+(?:the\s+)?(?P<bearing>.+?)"
    r"(?:,?\s+(?:at\s+(?P<height>.+)|(?P<forecast>forecast)))?",
    re.IGNORECASE,
)
_CALM = frozenset({"calm", "none", "no wind", "still", "nothing"})
_HEIGHTS = ("at 2 m", "forecast")
FORECAST_HEIGHT_M = 10.0
HIGHEST_ANEMOMETER_M = 100.0


class _Possible(Struct, frozen=True):
    least: float
    most: float
    unit: str
    example: str

    def told(self, limit: float) -> str:
        return f"{limit:g} {self.unit}".strip()


_TEMPERATURE = _Possible(-40, 55, "C", "14 C")
_HUMIDITY = _Possible(0, 100, "%", "60 %")
_PRESSURE = _Possible(450, 1100, "hPa", "1009 hPa station")
_TARGET = _Possible(0, 360, "", "070")
_WIND_SPEED = _Possible(0, 40, "m/s", "3 m/s from 250 at 2 m")


def read_conditions(form: Form, coach: Coach) -> Conditions:
    inner = form.form("conditions", _KEYS)
    if inner is None:
        return Conditions()
    pressure, at_sea_level = _pressure(inner)
    common = Conditions(
        surface=inner.choice("surface", SURFACES),
        indoors=inner.yes_no("indoors"),
        ball=_ball(inner),
        balls=tuple(_balls(inner)),
        temperature_c=_temperature_c(inner, coach.units),
        humidity_percent=_humidity(inner),
        pressure_hpa=pressure,
        pressure_at_sea_level=at_sea_level,
        wind=_wind(inner, coach),
        target_deg=_target_deg(inner),
        altitude_m=read_altitude_m(inner, "altitude", coach),
    )
    return replace(common, blocks=tuple(_by_block(inner, common, coach)))


def _by_block(form: Form, common: Conditions, coach: Coach) -> Iterator[tuple[Block, Conditions]]:
    """``before: {wind: 2 m/s from 250 at 2 m}``: what is not said is as for all the blocks."""
    for block in _BLOCKS:
        own = form.form(block.value, _WEATHER_KEYS)
        if own is None:
            continue
        told = common
        temperature, humidity = _temperature_c(own, coach.units), _humidity(own)
        pressure, at_sea_level = _pressure(own)
        wind, target = _wind(own, coach), _target_deg(own)
        if temperature is not None:
            told = replace(told, temperature_c=temperature)
        if humidity is not None:
            told = replace(told, humidity_percent=humidity)
        if pressure is not None:
            told = replace(told, pressure_hpa=pressure, pressure_at_sea_level=at_sea_level)
        if wind is not None:
            told = replace(told, wind=wind)
        if target is not None:
            told = replace(told, target_deg=target)
        yield block, told


def _ball(form: Form) -> str | None:
    """The one kind of ball; where each block had its own, ``_balls`` has them."""
    return None if isinstance(form.node("ball"), MapNode) else form.text("ball", NAME_LENGTH)


def _balls(form: Form) -> Iterator[tuple[Block, str]]:
    """``ball: {before: range, after: premium}``."""
    if not isinstance(form.node("ball"), MapNode):
        return
    for entry in form.pairs("ball", "before: range"):
        block = block_in(form, "ball", Scalar(entry.key, entry.where, quoted=True))
        words = form.one(entry.key, entry.value, NAME_LENGTH)
        kind = form.line(entry.key, words) if words is not None else None
        if block is not None and kind is not None:
            yield block, kind


def _temperature_c(form: Form, units: Units) -> float | None:
    words = form.words("temperature")
    if words is None:
        return None
    value = read_temperature_c(words.text, units)
    return _within(form, "temperature", words, value, _TEMPERATURE)


def _humidity(form: Form) -> float | None:
    words = form.words("humidity")
    if words is None:
        return None
    return _within(form, "humidity", words, read_percent(words.text), _HUMIDITY)


def _target_deg(form: Form) -> float | None:
    words = form.words("target")
    if words is None:
        return None
    return _within(form, "target", words, read_bearing_deg(words.text), _TARGET)


def _pressure(form: Form) -> tuple[float | None, bool]:
    """The pressure in hPa, and whether it was worked back to sea level.

    A weather report gives the sea-level one, which would be wrong on a hill if not converted.
    """
    words = form.words("pressure")
    if words is None:
        return None, False
    amount = re.sub(r"[,;()]?\s*\b(at|the|station|sea[ -]level|msl|qnh|qfe)\b[)]?", "", words.text,
                    flags=re.IGNORECASE).strip()  # fmt: skip
    value = read_pressure_hpa(amount)
    value = _within(form, "pressure", words, value, _PRESSURE)
    at_sea_level = re.search(r"\b(sea[ -]level|msl|qnh)\b", words.text, re.IGNORECASE) is not None
    at_station = re.search(r"\b(station|qfe)\b", words.text, re.IGNORECASE) is not None
    if value is not None and at_sea_level is at_station:
        offers = instead(words, f"{amount} station", f"{amount} sea level")
        facts = {"found": brief(words.text), "amount": amount}
        form.report(Code.PRESSURE_INCOMPLETE, words.where, offers, **facts)
        return None, False
    return value, at_sea_level


def _wind(form: Form, coach: Coach) -> Wind | None:
    words = form.words("wind")
    if words is None:
        return None
    if plain_key(words.text) in _CALM:
        return Wind(0.0, 0.0, FORECAST_HEIGHT_M)
    match = _WIND.fullmatch(" ".join(words.text.split()))
    height = _height_m(match["height"], coach.units) if match and match["height"] else None
    if match is not None and match["forecast"]:
        height = FORECAST_HEIGHT_M
    if match is None or height is None:
        said = words.text.strip() if match and not match["height"] else ""
        offers = instead(words, *(f"{said} {height}" for height in _HEIGHTS if said))
        form.report(Code.WIND_INCOMPLETE, words.where, offers, found=brief(words.text))
        return None
    speed = read_amount(match["speed"], Dimension.SPEED, coach.units)
    bearing = read_bearing_deg(match["bearing"])
    if unit_is_missing(match["speed"], Dimension.SPEED, coach, read_amount):
        found = {"key": "wind", "found": brief(words.text), "example": _WIND_SPEED.example}
        units = unit_words(Dimension.SPEED).usual
        speed_in = (f"{match['speed']} {unit}" for unit in units)
        winds = (words.text.replace(match["speed"], each, 1) for each in speed_in)
        form.report(Code.UNIT_MISSING, words.where, instead(words, *winds), **found)
        return None
    if bearing is None:
        speed = None
    speed = _within(form, "wind", words, speed, _WIND_SPEED)
    return None if speed is None or bearing is None else Wind(speed, bearing, height)


def _height_m(text: str, units: Units) -> float | None:
    """The height a wind was quoted for; "forecast" is the forecasters' ten metres."""
    plain = plain_key(text)
    if plain in {"forecast", "forecast height"}:
        return FORECAST_HEIGHT_M
    height = read_amount(text, Dimension.LENGTH, units)
    return height if height is not None and 0 < height <= HIGHEST_ANEMOMETER_M else None


def _within(
    form: Form, key: str, words: Scalar, value: float | None, possible: _Possible
) -> float | None:
    """``value`` if it was read and is possible; else a problem and None."""
    found = {"key": key, "found": brief(words.text)}
    if value is None:
        form.report(Code.AMOUNT_UNREADABLE, words.where, example=possible.example, **found)
        return None
    if not possible.least <= value <= possible.most:
        least, most = possible.told(possible.least), possible.told(possible.most)
        form.report(Code.AMOUNT_OUT_OF_RANGE, words.where, least=least, most=most, **found)
        return None
    return value
