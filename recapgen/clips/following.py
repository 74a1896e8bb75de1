"""A patch the coach marked, followed through a recording: how far it went, and where it was."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from recapgen.clips.patch import Spot, Way, follow
from recapgen.model.filming import Box, Directions
from recapgen.model.films import Travel
from recapgen.tools.media.recording import Recording
from recapgen.tools.media.senses import Glimpses, glimpse

_PATCH_PIXELS = 24  # of the patch's shorter side, when followed
_LONG_SIDE = (96, 640)
_LONGEST_S = 8.0  # of life, either way
_APART_S = 1 / 70  # of life: one per picture at 60 a second
_PHONE_MOVED = 0.1  # of the patch's width: more, and the travel is the phone's
_CORNER_SHARE = 0.16  # of the picture's shorter side
_LOST = Travel(0.0, 0.0, 0.0, steady=False)
# A face turns away after the strike and is still to be hidden: less likeness is enough, with
# room for twice the error that was met on drawn golfers.
_FACE_SCORE = 0.45
_FACE_BACK = 0.35  # of the box's width
_FACE_MARGIN = 0.5  # of the box, on each side


@dataclass(frozen=True, slots=True)
class Marked:
    """A box marked at ``at_s`` of a recording, as the coach sees it: upright, mirrored or not."""

    path: Path
    recording: Recording
    box: Box
    at_s: float
    slow: float
    mirrored: bool

    @property
    def long_side(self) -> int:
        """Of pictures in which the patch is large enough to follow."""
        recording = self.recording
        shorter = min(self.box.width * recording.width, self.box.height * recording.height)
        longest = max(recording.width, recording.height)
        least, most = _LONG_SIDE
        return min(most, longest, max(least, round(_PATCH_PIXELS / max(shorter, 1) * longest)))

    def glimpses(self, from_s: float, to_s: float) -> Glimpses:
        """What the coach sees from one moment to another, small and grey."""
        seen = glimpse(
            self.path, self.recording, self.long_side, _APART_S * self.slow, (from_s, to_s)
        )
        grey = np.rot90(seen.grey, self.recording.turned, axes=(1, 2))
        return Glimpses(grey[:, :, ::-1] if self.mirrored else grey, seen.times_s, seen.broken)


def marked(path: Path, recording: Recording, box: Box, at_s: float, asked: Directions) -> Marked:
    """``box``, seen at ``at_s``, in a clip that is shown as its line asks."""
    return Marked(
        path, recording, box, recording.nearest_picture_s(at_s), asked.pace.times, asked.mirror
    )


def travel_to(patch: Marked, strike_s: float) -> Travel:
    """How far the patch goes by the strike; not steady where that cannot be told.

    As where the phone itself moved: what is still in the corners then moves along.
    """
    to_s = patch.recording.nearest_picture_s(strike_s)
    if not 0 < to_s - patch.at_s <= _LONGEST_S * patch.slow:
        return _LOST
    seen = patch.glimpses(patch.at_s, to_s)
    way = follow(seen, _spot(patch.box, seen))
    if way is None:
        return _LOST
    across_px, down_px = way.corners[-1] - way.corners[0]
    return Travel(
        across=round(float(across_px) / way.width, 3),
        up=round(-float(down_px) / way.width, 3),
        score=round(max(0.0, way.score), 3),
        steady=way.steady and _corners_moved_px(seen) <= _PHONE_MOVED * way.width,
    )


def _spot(box: Box, seen: Glimpses) -> Spot:
    height, width = seen.grey.shape[1:]
    return Spot(
        column=round(box.x * width),
        row=round(box.y * height),
        width=max(2, round(box.width * width)),
        height=max(2, round(box.height * height)),
    )


def _corners_moved_px(seen: Glimpses) -> float:
    """How far the corner moved that moved least, of those that can be followed; else 0.

    A plain corner may slip by itself; where the phone moved, all of them move.
    """
    height, width = seen.grey.shape[1:]
    side = max(8, round(_CORNER_SHARE * min(height, width)))
    spots = [
        Spot(column, row, side, side)
        for column in (1, width - side - 1)
        for row in (1, height - side - 1)
    ]
    ways = [way for spot in spots if (way := follow(seen, spot)) is not None and way.steady]
    moved = [float(np.hypot(*(way.corners[-1] - way.corners[0]))) for way in ways]
    return min(moved, default=0.0)


def face_box(face: Marked, from_s: float, to_s: float) -> Box | None:
    """A box around everywhere the marked face is between two moments, with room to spare.

    None where it cannot be followed all the way: nobody is to be recognised by a slip.
    """
    longest_s = _LONGEST_S * face.slow
    if to_s - face.at_s > longest_s or face.at_s - from_s > longest_s:
        return None
    ways = []
    if to_s > face.at_s:
        later = face.glimpses(face.at_s, to_s)
        ways.append((follow(later, _spot(face.box, later)), later))
    if from_s < face.at_s:
        seen = face.glimpses(from_s, face.at_s)
        earlier = Glimpses(seen.grey[::-1], seen.times_s[::-1])
        ways.append((follow(earlier, _spot(face.box, earlier)), earlier))
    boxes = [_around(way, face.box, seen) for way, seen in ways]
    known = [box for box in boxes if box is not None]
    return _all_of(known) if known and len(known) == len(boxes) else None


def _around(way: Way | None, box: Box, seen: Glimpses) -> Box | None:
    """The marked box widened to wherever the patch was."""
    if way is None or way.score < _FACE_SCORE or way.back_px > _FACE_BACK * way.width:
        return None
    height, width = seen.grey.shape[1:]
    moved = (way.corners - way.corners[0]) / (width, height)
    (left, top), (right, bottom) = moved.min(axis=0).tolist(), moved.max(axis=0).tolist()
    return Box(box.x + left, box.y + top, box.width + right - left, box.height + bottom - top)


def _all_of(boxes: list[Box]) -> Box:
    """One box around all, with its margin, cut off at the picture's edges."""
    x = max(0.0, min(b.x - _FACE_MARGIN * b.width for b in boxes))
    y = max(0.0, min(b.y - _FACE_MARGIN * b.height for b in boxes))
    right = min(1.0, max(b.x + (1 + _FACE_MARGIN) * b.width for b in boxes))
    bottom = min(1.0, max(b.y + (1 + _FACE_MARGIN) * b.height for b in boxes))
    return Box(x, y, right - x, bottom - y)
