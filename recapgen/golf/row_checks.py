"""Which readings cannot be, and which want a second look.

Bounds and ceilings come from the mechanics of impact: smash factor is at most
(1 + e) / (1 + m / M), about 1.53, and falls with spin loft; the ball leaves between the directions
the club moves and the face looks (D-plane); spin cannot exceed one and a half turns per ball
circumference travelled.

Impossible is only what no strike can do. The worst shots are real: a chunk sends the ball off at
.26 of the club's speed, a blast out of sand at .22, a graze at .05. They cast doubt and count.
"""

import math
from collections.abc import Mapping, Sequence

import numpy as np
from msgspec import Struct

from recapgen.golf.air import Floats
from recapgen.golf.clubs import Family, family_of
from recapgen.golf.flight_checks import Flags, no_flight_has
from recapgen.golf.impact import smash_ceiling
from recapgen.golf.quantity_facts import FACTS
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import Check, RowRule

BALL_RADIUS_M = 0.021335
MOST_SPIN_RATIO = 1.5  # surface speed over ball speed
SMASH_CEILING = 1.56  # a full swing; a putter's head is heavier
SMASH_CEILING_PUTTER = 1.75
SMASH_DOUBT = {Family.DRIVER: 1.52, Family.WOOD: 1.52, Family.HYBRID: 1.52, Family.IRON: 1.50}
SMASH_DOUBT_WEDGE = 1.35  # a wedge, or spin loft above this many degrees:
STEEP_SPIN_LOFT_DEG = 35
SMASH_DOUBT_LOW = 0.3
SPIN_LOFT_OFF_DEG = 5.0  # what a reading of it may err by
LEAST_WEDGE_SPIN_LOFT_DEG = 25.0  # a pitching wedge leant forward as far as it can be
SPUN_BACK_M = {Family.WEDGE: 10.0, Family.IRON: 3.0}  # how far a ball may come back
SPUN_BACK_UNNAMED_M = 3.0
SLACK_DEG = 2.0  # launch may miss the span of attack and loft, or of path and face, by so much
SMASH_DISAGREES = 0.03
ANGLE_DISAGREES_DEG = 1.0


class Findings(Struct, frozen=True):
    """By row index: the rule that makes a row impossible, and the rules that cast doubt."""

    impossible: Mapping[int, RowRule]
    doubts: Mapping[int, tuple[RowRule, ...]]


def check_rows(
    readings: Mapping[Quantity, Sequence[float]], clubs: Sequence[str | None]
) -> Findings:
    """Checks all rows at once; readings are inside units, parallel, NaN where missing.

    A row that cannot be is named the first rule it breaks, one in doubt all of them.
    """
    columns = {q: np.asarray(values, dtype=np.float64) for q, values in readings.items()}
    rows = len(clubs)
    impossible: dict[int, RowRule] = {}
    doubts: dict[int, tuple[RowRule, ...]] = {}
    with np.errstate(all="ignore"):
        for rule, flags in (*_out_of_bounds(columns), *_against_physics(columns, clubs)):
            for row in np.flatnonzero(flags):
                impossible.setdefault(int(row), rule)
        for rule, flags in (*_unusual(columns, clubs), *_inconsistent(columns, clubs, rows)):
            for row in np.flatnonzero(flags):
                if int(row) not in impossible:
                    doubts[int(row)] = (*doubts.get(int(row), ()), rule)
    return Findings(impossible, doubts)


def _outside(values: Floats, low: float, high: float) -> Flags:
    """NaN lies inside: a missing reading breaks no rule."""
    return np.asarray((values < low) | (values > high))


def _out_of_bounds(columns: Mapping[Quantity, Floats]) -> list[tuple[RowRule, Flags]]:
    return [
        (RowRule(Check.IMPOSSIBLE, q), _outside(values, *FACTS[q].impossible))
        for q, values in columns.items()
        if q is not Quantity.SMASH_FACTOR
    ]


def _unusual(
    columns: Mapping[Quantity, Floats], clubs: Sequence[str | None]
) -> list[tuple[RowRule, Flags]]:
    """The plausible ranges are those of a swing, not of a putt."""
    swung = ~_of_family(clubs, Family.PUTTER)
    return [
        (RowRule(Check.UNUSUAL, q), _outside(values, *FACTS[q].plausible) & swung)
        for q, values in columns.items()
        if q is not Quantity.SMASH_FACTOR
    ]


def _smash(columns: Mapping[Quantity, Floats]) -> Floats | None:
    """Smash factor as given, else ball speed over club speed."""
    if Quantity.SMASH_FACTOR in columns:
        return columns[Quantity.SMASH_FACTOR]
    if Quantity.BALL_SPEED in columns and Quantity.CLUB_SPEED in columns:
        return np.asarray(columns[Quantity.BALL_SPEED] / columns[Quantity.CLUB_SPEED])
    return None


