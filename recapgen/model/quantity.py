"""The golf quantities a shot can carry, in the order of the ball's story."""

from enum import Enum, StrEnum, auto
from typing import Self


class Dimension(StrEnum):
    """What a number measures; inside the program each has one unit."""

    SPEED = "speed"  # m/s
    LENGTH = "length"  # m
    ANGLE = "angle"  # degrees
    SPIN = "spin"  # revolutions per minute
    RATIO = "ratio"  # no unit
    WIDTHS = "widths"  # of the patch that is followed
    OUTCOME = "outcome"  # 1 in, 0 out; of several balls the share that was in


class Sides(Enum):
    """What minus and plus of a number are called."""

    NONE = auto()
    LEFT_RIGHT = auto()
    CLOSED_OPEN = auto()  # where the student's hand is known, else left and right
    DOWN_UP = auto()
    BEFORE_PAST = auto()  # of the ball
    SHORT_LONG = auto()  # of the hole


class HandWords(Enum):
    """What the trade calls a right-hander's minus and plus besides; a left-hander's are swapped."""

    NONE = auto()
    PATH = auto()  # out to in, in to out
    FACE = auto()  # closed, open
    SHAPE = auto()  # draw, fade


class Quantity(StrEnum):
    """A measured or derived golf quantity; the value is its name in the trade's words.

    ``dimension``, ``sides`` and ``hand_words`` are stated here and nowhere else; ranges and
    synonyms are in ``golf/quantity_facts.py``.
    Sideways values (path, face, direction, tilt, curve, side) are positive to the
    right of the target for everyone; attack and launch are positive upwards. Travel is
    positive to the right and upwards as the picture is shown.
    """

    dimension: Dimension
    sides: Sides
    hand_words: HandWords

    def __new__(
        cls,
        name: str,
        dimension: Dimension = Dimension.ANGLE,  # left away where one is looked up by its name
        sides: Sides = Sides.NONE,
        hand_words: HandWords = HandWords.NONE,
    ) -> Self:
        quantity = str.__new__(cls, name)
        quantity._value_ = name
        quantity.dimension = dimension
        quantity.sides = sides
        quantity.hand_words = hand_words
        return quantity

    CLUB_SPEED = "club speed", Dimension.SPEED
    BALL_SPEED = "ball speed", Dimension.SPEED
    SMASH_FACTOR = "smash factor", Dimension.RATIO
    ATTACK_ANGLE = "attack angle", Dimension.ANGLE, Sides.DOWN_UP
    LOW_POINT = "low point", Dimension.LENGTH, Sides.BEFORE_PAST
    DYNAMIC_LOFT = "dynamic loft", Dimension.ANGLE
    SPIN_LOFT = "spin loft", Dimension.ANGLE
    CLUB_PATH = "club path", Dimension.ANGLE, Sides.LEFT_RIGHT, HandWords.PATH
    FACE_ANGLE = "face angle", Dimension.ANGLE, Sides.LEFT_RIGHT, HandWords.FACE
    FACE_TO_PATH = "face to path", Dimension.ANGLE, Sides.CLOSED_OPEN
    LAUNCH_ANGLE = "launch angle", Dimension.ANGLE, Sides.DOWN_UP
    LAUNCH_DIRECTION = "launch direction", Dimension.ANGLE, Sides.LEFT_RIGHT
    SPIN_RATE = "spin rate", Dimension.SPIN
    SPIN_AXIS = "spin axis", Dimension.ANGLE, Sides.LEFT_RIGHT, HandWords.SHAPE
    APEX = "apex", Dimension.LENGTH
    CURVE = "curve", Dimension.LENGTH, Sides.LEFT_RIGHT, HandWords.SHAPE
    DESCENT_ANGLE = "descent angle", Dimension.ANGLE
    CARRY = "carry", Dimension.LENGTH
    CARRY_SIDE = "carry side", Dimension.LENGTH, Sides.LEFT_RIGHT
    TOTAL = "total distance", Dimension.LENGTH
    TOTAL_SIDE = "total side", Dimension.LENGTH, Sides.LEFT_RIGHT
    TRAVEL_ACROSS = "travel across", Dimension.WIDTHS, Sides.LEFT_RIGHT
    TRAVEL_UP = "travel up", Dimension.WIDTHS, Sides.DOWN_UP
    ON_LINE = "on line", Dimension.OUTCOME
    IN_CIRCLE = "in the circle", Dimension.OUTCOME
    HOLED = "holed", Dimension.OUTCOME
    UP_AND_DOWN = "up and down", Dimension.OUTCOME
    GREEN_HIT = "green hit", Dimension.OUTCOME
    FAIRWAY_HIT = "fairway hit", Dimension.OUTCOME
    DISTANCE_LEFT = "distance left", Dimension.LENGTH
    PACE = "pace", Dimension.LENGTH, Sides.SHORT_LONG

    @property
    def in_clips(self) -> bool:
        """Whether it is read from the lesson's clips, and never from a table."""
        return self.dimension is Dimension.WIDTHS

    @property
    def is_outcome(self) -> bool:
        """Whether a ball is in or out, so that only the share of those in can change."""
        return self.dimension is Dimension.OUTCOME

    @property
    def by_eye(self) -> bool:
        """Whether it is counted or paced off beside the ball: no device's table has it."""
        return self.is_outcome or self.paced

    @property
    def paced(self) -> bool:
        """Whether it is a short length on the green, shown in metres or feet and never in yards."""
        return self in (Quantity.DISTANCE_LEFT, Quantity.PACE)

    @property
    def in_tables(self) -> bool:
        """Whether a column of a device's table may hold it."""
        return not (self.in_clips or self.by_eye)

    @property
    def small(self) -> bool:
        """Whether it is a length that is shown in centimetres or inches."""
        return self.sides is Sides.BEFORE_PAST

    @property
    def sideways(self) -> bool:
        """Whether plus is to the right."""
        return self.sides in (Sides.LEFT_RIGHT, Sides.CLOSED_OPEN)

    @property
    def mirrored(self) -> bool:
        """Whether a left-hander's words are turned about; a picture's right is everybody's."""
        return self.sideways and not self.in_clips
