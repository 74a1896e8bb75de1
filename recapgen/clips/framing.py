"""From the coach's shares of an upright picture to a film's pixels: crop, hidden boxes, marks."""

from dataclasses import replace

from recapgen.clips.footage import Footage
from recapgen.model.filming import Box, Line, Place, Ring
from recapgen.tools.media.editing import Cut, Plan

_WHOLE = Box(0, 0, 1, 1)
_UNCUT = (0.0, 0.0, 1.0, 1.0)


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
        pace=asked.pace,
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
    if isinstance(mark, Line):
        start, end = (_moved(place, cut, plan, number) for place in (mark.start, mark.end))
        return Line(start, end)
    middle = _moved(mark.middle, cut, plan, number)
    return replace(mark, middle=middle, radius=_as_wide(mark.radius, cut, plan))


def box_on_film(box: Box, cut: Cut, plan: Plan, number: int) -> Box:
    """The box in shares of the whole film, as ``on_film``."""
    corner = _moved(Place(box.x, box.y), cut, plan, number)
    height = box.height / (cut.crop or _UNCUT)[3]
    return Box(corner.x, corner.y, _as_wide(box.width, cut, plan), round(height, 4))


def _moved(place: Place, cut: Cut, plan: Plan, number: int) -> Place:
    x, y, width, height = cut.crop or _UNCUT
    left = number * plan.cell_width + (plan.cell_width - cut.width) // 2
    across = left + (place.x - x) / width * cut.width
    wide = plan.cell_width * len(plan.cuts)
    return Place(round(across / wide, 4), round((place.y - y) / height, 4))


def _as_wide(share: float, cut: Cut, plan: Plan) -> float:
    """A share of the side's width in shares of the film's."""
    width = (cut.crop or _UNCUT)[2]
    return round(share / width * cut.width / (plan.cell_width * len(plan.cuts)), 4)
