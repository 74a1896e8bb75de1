"""What the device did not give, where physics allows, and where what it gave disagrees.

Nothing here replaces a reading. What is worked out says from what, and how far off it may be;
it rests on a strike from the middle of the face and on a ball that flies as balls usually do.
A total distance is never worked out: nothing is known of the ground.
"""

from collections.abc import Mapping, Sequence

import numpy as np
from msgspec import Struct

from recapgen.golf import impact
from recapgen.golf.air import Floats
from recapgen.golf.clubs import family_of
from recapgen.golf.flight import Flights, Launch, Weather, fly
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import Check, RowRule
from recapgen.model.shots import WorkedFrom

ANGLE_DOUBT_DEG = 1.0
SPIN_LOFT_DOUBT_DEG = 1.5
AXIS_DOUBT_DEG = 5.0  # a strike some way off the middle of the face
FLIGHT_DOUBT = 0.05  # of the carry: balls differ
APEX_DOUBT = 0.10
DESCENT_DOUBT_DEG = 5.0
CURVE_DOUBT_M = 3.0
CURVE_DISAGREES_SHARE = 0.05  # of the carry
CARRY_DISAGREES_SHARE = 0.25
CARRY_ROOM_M = 3.0
APEX_DISAGREES_SHARE = 0.35
APEX_ROOM_M = 4.0
DESCENT_DISAGREES_DEG = 12.0


class Worked(Struct, frozen=True):
    """One quantity, one way, all rows: parallel arrays (n,), NaN where given or not to be known.

    ``doubt`` is how far off the value may well be: an estimate's half-width, not a bound.
    """

    quantity: Quantity
    way: WorkedFrom
    values: Floats
    doubt: Floats


class Derived(Struct, frozen=True):
    """``worked`` has a quantity once for each way that filled rows of it, no row twice.

    ``doubts`` names by row index the rules that a reading broke against the rest of its row.
    """

    worked: tuple[Worked, ...]
    doubts: Mapping[int, tuple[RowRule, ...]]


class _Sheet:
    """The readings of all rows, filling up: first what was given, then what follows from it."""

    def __init__(self, readings: Mapping[Quantity, Sequence[float]], rows: int) -> None:
        self._given = {q: np.asarray(values, dtype=np.float64) for q, values in readings.items()}
        self._known = dict(self._given)
        self._nothing = np.full(rows, np.nan)
        self.worked: list[Worked] = []

    def given(self, quantity: Quantity) -> Floats:
        return self._given.get(quantity, self._nothing)

    def known(self, quantity: Quantity) -> Floats:
        """Given, or else worked out."""
        return self._known.get(quantity, self._nothing)

    def fill(
        self, quantity: Quantity, way: WorkedFrom, values: Floats, doubt: Floats | float
    ) -> None:
        """Fills the gaps of ``quantity``; what is there stays."""
        have = self.known(quantity)
        gaps = np.isnan(have) & np.isfinite(values)
        if gaps.any():
            self._known[quantity] = np.where(gaps, values, have)
            self.worked.append(
                Worked(quantity, way, np.where(gaps, values, np.nan), np.where(gaps, doubt, np.nan))
            )


def derive(
    readings: Mapping[Quantity, Sequence[float]],
    clubs: Sequence[str | None],
    weather: Weather | None = None,
) -> Derived:
    """Works out all rows at once; readings are inside units, parallel, NaN where missing.

    ``weather`` is what the balls flew through, standard and still where it is not known.
    Rows are to have passed the row rules: an impossible reading spoils what is made of it.
    """
    sheet = _Sheet(readings, len(clubs))
    with np.errstate(all="ignore"):
        _from_speeds(sheet)
        _from_face_and_path(sheet)
        _from_strike(sheet, clubs)
        curve_m = _from_finish(sheet)
        flown = _from_flight(sheet, weather or Weather())
        doubts = _disagreements(sheet, curve_m, flown)
    return Derived(tuple(sheet.worked), doubts)


