"""The golf quantities a shot can carry, in the order of the ball's story."""

from enum import StrEnum


class Dimension(StrEnum):
    """What a number measures; inside the program each has one unit."""

    SPEED = "speed"  # m/s
    LENGTH = "length"  # m
    ANGLE = "angle"  # degrees
    SPIN = "spin"  # revolutions per minute
    RATIO = "ratio"  # no unit
    WIDTHS = "widths"  # of the patch that is followed


class Quantity(StrEnum):
    """A measured or derived golf quantity; the value is its name in the trade's words.

    Sideways values (path, face, direction, tilt, curve, side) are positive to the
    right of the target for everyone; attack and launch are positive upwards. Travel is
    positive to the right and upwards as the picture is shown.
    """

    CLUB_SPEED = "club speed"
    BALL_SPEED = "ball speed"
    SMASH_FACTOR = "smash factor"
    ATTACK_ANGLE = "attack angle"
    LOW_POINT = "low point"
    DYNAMIC_LOFT = "dynamic loft"
    SPIN_LOFT = "spin loft"
    CLUB_PATH = "club path"
    FACE_ANGLE = "face angle"
    FACE_TO_PATH = "face to path"
    LAUNCH_ANGLE = "launch angle"
    LAUNCH_DIRECTION = "launch direction"
    SPIN_RATE = "spin rate"
    SPIN_AXIS = "spin axis"
    APEX = "apex"
    CURVE = "curve"
    DESCENT_ANGLE = "descent angle"
    CARRY = "carry"
    CARRY_SIDE = "carry side"
    TOTAL = "total distance"
    TOTAL_SIDE = "total side"
    TRAVEL_ACROSS = "travel across"
    TRAVEL_UP = "travel up"

    @property
    def dimension(self) -> Dimension:
        """What this quantity's numbers measure."""
        return _DIMENSIONS.get(self.value, Dimension.ANGLE)

    @property
    def in_clips(self) -> bool:
        """Whether it is read from the lesson's clips, and never from a table."""
        return self.dimension is Dimension.WIDTHS


_DIMENSIONS = {
    "club speed": Dimension.SPEED,
    "ball speed": Dimension.SPEED,
    "smash factor": Dimension.RATIO,
    "spin rate": Dimension.SPIN,
    "low point": Dimension.LENGTH,
    "apex": Dimension.LENGTH,
    "curve": Dimension.LENGTH,
    "carry": Dimension.LENGTH,
    "carry side": Dimension.LENGTH,
    "total distance": Dimension.LENGTH,
    "total side": Dimension.LENGTH,
    "travel across": Dimension.WIDTHS,
    "travel up": Dimension.WIDTHS,
}
