"""Rules that a row of shots can break, and which readings they set against each other."""

from collections.abc import Collection, Mapping
from enum import StrEnum

from msgspec import Struct

from recapgen.model.quantity import Quantity


class Check(StrEnum):
    """What is checked of a row; the values are the names in the coach's data files."""

    # the row cannot be
    IMPOSSIBLE = "impossible"
    SMASH_OVER_CEILING = "smash-over-ceiling"
    SPIN_OVER_SPEED = "spin-over-speed"
    CARRY_BEYOND_TOTAL = "carry-beyond-total"
    APEX_NOT_OF_LAUNCH = "apex-not-of-launch"
    DESCENT_NOT_OF_LAUNCH = "descent-not-of-launch"
    # the row was not read
    QUOTE_OPEN = "quote-open"
    ROW_UNEVEN = "row-uneven"
    # the row counts, and wants a second look
    UNUSUAL = "unusual"
    SMASH_HIGH = "smash-high"
    SMASH_LOW = "smash-low"
    SMASH_DISAGREES = "smash-disagrees"
    LAUNCH_OUTSIDE = "launch-outside-attack-and-loft"
    DIRECTION_OUTSIDE = "direction-outside-path-and-face"
    FACE_TO_PATH_DISAGREES = "face-to-path-disagrees"
    SPIN_LOFT_DISAGREES = "spin-loft-disagrees"
    CURVE_DISAGREES = "curve-disagrees"
    CARRY_FAR_FROM_LAUNCH = "carry-far-from-launch"
    APEX_FAR_FROM_LAUNCH = "apex-far-from-launch"
    DESCENT_FAR_FROM_LAUNCH = "descent-far-from-launch"
    SPUN_BACK = "spun-back"


class RowRule(Struct, frozen=True):
    """A rule that a row broke; ``quantity`` is whose bounds, for the two checks of bounds."""

    check: Check
    quantity: Quantity | None = None

    @property
    def name(self) -> str:
        """As the data files name it ("smash-high", "impossible-ball-speed")."""
        if self.quantity is None:
            return self.check.value
        return f"{self.check}-{self.quantity.replace(' ', '-')}"


RULE_READS: Mapping[Check, tuple[Quantity, ...]] = {
    Check.SMASH_DISAGREES: (Quantity.SMASH_FACTOR, Quantity.CLUB_SPEED, Quantity.BALL_SPEED),
    Check.FACE_TO_PATH_DISAGREES: (Quantity.FACE_TO_PATH, Quantity.FACE_ANGLE, Quantity.CLUB_PATH),
    Check.LAUNCH_OUTSIDE: (
        Quantity.LAUNCH_ANGLE,
        Quantity.ATTACK_ANGLE,
        Quantity.DYNAMIC_LOFT,
    ),
    Check.DIRECTION_OUTSIDE: (
        Quantity.LAUNCH_DIRECTION,
        Quantity.CLUB_PATH,
        Quantity.FACE_ANGLE,
    ),
    Check.SPIN_LOFT_DISAGREES: (Quantity.SPIN_LOFT, Quantity.ATTACK_ANGLE, Quantity.DYNAMIC_LOFT),
    Check.CURVE_DISAGREES: (
        Quantity.CURVE,
        Quantity.CARRY,
        Quantity.CARRY_SIDE,
        Quantity.LAUNCH_DIRECTION,
    ),
    Check.CARRY_FAR_FROM_LAUNCH: (
        Quantity.CARRY,
        Quantity.BALL_SPEED,
        Quantity.LAUNCH_ANGLE,
        Quantity.SPIN_RATE,
    ),
    Check.APEX_FAR_FROM_LAUNCH: (
        Quantity.APEX,
        Quantity.BALL_SPEED,
        Quantity.LAUNCH_ANGLE,
        Quantity.SPIN_RATE,
    ),
    Check.DESCENT_FAR_FROM_LAUNCH: (
        Quantity.DESCENT_ANGLE,
        Quantity.BALL_SPEED,
        Quantity.LAUNCH_ANGLE,
        Quantity.SPIN_RATE,
    ),
    Check.SPUN_BACK: (Quantity.TOTAL, Quantity.CARRY),
}
"""The readings that a cross-check sets against each other, the doubtful one first."""


def leans_on(rule: RowRule, calculated: Collection[Quantity]) -> tuple[Quantity, ...]:
    """The quantities of a cross-check that the device calculates instead of measuring them."""
    return tuple(q for q in RULE_READS.get(rule.check, ()) if q in calculated)
