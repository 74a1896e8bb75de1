"""What a clip's line in the notes says of its pictures.

Places and lengths are shares of the upright picture, mirrored where that is asked, from its
upper left corner.
"""

from dataclasses import dataclass
from enum import StrEnum


class Position(StrEnum):
    """A moment of the swing that is looked for, in the order in which they come."""

    START = "start"
    TOP = "top"
    STRIKE = "strike"
    FINISH = "finish"


@dataclass(frozen=True, slots=True)
class Place:
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Box:
    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Line:
    """``mark: {line: [x, y, x, y]}``"""

    start: Place
    end: Place


@dataclass(frozen=True, slots=True)
class Ring:
    """``mark: {ring: [x, y, radius]}``; the radius is a share of the picture's width."""

    middle: Place
    radius: float


@dataclass(frozen=True, slots=True)
class Directions:
    """``ball`` is where it lies; ``slow`` how many times slower than life the clip plays.

    ``moments`` are positions the coach read off, in seconds from the first picture. ``follow``
    is a patch at the first still, followed to the strike. ``face`` is where the face is in a
    case's film: at the first still, to be followed, or ``face_stays`` within it all along;
    ``face_shown`` where it need not be hidden.
    """

    ball: Place | None = None
    slow: float = 1.0
    moments: tuple[tuple[Position, float], ...] = ()
    mark: Line | Ring | None = None
    blur: tuple[Box, ...] = ()
    crop: Box | None = None
    mirror: bool = False
    download: bool = False  # the student may save this clip
    follow: Box | None = None
    face: Box | None = None
    face_stays: bool = False
    face_shown: bool = False


AS_FILMED = Directions()
