"""What a clip's line in the notes says of its pictures.

Places and lengths are shares of the upright picture, mirrored where that is asked, from its
upper left corner.
"""

from enum import StrEnum
from math import inf

from msgspec import Struct


class Position(StrEnum):
    """A moment of the swing that is looked for, in the order in which they come."""

    START = "start"
    TOP = "top"
    IMPACT = "impact"
    FINISH = "finish"


class Point(Struct, frozen=True):
    x: float
    y: float


class Box(Struct, frozen=True):
    x: float
    y: float
    width: float
    height: float


class Covered(Struct, frozen=True):
    """What is not to be seen of a clip from one of its moments until the next."""

    from_s: float
    box: Box


class MarkLine(Struct, frozen=True, tag=True):
    """``mark: {line: [x, y, x, y]}``"""

    start: Point
    end: Point


class MarkRing(Struct, frozen=True, tag=True):
    """``mark: {ring: [x, y, radius]}``; the radius is a share of the picture's width."""

    middle: Point
    radius: float


class Pace(Struct, frozen=True):
    """A clip plays ``times`` slower than life between two of its moments, else as it was.

    Phones save slow motion with a beginning and an end in real time. ``from_s`` and ``to_s`` count
    from the first picture, as all seconds of a clip; seconds of life begin there, too.
    """

    times: float = 1.0
    from_s: float = 0.0
    to_s: float = inf

    def life_s(self, at_s: float) -> float:
        """How much of life has passed at a moment of the clip."""
        slowed_s = min(max(at_s, self.from_s), self.to_s) - self.from_s
        return at_s - slowed_s * (1 - 1 / self.times)

    def clip_s(self, life_s: float) -> float:
        """The other way."""
        slowed_s = min(max(life_s - self.from_s, 0.0), (self.to_s - self.from_s) / self.times)
        return life_s + slowed_s * (self.times - 1)

    def times_at(self, at_s: float) -> float:
        """How many times slower than life the clip plays at one of its moments."""
        return self.times if self.from_s <= at_s <= self.to_s else 1.0


AS_LIVED = Pace()


class Directions(Struct, frozen=True):
    """``ball`` is where it lies; ``slow`` how the clip plays, where the coach said so.

    ``moments`` are positions the coach read off, in seconds from the first picture. ``follow``
    is a patch at the first still, followed to the strike. ``face`` is where the face is in a
    case's film: at the first still, to be followed, or ``face_stays`` within it all along;
    ``face_shown`` where it need not be hidden.
    """

    ball: Point | None = None
    slow: Pace | None = None
    moments: tuple[tuple[Position, float], ...] = ()
    mark: MarkLine | MarkRing | None = None
    blur: tuple[Box, ...] = ()
    crop: Box | None = None
    mirror: bool = False
    download: bool = False  # the student may save this clip
    follow: Box | None = None
    face: Box | None = None
    face_stays: bool = False
    face_shown: bool = False

    @property
    def pace(self) -> Pace:
        return self.slow or AS_LIVED


AS_FILMED = Directions()
