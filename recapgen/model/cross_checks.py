"""Which readings of a row are set against each other, by the name of the rule."""

from collections.abc import Collection, Mapping

from recapgen.model.quantity import Quantity

RULE_READS: Mapping[str, tuple[Quantity, ...]] = {
    "smash-disagrees": (Quantity.SMASH_FACTOR, Quantity.CLUB_SPEED, Quantity.BALL_SPEED),
    "face-to-path-disagrees": (Quantity.FACE_TO_PATH, Quantity.FACE_ANGLE, Quantity.CLUB_PATH),
    "launch-outside-attack-and-loft": (
        Quantity.LAUNCH_ANGLE,
        Quantity.ATTACK_ANGLE,
        Quantity.DYNAMIC_LOFT,
    ),
    "direction-outside-path-and-face": (
        Quantity.LAUNCH_DIRECTION,
        Quantity.CLUB_PATH,
        Quantity.FACE_ANGLE,
    ),
    "spin-loft-disagrees": (Quantity.SPIN_LOFT, Quantity.ATTACK_ANGLE, Quantity.DYNAMIC_LOFT),
    "curve-disagrees": (
        Quantity.CURVE,
        Quantity.CARRY,
        Quantity.CARRY_SIDE,
        Quantity.LAUNCH_DIRECTION,
    ),
    "carry-far-from-launch": (
        Quantity.CARRY,
        Quantity.BALL_SPEED,
        Quantity.LAUNCH_ANGLE,
        Quantity.SPIN_RATE,
    ),
    "apex-far-from-launch": (
        Quantity.APEX,
        Quantity.BALL_SPEED,
        Quantity.LAUNCH_ANGLE,
        Quantity.SPIN_RATE,
    ),
    "descent-far-from-launch": (
        Quantity.DESCENT_ANGLE,
        Quantity.BALL_SPEED,
        Quantity.LAUNCH_ANGLE,
        Quantity.SPIN_RATE,
    ),
    "spun-back": (Quantity.TOTAL, Quantity.CARRY),
}
"""The readings that a cross-check sets against each other, the doubtful one first."""


def leans_on(rule: str, calculated: Collection[Quantity]) -> tuple[Quantity, ...]:
    """The quantities of a cross-check that the device calculates instead of measuring them."""
    return tuple(q for q in RULE_READS.get(rule, ()) if q in calculated)
