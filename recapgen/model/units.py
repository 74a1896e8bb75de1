"""Units people write and read, and their size in the program's own (m/s, m, degrees C)."""

from enum import StrEnum

from msgspec import Struct

from recapgen.model.quantity import Dimension, Quantity


class SpeedUnit(StrEnum):
    MPS = "m/s"
    KMH = "km/h"
    MPH = "mph"
    FTPS = "ft/s"

    @property
    def in_mps(self) -> float:
        """One of this unit in metres per second (international mile and foot)."""
        match self:
            case SpeedUnit.MPS:
                return 1.0
            case SpeedUnit.KMH:
                return 1 / 3.6
            case SpeedUnit.MPH:
                return 0.44704
            case SpeedUnit.FTPS:
                return 0.3048


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
        match self:
            case LengthUnit.METRE:
                return 1.0
            case LengthUnit.YARD:
                return 0.9144
            case LengthUnit.FOOT:
                return 0.3048
            case LengthUnit.CENTIMETRE:
                return 0.01
            case LengthUnit.INCH:
                return 0.0254
            case LengthUnit.MILLIMETRE:
                return 0.001

    @property
    def imperial(self) -> bool:
        return self in (LengthUnit.YARD, LengthUnit.FOOT, LengthUnit.INCH)


class TemperatureUnit(StrEnum):
    CELSIUS = "C"
    FAHRENHEIT = "F"


class Units(Struct, frozen=True):
    """The units somebody writes and reads; a bare number in the notes takes these."""

    speed: SpeedUnit = SpeedUnit.MPS
    length: LengthUnit = LengthUnit.METRE
    temperature: TemperatureUnit = TemperatureUnit.CELSIUS


def unit_of(quantity: Quantity, units: Units) -> tuple[str, float]:  # noqa: PLR0911  one a dimension
    """The unit somebody reads ``quantity`` in, and its size in inside units.

    "mph", "yd", "deg", "rpm", "widths", "%" for a share, or "" for a ratio. A small length is
    read in inches beside yards and feet, else in centimetres; a short one on the green in feet.
    """
    match quantity.dimension:
        case Dimension.SPEED:
            return units.speed.value, units.speed.in_mps
        case Dimension.LENGTH:
            length = units.length
            if quantity.small:
                length = LengthUnit.INCH if length.imperial else LengthUnit.CENTIMETRE
            if quantity.paced:
                length = LengthUnit.FOOT if length.imperial else LengthUnit.METRE
            return length.value, length.in_m
        case Dimension.ANGLE:
            return "deg", 1.0
        case Dimension.SPIN:
            return "rpm", 1.0
        case Dimension.RATIO:
            return "", 1.0
        case Dimension.WIDTHS:
            return "widths", 1.0
        case Dimension.OUTCOME:
            return "%", 0.01