def _from_speeds(sheet: _Sheet) -> None:
    """Smash factor = ball speed / club speed: any two give the third."""
    club, ball = sheet.given(Quantity.CLUB_SPEED), sheet.given(Quantity.BALL_SPEED)
    smash = sheet.given(Quantity.SMASH_FACTOR)
    for quantity, values in (
        (Quantity.SMASH_FACTOR, impact.smash_factor(ball, club)),
        (Quantity.BALL_SPEED, smash * club),
        (Quantity.CLUB_SPEED, ball / np.where(smash > 0, smash, np.nan)),
    ):
        sheet.fill(quantity, WorkedFrom.SPEEDS, values, impact.SPEED_READING_DOUBT * values)


def _from_face_and_path(sheet: _Sheet) -> None:
    """Face to path = face - path: any two give the third."""
    face, path = sheet.given(Quantity.FACE_ANGLE), sheet.given(Quantity.CLUB_PATH)
    apart = sheet.given(Quantity.FACE_TO_PATH)
    for quantity, values in (
        (Quantity.FACE_TO_PATH, face - path),
        (Quantity.FACE_ANGLE, apart + path),
        (Quantity.CLUB_PATH, face - apart),
    ):
        sheet.fill(quantity, WorkedFrom.FACE_AND_PATH, values, ANGLE_DOUBT_DEG)


def _from_strike(sheet: _Sheet, clubs: Sequence[str | None]) -> None:
    """The D-plane with what it does to the ball, and the low point of the arc."""
    share_of = {club: impact.face_share(family_of(club) if club else None) for club in set(clubs)}
    share = np.array([share_of[club] for club in clubs])
    attack, loft = sheet.given(Quantity.ATTACK_ANGLE), sheet.given(Quantity.DYNAMIC_LOFT)
    path, face = sheet.known(Quantity.CLUB_PATH), sheet.known(Quantity.FACE_ANGLE)
    spin_loft = impact.spin_loft_deg(attack, loft, sheet.known(Quantity.FACE_TO_PATH))
    sheet.fill(Quantity.SPIN_LOFT, WorkedFrom.STRIKE, spin_loft, SPIN_LOFT_DOUBT_DEG)
    plane = impact.d_plane(impact.Delivery(attack, path, loft, face), share)
    up_doubt = np.maximum(ANGLE_DOUBT_DEG, impact.FACE_SHARE_DOUBT * plane.spin_loft_deg)
    side_doubt = np.abs(impact.FACE_SHARE_DOUBT * plane.face_to_path_deg)
    side_doubt = np.maximum(ANGLE_DOUBT_DEG, side_doubt)
    low_point = impact.low_point(attack)
    spin = impact.spin_from_strike(
        sheet.known(Quantity.CLUB_SPEED), sheet.known(Quantity.SPIN_LOFT)
    )
    for quantity, way, values, doubt in (
        (Quantity.LAUNCH_ANGLE, WorkedFrom.STRIKE, plane.launch_angle_deg, up_doubt),
        (Quantity.LAUNCH_DIRECTION, WorkedFrom.STRIKE, plane.launch_direction_deg, side_doubt),
        (Quantity.SPIN_AXIS, WorkedFrom.STRIKE, plane.axis_deg, AXIS_DOUBT_DEG),
        (Quantity.SPIN_RATE, WorkedFrom.STRIKE, spin.value, spin.doubt),
        (Quantity.LOW_POINT, WorkedFrom.ARC, low_point.value, low_point.doubt),
    ):
        sheet.fill(quantity, way, values, doubt)


def _from_finish(sheet: _Sheet) -> Floats:
    """Curve, how far right of its start line a ball came down; returned for all rows (n,)."""
    heading = np.radians(sheet.given(Quantity.LAUNCH_DIRECTION))
    carry_m, side_m = sheet.given(Quantity.CARRY), sheet.given(Quantity.CARRY_SIDE)
    along_m = np.sqrt(carry_m**2 - side_m**2)
    curve_m = np.asarray(side_m * np.cos(heading) - along_m * np.sin(heading))
    sheet.fill(Quantity.CURVE, WorkedFrom.FINISH, curve_m, CURVE_DOUBT_M)
    return curve_m


