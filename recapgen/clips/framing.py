"""From the coach's shares of an upright picture to a film's pixels: crop, hidden boxes, marks."""

from bisect import bisect_right
from math import floor

from msgspec import Struct
from msgspec.structs import replace

from recapgen.clips.footage import Footage
from recapgen.model.filming import Box, MarkLine, MarkRing, Point
from recapgen.tools.media.editing import FilmCut, Plan
from recapgen.tools.media.hiding import Stand, Tiles

_Place = tuple[int, int, int, int]

_WHOLE = Box(0, 0, 1, 1)
_UNCUT = (0.0, 0.0, 1.0, 1.0)
_HAIR_S = 1e-3


class Clock(Struct, frozen=True):
    """How a film runs: frames a second, how many, and on which the strike is."""

    fps: int
    frames: int
    strike_frame: int


def size(side: Footage) -> tuple[float, float]:
    """Width and height of the side's picture after its crop, in upright pixels."""
    crop = side.clip.directions.crop or _WHOLE
    return side.recording.width * crop.width, side.recording.height * crop.height


def cut(side: Footage, strike_s: float, shown: tuple[int, int], clock: Clock) -> FilmCut:
    """The side's place in a film, where its picture is ``shown`` wide and high."""
    asked = side.clip.directions
    crop, (width, height) = asked.crop, shown
    return FilmCut(
        path=side.clip.path,
        recording=side.recording,
        strike_s=strike_s,
        width=width,
        height=height,
        pace=asked.pace,
        mirrored=asked.mirror,
        whole=side.whole,
        crop=None if crop is None else (crop.x, crop.y, crop.width, crop.height),
        hidden=_hidden(side, strike_s, shown, clock),
    )


def _hidden(
    side: Footage, strike_s: float, shown: tuple[int, int], clock: Clock
) -> tuple[Tiles, ...]:
    """Tiles over what is hidden all along, then over the face wherever it is."""
    crop = side.clip.directions.crop or _WHOLE
    always = [_cut_off(box, crop) for box in side.clip.directions.blur]
    faces = [_covers_of_frames(side, strike_s, clock)] if side.covered else []
    tiled = []
    for boxes in (*([box] * clock.frames for box in always), *faces):
        places = [_place(box, crop, shown) for box in boxes]
        sizes = dict.fromkeys(place[2:] for place in places if place is not None)
        tiled += [_tiles(places, size) for size in sizes]
    return tuple(tiled)


def _cut_off(box: Box, crop: Box) -> Box:
    """What of the box is left inside the crop; of no size where nothing is."""
    x, y = max(box.x, crop.x), max(box.y, crop.y)
    right = min(box.x + box.width, crop.x + crop.width)
    bottom = min(box.y + box.height, crop.y + crop.height)
    return Box(x, y, max(0.0, right - x), max(0.0, bottom - y))


def _covers_of_frames(side: Footage, strike_s: float, clock: Clock) -> list[Box]:
    """The box over the face for each frame: that of the picture it shows."""
    pace, times_s = side.clip.directions.pace, [cover.from_s for cover in side.covered]
    begins_s = pace.life_s(strike_s) - clock.strike_frame / clock.fps
    boxes = []
    for frame in range(clock.frames):
        at_s = pace.clip_s(begins_s + frame / clock.fps)
        shown = bisect_right(times_s, at_s + _HAIR_S) - 1
        boxes.append(side.covered[max(0, shown)].box)
    return boxes


def _tiles(places: list[_Place | None], size: tuple[int, int]) -> Tiles:
    """The stands of one size, each as long as nothing moves."""
    stands: list[Stand] = []
    for frame, place in enumerate(places):
        if place is None or place[2:] != size:
            continue
        last = stands[-1] if stands else None
        if last is not None and (last.last, last.x, last.y) == (frame - 1, *place[:2]):
            stands[-1] = replace(last, last=frame)
        else:
            stands.append(Stand(frame, frame, *place[:2]))
    return Tiles(*size, tuple(stands))


def _place(box: Box, crop: Box, shown: tuple[int, int]) -> _Place | None:
    """(x, y, width, height) in even pixels inside the picture, rather more than less of the box.

    Boxes of one size stay of one size: at an edge they are pushed in, not cut off.
    """
    width, height = shown
    left, wide = (box.x - crop.x) / crop.width * width, box.width / crop.width * width
    top, high = (box.y - crop.y) / crop.height * height, box.height / crop.height * height
    outside = left >= width or top >= height or left + wide <= 0 or top + high <= 0
    if outside or not wide or not high:
        return None
    own = min(width, _even_up(wide) + 2), min(height, _even_up(high) + 2)
    x = min(max(0, floor(left / 2) * 2), width - own[0])
    y = min(max(0, floor(top / 2) * 2), height - own[1])
    return x, y, *own


def _even_up(pixels: float) -> int:
    return int(-(-pixels // 2)) * 2


def on_film(
    mark: MarkLine | MarkRing, cut: FilmCut, plan: Plan, number: int
) -> MarkLine | MarkRing:
    """The mark in shares of the whole film, whose ``number``th cell holds this cut."""
    if isinstance(mark, MarkLine):
        start, end = (_moved(place, cut, plan, number) for place in (mark.start, mark.end))
        return MarkLine(start, end)
    middle = _moved(mark.middle, cut, plan, number)
    return replace(mark, middle=middle, radius=_as_wide(mark.radius, cut, plan))


def box_on_film(box: Box, cut: FilmCut, plan: Plan, number: int) -> Box:
    """The box in shares of the whole film, as ``on_film``."""
    corner = _moved(Point(box.x, box.y), cut, plan, number)
    height = box.height / (cut.crop or _UNCUT)[3]
    return Box(corner.x, corner.y, _as_wide(box.width, cut, plan), round(height, 4))


def _moved(place: Point, cut: FilmCut, plan: Plan, number: int) -> Point:
    x, y, width, height = cut.crop or _UNCUT
    left = number * plan.cell_width + (plan.cell_width - cut.width) // 2
    across = left + (place.x - x) / width * cut.width
    wide = plan.cell_width * len(plan.cuts)
    return Point(round(across / wide, 4), round((place.y - y) / height, 4))


def _as_wide(share: float, cut: FilmCut, plan: Plan) -> float:
    """A share of the side's width in shares of the film's."""
    width = (cut.crop or _UNCUT)[2]
    return round(share / width * cut.width / (plan.cell_width * len(plan.cuts)), 4)
