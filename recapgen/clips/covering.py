"""A marked face covered picture by picture: as tight as the following is sure."""

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from recapgen.clips.following import LONGEST_S, Marked
from recapgen.clips.patch import follow
from recapgen.model.filming import Box, Covered
from recapgen.tools.media.senses import Glimpses

Floats = npt.NDArray[np.float64]

# A face turns away after the strike and is still to be hidden: less likeness is enough than for
# the travel of a patch.
_LEAST_ALIKE = 0.45
_MOST_BACK = 0.35  # of the box's width
_SURELY_ALIKE = 0.7
# Room on each side, in sizes of the box: twice what a drawn golfer's face stuck out at most.
_SURE_SPARE = 0.32
_UNSURE_SPARE = 0.46
_AT_ONCE_S = 1 / 50  # of life: what is covered at a moment is covered so long before and after
_DOUBT_S = 0.1  # of life: how far a doubt reaches, either way


class _Seen(Struct, frozen=True):
    """How far the face has moved from where it was marked, in shares of the picture.

    ``moved`` (n, 2) across and down, ``alike`` (n,) 0 to 1, one for each of ``times_s`` (n,).
    """

    times_s: Floats
    moved: Floats
    alike: Floats

    def backwards(self) -> "_Seen":
        return _Seen(self.times_s[::-1], self.moved[::-1], self.alike[::-1])

    def then(self, later: "_Seen") -> "_Seen":
        return _Seen(
            np.concatenate((self.times_s, later.times_s[1:])),
            np.concatenate((self.moved, later.moved[1:])),
            np.concatenate((self.alike, later.alike[1:])),
        )


def face_covers(face: Marked, from_s: float, to_s: float) -> tuple[Covered, ...]:
    """What hides the marked face at every picture between two moments, with room to spare.

    Nothing where it cannot be followed all the way: nobody is to be recognised by a slip.
    """
    longest_s = LONGEST_S * face.slow
    if to_s - face.at_s > longest_s or face.at_s - from_s > longest_s:
        return ()
    ways = []
    if from_s < face.at_s:
        seen = face.glimpses(from_s, face.at_s)
        earlier = _followed(face, Glimpses(seen.grey[::-1], seen.times_s[::-1]))
        ways.append(earlier.backwards() if earlier else None)
    if to_s > face.at_s:
        ways.append(_followed(face, face.glimpses(face.at_s, to_s)))
    known = [way for way in ways if way is not None]
    if not known or len(known) < len(ways):
        return ()
    return _covers(known[0] if len(known) == 1 else known[0].then(known[1]), face)


def _followed(face: Marked, seen: Glimpses) -> _Seen | None:
    way = follow(seen, face.spot(seen))
    if way is None or way.score < _LEAST_ALIKE or way.back_px > _MOST_BACK * way.width:
        return None
    height, width = seen.grey.shape[1:]
    moved = (way.corners - way.corners[0]) / (width, height)
    return _Seen(seen.times_s, moved, way.alike)


def _covers(seen: _Seen, face: Marked) -> tuple[Covered, ...]:
    """One size where the following is sure, a wider one where it is not."""
    apart_s = np.abs(seen.times_s[:, None] - seen.times_s[None]) / face.slow
    near = (apart_s <= _AT_ONCE_S)[..., None]
    least = np.where(near, seen.moved[None], np.inf).min(axis=1)
    most = np.where(near, seen.moved[None], -np.inf).max(axis=1)
    doubtful = ((apart_s <= _DOUBT_S) & (seen.alike < _SURELY_ALIKE)[None]).any(axis=1)
    boxes = np.zeros((len(seen.times_s), 4))
    for spare, chosen in ((_SURE_SPARE, ~doubtful), (_UNSURE_SPARE, doubtful)):
        if chosen.any():
            boxes[chosen] = _boxes(face.box, spare, least[chosen], most[chosen])
    told = zip(seen.times_s.tolist(), np.round(boxes, 5).tolist(), strict=True)
    return tuple(Covered(at_s, Box(*box)) for at_s, box in told)


def _boxes(box: Box, spare: float, least: Floats, most: Floats) -> Floats:
    """(n, 4) boxes of one size around wherever the face is, moved no more than they must be."""
    corner = np.array((box.x, box.y)) - spare * np.array((box.width, box.height))
    own = (1 + 2 * spare) * np.array((box.width, box.height))
    size = own + (most - least).max(axis=0)
    at = corner + (least[0] + most[0] + own - size) / 2
    boxes = []
    for to_left, to_right in zip(least, most, strict=True):
        at = np.minimum(np.maximum(at, corner + to_right + own - size), corner + to_left)
        boxes.append((*at, *size))
    return np.array(boxes)
