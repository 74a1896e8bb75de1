"""From the coach's shares of an upright picture to a film's pixels: crop, hidden boxes, marks."""

from dataclasses import replace

from recapgen.clips.footage import Footage
from recapgen.model.filming import Box, Line, Place, Ring
from recapgen.tools.media.editing import Cut, Plan

_WHOLE = Box(0, 0, 1, 1)


def size(side: Footage) -> tuple[float, float]:
    """Width and height of the side's picture after its crop, in upright pixels."""
    crop = side.clip.directions.crop or _WHOLE
    return side.recording.width * crop.width, side.recording.height * crop.height


def cut(side: Footage, strike_s: float, width: int, height: int) -> Cut:
    """The side's place in a film, where its picture is ``width`` x ``height``."""
    asked = side.clip.directions
    crop = asked.crop
    return Cut(
        path=side.clip.path,
        recording=side.recording,
        strike_s=strike_s,
        width=width,
        height=height,
        slow=asked.slow,
        mirrored=asked.mirror,
        whole=side.whole,
        crop=None if crop is None else (crop.x, crop.y, crop.width, crop.height),
        hidden=tuple(
            hidden for box in asked.blur if (hidden := _hidden(box, crop or _WHOLE, width, height))
        ),
    )


def _hidden(box: Box, crop: Box, width: int, height: int) -> tuple[int, int, int, int] | None:
    """(x, y, width, height) of what is left of the box, on even pixels, rather more than less."""
    left = max(0, int((box.x - crop.x) / crop.width * width) // 2 * 2)
    top = max(0, int((box.y - crop.y) / crop.height * height) // 2 * 2)
    right = min(width, _even_up((box.x + box.width - crop.x) / crop.width * width))
    bottom = min(height, _even_up((box.y + box.height - crop.y) / crop.height * height))
    if right <= left or bottom <= top:
        return None
    return left, top, right - left, bottom - top


def _even_up(pixels: float) -> int:
    return int(-(-pixels // 2)) * 2


def on_film(mark: Line | Ring, cut: Cut, plan: Plan, number: int) -> Line | Ring:
    """The mark in shares of the whole film, whose ``number``th cell holds this cut."""
    wide = plan.cell_width * len(plan.cuts)
    x, y, width, height = cut.crop or (0.0, 0.0, 1.0, 1.0)
    left = number * plan.cell_width + (plan.cell_width - cut.width) // 2

    def moved(place: Place) -> Place:
        across = left + (place.x - x) / width * cut.width
        return Place(round(across / wide, 4), round((place.y - y) / height, 4))

    if isinstance(mark, Line):
        return Line(moved(mark.start), moved(mark.end))
    radius = round(mark.radius / width * cut.width / wide, 4)
    return replace(mark, middle=moved(mark.middle), radius=radius)
