"""Units people write and read, and their size in the program's own (m/s, m, degrees C)."""

from dataclasses import dataclass
from enum import StrEnum


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
