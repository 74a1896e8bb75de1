"""A marked patch of the picture followed from one moment to another.

Each picture is searched near the last place by normalised cross-correlation with the patch as it
was marked and as it was a moment ago. What is found is believed only if the patch still looks
like itself and the way back leads to where it was marked.
"""

import numpy as np
import numpy.typing as npt
from msgspec import Struct
from scipy.ndimage import uniform_filter

from recapgen.tools.media.senses import Glimpses, GreyPicture

Patch = npt.NDArray[np.float64]
Corner = tuple[float, float]  # of the patch, in pixels: column, row

_FASTEST = 0.35  # of the patch's shorter side from picture to picture
_OWN_SHARE = 0.5  # what the marked patch says against what the last one says
_LEAST_CONTRAST = 4.0  # of 255; a plain patch can be anywhere
_STEADY_SCORE = 0.6
_STEADY_BACK = 0.1  # of the patch's width: how far the way back may miss
_FEWEST = 5


class MarkedPatch(Struct, frozen=True):
    """Where a patch is marked, in pixels of the glimpses: its left upper corner and size."""

    column: int
    row: int
    width: int
    height: int


class PatchPath(Struct, frozen=True):
    """Where the patch was: ``corners`` (n, 2) columns and rows, subpixel, one per glimpse.

    ``alike`` (n,) is how much each looks like what was marked, 0 to 1; ``back_px`` how far the
    way back missed.
    """

    corners: npt.NDArray[np.float64]
    alike: npt.NDArray[np.float64]
    back_px: float
    width: int

    @property
    def score(self) -> float:
        """The least likeness on the way."""
        return float(self.alike.min())

    @property
    def steady(self) -> bool:
        return self.score >= _STEADY_SCORE and self.back_px <= _STEADY_BACK * self.width


def follow(glimpses: Glimpses, spot: MarkedPatch) -> PatchPath | None:
    """The way of the patch marked on the first glimpse; None where there is nothing to follow.

    Nothing: too few pictures, a plain patch, or one that does not lie inside the picture.
    """
    pictures = glimpses.grey
    if len(pictures) < _FEWEST or not _inside(spot, pictures[0].shape):
        return None
    start = (float(spot.column), float(spot.row))
    marked = _cut_out(pictures[0], start, spot)
    if marked.std() < _LEAST_CONTRAST:
        return None
    there, scores = _walk(pictures, start, spot)
    end = there[-1]
    back, _ = _walk(pictures[::-1], (float(end[0]), float(end[1])), spot)
    missed = float(np.hypot(*(back[-1] - start)))
    return PatchPath(there, np.array(scores), missed, spot.width)


def _inside(spot: MarkedPatch, shape: tuple[int, ...]) -> bool:
    height, width = shape
    return (
        spot.column >= 0
        and spot.row >= 0
        and spot.column + spot.width <= width
        and spot.row + spot.height <= height
    )


def _walk(
    pictures: GreyPicture, start: Corner, spot: MarkedPatch
) -> tuple[npt.NDArray[np.float64], list[float]]:
    """Corners on every picture, and how much each place looks like the marked patch."""
    own = _cut_out(pictures[0], start, spot)
    lately = own
    reach = max(2, round(_FASTEST * min(spot.width, spot.height)))
    at, corners, scores = start, [start], [1.0]
    for picture in pictures[1:]:
        at, score = _nearest(picture, at, own, lately, reach)
        lately = _cut_out(picture, at, spot)
        corners.append(at)
        scores.append(score)
    return np.array(corners), scores


def _nearest(
    picture: GreyPicture, last: Corner, own: Patch, lately: Patch, reach: int
) -> tuple[Corner, float]:
    """Where near ``last`` it looks most like both, and there how much like ``own``."""
    rows, columns = own.shape
    left = min(max(0, round(last[0]) - reach), picture.shape[1] - columns)
    top = min(max(0, round(last[1]) - reach), picture.shape[0] - rows)
    reached = (slice(top, top + rows + 2 * reach + 1), slice(left, left + columns + 2 * reach + 1))
    window = picture[reached].astype(np.float64)
    like_own = _likeness(window, own)
    both = _OWN_SHARE * like_own + (1 - _OWN_SHARE) * _likeness(window, lately)
    row, column = np.unravel_index(int(np.argmax(both)), both.shape)
    finer_row = _peak(both[:, column], int(row))
    finer_column = _peak(both[row], int(column))
    return (left + finer_column, top + finer_row), float(like_own[row, column])


def _likeness(window: Patch, patch: Patch) -> Patch:
    """Normalised cross-correlation at every place of the patch inside the window, -1 to 1."""
    from scipy.signal import correlate  # noqa: PLC0415  slow, and a patch is seldom followed

    rows, columns = patch.shape
    zero_mean = patch - patch.mean()
    size = (rows, columns)
    inner = (slice(rows // 2, rows // 2 + window.shape[0] - rows + 1),
             slice(columns // 2, columns // 2 + window.shape[1] - columns + 1))  # fmt: skip
    mean = uniform_filter(window, size)[inner]
    spread = uniform_filter(window**2, size)[inner] - mean**2
    across = correlate(window, zero_mean, mode="valid") / patch.size
    scale = np.sqrt(np.maximum(spread, 1.0)) * max(float(patch.std()), 1.0)
    likeness: Patch = across / scale
    return likeness


def _peak(scores: Patch, best: int) -> float:
    """Where a parabola through the best and its neighbours is highest."""
    if not 0 < best < len(scores) - 1:
        return float(best)
    before, here, after = scores[best - 1 : best + 2]
    bend = before - 2 * here + after
    return best + float(0.5 * (before - after) / bend) if bend < 0 else float(best)


def _cut_out(picture: GreyPicture, at: Corner, spot: MarkedPatch) -> Patch:
    """The patch at the nearest whole pixels, as far as it lies inside the picture."""
    column = min(max(0, round(at[0])), picture.shape[1] - spot.width)
    row = min(max(0, round(at[1])), picture.shape[0] - spot.height)
    patch = picture[row : row + spot.height, column : column + spot.width]
    return patch.astype(np.float64)
