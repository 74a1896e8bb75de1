"""What differs between the two clips of a pair besides the swing: how they were filmed.

Only what the files tell for certain, or the pictures clearly, is said; else nothing.
"""

from collections.abc import Iterator
from math import log

import numpy as np
from scipy.ndimage import laplace

from recapgen.clips.alignment import as_they_are, lie_of
from recapgen.clips.footage import Footage
from recapgen.clips.framing import size
from recapgen.clips.remembering import remembered
from recapgen.model.filming import Box, Position
from recapgen.model.films import Unlike, UnlikeIn
from recapgen.tools.apart import LostError, apart
from recapgen.tools.cache import Cache, key_for
from recapgen.tools.media import converter
from recapgen.tools.media.limits import to_watch_s
from recapgen.tools.media.senses import GreyPicture
from recapgen.tools.media.stills import stills_at

TIMES_AS_LARGE = 1.08
SHARE_ASIDE = 0.05  # of the picture's height
LEANS_DEG = 1.5
TIMES_AS_MANY_PICTURES = 1.5
SHARE_OF_SHARPNESS = 0.5
"""From where on a difference is said."""

_COMPARED = "compared; 2"
_LONG_SIDE = 256
_THE_SAME = 0.85  # so alike as they are that nothing has to be moved
_BELIEVED = 0.7  # so alike where they lie on each other
_STRANGE = 0.5  # less alike than two clips of one lesson from one side ever were
_GAINED = 0.05  # more alike than as they are
_WHOLE = Box(0, 0, 1, 1)


def unlike(then: Footage, now: Footage, cache: Cache) -> tuple[Unlike, ...]:
    """What differs beyond the tolerances above, as both are shown in the film."""
    told = [*_rates(then, now)]
    shapes = [width / height for width, height in (size(then), size(now))]
    if (shapes[0] - 1) * (shapes[1] - 1) < 0:
        told.append(Unlike(UnlikeIn.SHAPE, *shapes))
    else:
        told += _seen(then, now, cache)
    return tuple(told)


def _rates(then: Footage, now: Footage) -> Iterator[Unlike]:
    """In pictures a second of life."""
    rates = [
        side.recording.fps * side.clip.directions.pace.times_at(side.strike.at_s)
        for side in (then, now)
    ]
    if max(rates) >= TIMES_AS_MANY_PICTURES * min(rates):
        yield Unlike(UnlikeIn.RATE, *(float(round(rate)) for rate in rates))


def _seen(then: Footage, now: Footage, cache: Cache) -> tuple[Unlike, ...]:
    sides = (then, now)
    asked = [(s.clip.directions.crop, s.clip.directions.mirror) for s in sides]
    moments = [_moments(side) for side in sides]
    unsaid = then.clip.view is None and now.clip.view is None
    key = key_for(_COMPARED, converter.version(), then.content, now.content, f"{asked} {moments}")

    def compare() -> tuple[Unlike, ...]:
        (start, strike), (its_start, its_strike) = (_stills(side) for side in sides)
        if start is None or strike is None or its_start is None or its_strike is None:
            return ()
        return tuple(_between(start, its_start, strike, its_strike))

    try:
        found = remembered(cache, key, compare, tuple[Unlike, ...])
    except LostError:
        return ()  # nothing is known of what differs
    return tuple(each for each in found if unsaid or each.what is not UnlikeIn.VIEW)


def _moments(side: Footage) -> tuple[float, float]:
    """When the golfer still stands, and the strike."""
    known = {moment.position: moment.at_s for moment in side.moments}
    return known.get(Position.START, side.shown_s[0]), side.strike.at_s


def _stills(side: Footage) -> tuple[GreyPicture | None, GreyPicture | None]:
    """At the start and at the strike, cropped and mirrored as they are shown."""
    told = (side.clip.path, side.recording, _LONG_SIDE, _moments(side))
    found = apart(stills_at, *told, seconds=to_watch_s(side.recording))
    start, strike = (None if still is None else _as_shown(still, side) for still in found)
    return start, strike


def _as_shown(still: GreyPicture, side: Footage) -> GreyPicture:
    if side.clip.directions.mirror:
        still = still[:, ::-1]
    crop = side.clip.directions.crop or _WHOLE
    height, width = still.shape
    top, left = round(crop.y * height), round(crop.x * width)
    below = max(top + 8, round((crop.y + crop.height) * height))
    right = max(left + 8, round((crop.x + crop.width) * width))
    return still[top:below, left:right]


def _between(
    start: GreyPicture, its_start: GreyPicture, strike: GreyPicture, its_strike: GreyPicture
) -> Iterator[Unlike]:
    alike = as_they_are(start, its_start)
    if alike < _THE_SAME:
        lie = lie_of(start, its_start)
        if lie.score < _STRANGE:
            yield Unlike(UnlikeIn.VIEW, 1.0, round(lie.score, 2))
        if lie.score < max(_BELIEVED, alike + _GAINED):
            return  # another place, or no telling
        if abs(log(lie.larger)) >= log(TIMES_AS_LARGE):
            yield Unlike(UnlikeIn.SIZE, 1.0, round(lie.larger, 2))
        if abs(lie.right) >= SHARE_ASIDE:
            yield Unlike(UnlikeIn.ASIDE, 0.0, round(lie.right, 2))
        if abs(lie.down) >= SHARE_ASIDE:
            yield Unlike(UnlikeIn.HEIGHT, 0.0, round(lie.down, 2))
        if abs(lie.leans_deg) >= LEANS_DEG:
            yield Unlike(UnlikeIn.LEAN, 0.0, round(lie.leans_deg, 1))
        if abs(log(lie.larger)) >= log(TIMES_AS_LARGE):
            return  # enlarged pictures are softer by themselves
    sharp, its_sharp = _sharpness(strike), _sharpness(its_strike)
    if min(sharp, its_sharp) < SHARE_OF_SHARPNESS * max(sharp, its_sharp):
        yield Unlike(UnlikeIn.SHARPNESS, round(sharp, 4), round(its_sharp, 4))


def _sharpness(picture: GreyPicture) -> float:
    """The variance of the Laplacian against that of the picture, so that light does not count."""
    grey = picture.astype(np.float64)
    return float(laplace(grey).var() / max(grey.var(), 1.0))
