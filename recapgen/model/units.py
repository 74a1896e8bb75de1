"""Units people write and read, and their size in the program's own (m/s, m, degrees C)."""

from dataclasses import dataclass
from enum import StrEnum

from recapgen.model.quantity import Dimension, Quantity


class SpeedUnit(StrEnum):
    MPS = "m/s"
    KMH = "km/h"
    MPH = "mph"
    FTPS = "ft/s"

    @property
    def in_mps(self) -> float:
        """One of this unit in metres per second (international mile and foot)."""
        return {"m/s": 1.0, "km/h": 1 / 3.6, "mph": 0.44704, "ft/s": 0.3048}[self.value]


class LengthUnit(StrEnum):
    METRE = "m"
    YARD = "yd"
    FOOT = "ft"
    CENTIMETRE = "cm"
    INCH = "in"
    MILLIMETRE = "mm"

    @property
    def in_m(self) -> float:
        """One of this unit in metres (international yard)."""
        return {
            "m": 1.0,
            "yd": 0.9144,
            "ft": 0.3048,
            "cm": 0.01,
            "in": 0.0254,
            "mm": 0.001,
        }[self.value]


class TemperatureUnit(StrEnum):
    CELSIUS = "C"
    FAHRENHEIT = "F"


@dataclass(frozen=True, slots=True)
class Units:
    """The units somebody writes and reads; a bare number in the notes takes these."""

    speed: SpeedUnit = SpeedUnit.MPS
    length: LengthUnit = LengthUnit.METRE
    temperature: TemperatureUnit = TemperatureUnit.CELSIUS


def unit_of(quantity: Quantity, units: Units) -> tuple[str, float]:
    """The unit somebody reads ``quantity`` in, and its size in inside units.

    "mph", "yd", "deg", "rpm", "widths", or "" for a ratio. The low point is a matter of a hand's
    breadth: inches beside yards and feet, else centimetres.
    """
    match quantity.dimension:
        case Dimension.SPEED:
            return units.speed.value, units.speed.in_mps
        case Dimension.LENGTH:
            length = units.length
            if quantity is Quantity.LOW_POINT:
                imperial = length in (LengthUnit.YARD, LengthUnit.FOOT, LengthUnit.INCH)
                length = LengthUnit.INCH if imperial else LengthUnit.CENTIMETRE
            return length.value, length.in_m
        case Dimension.ANGLE:
            return "deg", 1.0
        case Dimension.SPIN:
            return "rpm", 1.0
        case Dimension.RATIO:
            return "", 1.0
        case Dimension.WIDTHS:
            return "widths", 1.0
