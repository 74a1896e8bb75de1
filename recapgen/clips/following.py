"""A patch the coach marked, followed through a recording: how far it went."""

from pathlib import Path

import numpy as np
from msgspec import Struct

from recapgen.clips.patch import MarkedPatch, follow
from recapgen.model.filming import Box, Directions
from recapgen.model.films import Travel
from recapgen.tools.media.recording import Recording
from recapgen.tools.media.senses import Glimpses, glimpse

LONGEST_S = 8.0
"""Of life: nothing is followed longer, either way."""

_PATCH_PIXELS = 24  # of the patch's shorter side, when followed
_LONG_SIDE = (96, 640)
_APART_S = 1 / 70  # of life: one per picture at 60 a second
_PHONE_MOVED = 0.1  # of the patch's width: more, and the travel is the phone's
_CORNER_SHARE = 0.16  # of the picture's shorter side
_LOST = Travel(0.0, 0.0, 0.0, steady=False)


class Marked(Struct, frozen=True):
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

    def spot(self, seen: Glimpses) -> MarkedPatch:
        """The box in pixels of what is seen."""
        height, width = seen.grey.shape[1:]
        return MarkedPatch(
            column=round(self.box.x * width),
            row=round(self.box.y * height),
            width=max(2, round(self.box.width * width)),
            height=max(2, round(self.box.height * height)),
        )


def marked(path: Path, recording: Recording, box: Box, at_s: float, asked: Directions) -> Marked:
    """``box``, seen at ``at_s``, in a clip that is shown as its line asks."""
    return Marked(
        path, recording, box, recording.nearest_picture_s(at_s), asked.pace.times, asked.mirror
    )


def travel_to(patch: Marked, strike_s: float) -> Travel:
    """How far the patch goes by the strike; not steady where that is not known.

    As where the phone itself moved: what is still in the corners then moves along.
    """
    to_s = patch.recording.nearest_picture_s(strike_s)
    if not 0 < to_s - patch.at_s <= LONGEST_S * patch.slow:
        return _LOST
    seen = patch.glimpses(patch.at_s, to_s)
    way = follow(seen, patch.spot(seen))
    if way is None:
        return _LOST
    across_px, down_px = way.corners[-1] - way.corners[0]
    return Travel(
        across=round(float(across_px) / way.width, 3),
        up=round(-float(down_px) / way.width, 3),
        score=round(max(0.0, way.score), 3),
        steady=way.steady and _corners_moved_px(seen) <= _PHONE_MOVED * way.width,
    )


def _corners_moved_px(seen: Glimpses) -> float:
    """How far the corner moved that moved least, of those that can be followed; else 0.

    A plain corner may slip by itself; where the phone moved, all of them move.
    """
    height, width = seen.grey.shape[1:]
    side = max(8, round(_CORNER_SHARE * min(height, width)))
    spots = [
        MarkedPatch(column, row, side, side)
        for column in (1, width - side - 1)
        for row in (1, height - side - 1)
    ]
    ways = [way for spot in spots if (way := follow(seen, spot)) is not None and way.steady]
    moved = [float(np.hypot(*(way.corners[-1] - way.corners[0]))) for way in ways]
    return min(moved, default=0.0)