def _against_physics(
    columns: Mapping[Quantity, Floats], clubs: Sequence[str | None]
) -> list[tuple[RowRule, Flags]]:
    found: list[tuple[RowRule, Flags]] = []
    smash = _smash(columns)
    if smash is not None:
        found.append(
            (RowRule(Check.SMASH_OVER_CEILING), np.asarray(smash > _ceilings(columns, clubs)))
        )
    if Quantity.SPIN_RATE in columns and Quantity.BALL_SPEED in columns:
        surface = columns[Quantity.SPIN_RATE] * (2 * math.pi / 60) * BALL_RADIUS_M
        found.append(
            (
                RowRule(Check.SPIN_OVER_SPEED),
                np.asarray(surface > MOST_SPIN_RATIO * columns[Quantity.BALL_SPEED]),
            )
        )
    short_m = _short_of_carry(columns)
    if short_m is not None:
        comes_back = {club: _comes_back_m(club) for club in set(clubs)}
        most_m = np.array([comes_back[club] for club in clubs])
        found.append((RowRule(Check.CARRY_BEYOND_TOTAL), np.asarray(short_m > most_m)))
    found.extend(no_flight_has(columns))
    return found


def _ceilings(columns: Mapping[Quantity, Floats], clubs: Sequence[str | None]) -> Floats:
    """The most that each row's loft allows (n,): the spin loft read, else the club's least."""
    nothing = np.full(len(clubs), np.nan)
    read = columns.get(Quantity.SPIN_LOFT, nothing) - SPIN_LOFT_OFF_DEG
    by_club = np.where(_of_family(clubs, Family.WEDGE), LEAST_WEDGE_SPIN_LOFT_DEG, 0.0)
    least = np.where(np.isfinite(read), np.clip(read, 0.0, None), by_club)
    ceiling = np.minimum(smash_ceiling(least), SMASH_CEILING)
    return np.where(_of_family(clubs, Family.PUTTER), SMASH_CEILING_PUTTER, ceiling)


def _short_of_carry(columns: Mapping[Quantity, Floats]) -> Floats | None:
    """Metres by which balls stopped short of where they landed, beyond what the readings leave."""
    if Quantity.CARRY not in columns or Quantity.TOTAL not in columns:
        return None
    room_m = FACTS[Quantity.CARRY].resolution + FACTS[Quantity.TOTAL].resolution
    return np.asarray(columns[Quantity.CARRY] - columns[Quantity.TOTAL] - room_m)


def _comes_back_m(club: str | None) -> float:
    family = family_of(club) if club else None
    return SPUN_BACK_M.get(family, 0.0) if family else SPUN_BACK_UNNAMED_M


def _of_family(clubs: Sequence[str | None], family: Family) -> Flags:
    named = {club for club in set(clubs) if club is not None and family_of(club) is family}
    return np.array([club in named for club in clubs], dtype=np.bool_)


def _doubtful_smash(club: str | None) -> float:
    family = family_of(club) if club else None
    if family is Family.PUTTER:
        return SMASH_CEILING_PUTTER
    if family is Family.WEDGE:
        return SMASH_DOUBT_WEDGE
    return SMASH_DOUBT.get(family, SMASH_DOUBT[Family.DRIVER]) if family else 1.52


def _inconsistent(
    columns: Mapping[Quantity, Floats], clubs: Sequence[str | None], rows: int
) -> list[tuple[RowRule, Flags]]:
    nothing = np.full(rows, np.nan)

    def of(quantity: Quantity) -> Floats:
        return columns.get(quantity, nothing)

    found: list[tuple[RowRule, Flags]] = []
    smash = _smash(columns)
    if smash is not None:
        limits = {club: _doubtful_smash(club) for club in set(clubs)}
        limit = np.array([limits[club] for club in clubs])
        loft = of(Quantity.SPIN_LOFT)
        steep = np.minimum(SMASH_DOUBT_WEDGE, smash_ceiling(loft))
        limit = np.where(loft > STEEP_SPIN_LOFT_DEG, steep, limit)
        found.append((RowRule(Check.SMASH_HIGH), np.asarray(smash > limit)))
        swung = ~_of_family(clubs, Family.PUTTER)
        found.append((RowRule(Check.SMASH_LOW), np.asarray((smash < SMASH_DOUBT_LOW) & swung)))
        ratio = of(Quantity.BALL_SPEED) / of(Quantity.CLUB_SPEED)
        found.append(
            (RowRule(Check.SMASH_DISAGREES), np.asarray(np.abs(smash - ratio) > SMASH_DISAGREES))
        )
    found.append(
        (
            RowRule(Check.LAUNCH_OUTSIDE),
            _beyond(
                of(Quantity.LAUNCH_ANGLE), of(Quantity.ATTACK_ANGLE), of(Quantity.DYNAMIC_LOFT)
            ),
        )
    )
    found.append(
        (
            RowRule(Check.DIRECTION_OUTSIDE),
            _beyond(of(Quantity.LAUNCH_DIRECTION), of(Quantity.CLUB_PATH), of(Quantity.FACE_ANGLE)),
        )
    )
    short_m = _short_of_carry(columns)
    if short_m is not None:
        found.append((RowRule(Check.SPUN_BACK), np.asarray(short_m > 0)))
    apart = of(Quantity.FACE_ANGLE) - of(Quantity.CLUB_PATH)
    found.append(
        (
            RowRule(Check.FACE_TO_PATH_DISAGREES),
            np.asarray(np.abs(of(Quantity.FACE_TO_PATH) - apart) > ANGLE_DISAGREES_DEG),
        )
    )
    return found


def _beyond(values: Floats, one: Floats, other: Floats) -> Flags:
    low, high = np.minimum(one, other) - SLACK_DEG, np.maximum(one, other) + SLACK_DEG
    return np.asarray((values < low) | (values > high))