def _from_flight(sheet: _Sheet, weather: Weather) -> Flights:
    """What a given launch flies, returned for all rows (n,). No estimate is flown."""
    start, tilt = sheet.given(Quantity.LAUNCH_DIRECTION), sheet.given(Quantity.SPIN_AXIS)
    flights = fly(
        Launch(
            ball_speed_mps=sheet.given(Quantity.BALL_SPEED),
            angle_deg=sheet.given(Quantity.LAUNCH_ANGLE),
            direction_deg=np.nan_to_num(start),
            spin_rpm=sheet.given(Quantity.SPIN_RATE),
            axis_deg=np.nan_to_num(tilt),
        ),
        weather,
    )
    sided = np.where(np.isfinite(start) & np.isfinite(tilt), 1.0, np.nan)
    for quantity, values, doubt in (
        (Quantity.CARRY, flights.carry_m, FLIGHT_DOUBT * flights.carry_m),
        (Quantity.APEX, flights.apex_m, APEX_DOUBT * flights.apex_m),
        (Quantity.DESCENT_ANGLE, flights.descent_deg, DESCENT_DOUBT_DEG),
        (Quantity.CARRY_SIDE, sided * flights.side_m, FLIGHT_DOUBT * flights.carry_m),
        (Quantity.CURVE, sided * flights.curve_m, FLIGHT_DOUBT * flights.carry_m),
    ):
        sheet.fill(quantity, WorkedFrom.FLIGHT, values, doubt)
    return flights


def _disagreements(
    sheet: _Sheet, curve_m: Floats, flown: Flights
) -> Mapping[int, tuple[RowRule, ...]]:
    """What was given against what the rest of its row makes of it."""
    attack, loft = sheet.given(Quantity.ATTACK_ANGLE), sheet.given(Quantity.DYNAMIC_LOFT)
    true_deg = impact.spin_loft_deg(attack, loft, sheet.known(Quantity.FACE_TO_PATH))
    spin_loft = sheet.given(Quantity.SPIN_LOFT)
    carry_m = sheet.given(Quantity.CARRY)
    # Devices tell either spin loft, the true angle or loft less attack: either will do.
    beside_planar = (
        np.abs(spin_loft - impact.planar_spin_loft_deg(loft, attack)) > SPIN_LOFT_DOUBT_DEG
    )
    beside_true = ~(np.abs(spin_loft - true_deg) <= SPIN_LOFT_DOUBT_DEG)
    room_m = np.maximum(CURVE_DOUBT_M, CURVE_DISAGREES_SHARE * carry_m)
    doubts: dict[int, tuple[RowRule, ...]] = {}
    for rule, flags in (
        (RowRule(Check.SPIN_LOFT_DISAGREES), beside_planar & beside_true),
        (RowRule(Check.CURVE_DISAGREES), np.abs(sheet.given(Quantity.CURVE) - curve_m) > room_m),
        (
            RowRule(Check.CARRY_FAR_FROM_LAUNCH),
            np.abs(carry_m - flown.carry_m)
            > np.maximum(CARRY_ROOM_M, CARRY_DISAGREES_SHARE * flown.carry_m),
        ),
        (
            RowRule(Check.APEX_FAR_FROM_LAUNCH),
            np.abs(sheet.given(Quantity.APEX) - flown.apex_m)
            > np.maximum(APEX_ROOM_M, APEX_DISAGREES_SHARE * flown.apex_m),
        ),
        (
            RowRule(Check.DESCENT_FAR_FROM_LAUNCH),
            np.abs(sheet.given(Quantity.DESCENT_ANGLE) - flown.descent_deg) > DESCENT_DISAGREES_DEG,
        ),
    ):
        for row in np.flatnonzero(flags).tolist():
            doubts[row] = (*doubts.get(row, ()), rule)
    return doubts
