"""Carry made fair to the weather, and what stood in the way of it: codes and values."""

from enum import StrEnum

from msgspec import Struct


class Assumed(StrEnum):
    """Conditions that were assumed because none were recorded; shown beside the number."""

    SPIN = "spin"
    HUMIDITY = "humidity"
    PRESSURE = "pressure"  # the mean for the altitude
    CALM = "calm"  # wind not recorded
    LAUNCH = "launch"  # not recorded: corrected for the density of the air only


class Withheld(StrEnum):
    """Why no carry in standard air is given; the carry as read keeps its conditions."""

    NO_CARRY = "no carry"
    INDOORS = "indoors"
    AIR_UNKNOWN = "air unknown"  # no temperature, or neither pressure nor altitude
    TARGET_UNKNOWN = "target unknown"  # there was wind, but not from which side
    LAUNCH_UNKNOWN = "launch unknown"  # there was wind, and what it does depends on the launch
    TOO_WINDY = "too windy"
    AIR_TOO_FAR = "air too far"  # still, but too far from standard
    FLIGHT_UNLIKELY = "flight unlikely"  # the readings do not describe a ball that flies


class StandardCarry(Struct, frozen=True):
    """Carries of one block's shots as they would be in standard air.

    20 C, 1013.25 hPa, 50% humidity, still, landing level with the ball. ``carries_m`` runs
    parallel to the shots and is all None where ``withheld`` says why: corrected and raw
    carries never stand side by side. ``factor`` is standard over actual at the block's
    middle, ``factor_sd`` one standard deviation relative to it, common to all the shots.
    """

    carries_m: tuple[float | None, ...]
    factor: float | None
    factor_sd: float | None
    assumed: tuple[Assumed, ...]
    withheld: Withheld | None


class FairCarry(Struct, frozen=True):
    """Carries compared although the air was not the same before and after.

    ``before_read_m`` and ``after_read_m`` are the middles as read, ``before_m`` and ``after_m``
    those in standard air, None where any block is ``withheld``; ``sd_m`` is one standard
    deviation that the two corrections leave in the difference.
    """

    before_read_m: float | None
    after_read_m: float | None
    before_m: float | None
    after_m: float | None
    sd_m: float
    assumed: tuple[Assumed, ...]
    withheld: Withheld | None


class FlightLine(Struct, frozen=True):
    """A flight seen from the side, ball to landing: parallel metres, apex and landing marked."""

    distance_m: tuple[float, ...]
    height_m: tuple[float, ...]
    apex_m: tuple[float, float]  # distance, height
    carry_m: float


class FlightLines(Struct, frozen=True):
    """The flights of the middle shots; None where a block's launches are not known."""

    before: FlightLine | None
    after: FlightLine | None


class LoftAtStrike(Struct, frozen=True):
    """How far the handle of the student's own club leaned forward at impact, degrees.

    Estimated of the middle dynamic loft, within ``lean_doubt_deg``: a club with
    ``club_loft_deg`` met the ball with so much less loft, or more where the lean is negative.
    """

    club: str
    club_loft_deg: float
    before_lean_deg: float | None
    after_lean_deg: float | None
    lean_doubt_deg: float
