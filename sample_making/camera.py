"""A phone on a tripod, in front of the golfer or behind the line."""

from dataclasses import dataclass

from sample_making.paper import Disc
from sample_making.swing_poses import Floats

FACE_ON = "face on"
DOWN_THE_LINE = "down the line"


@dataclass(frozen=True, slots=True)
class Camera:
    """``pixels`` is the drawing's (width, height); ``mirrored`` for a left-hander."""

    view: str
    pixels: tuple[int, int]
    mirrored: bool = False
    size: float = 1.0  # of the golfer: a junior is smaller
    distance_m: float = 4.9
    seen_m: float = 2.85  # height of the picture at the golfer's feet
    middle_m: float = 0.98  # height of the lens

    @property
    def offset_m(self) -> float:
        """Where the lens stands sideways; down the line it looks along the hands."""
        return 0.05 if self.view == FACE_ON else 0.36

    def depth(self, point: Floats) -> float:
        """Metres behind the golfer's middle, seen from the lens."""
        return float(-point[1] if self.view == FACE_ON else point[0]) * self.size

    def look(self, point: Floats) -> tuple[float, float, float]:
        """Pixel x, pixel y, pixels for each metre there."""
        across = float(point[0] if self.view == FACE_ON else point[1]) * self.size
        across -= self.offset_m * self.size
        width, height = self.pixels
        scale = height / self.seen_m * self.distance_m / (self.distance_m + self.depth(point))
        x = width / 2 + (-across if self.mirrored else across) * scale
        return x, height * 0.53 - (float(point[2]) * self.size - self.middle_m) * scale, scale

    def disc(self, point: Floats, radius_m: float) -> Disc:
        x, y, scale = self.look(point)
        return x, y, radius_m * self.size * scale
