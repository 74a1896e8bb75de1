"""How one still picture has to be enlarged, turned and moved to lie on another."""

from math import exp, radians

import numpy as np
import numpy.typing as npt
from msgspec import Struct
from scipy.fft import irfft2, next_fast_len, rfft2
from scipy.ndimage import affine_transform, gaussian_filter, zoom

from recapgen.tools.media.senses import GreyPicture

Grey = npt.NDArray[np.float64]

_LINES = 128
_FINE, _COARSE, _AROUND = 0.7, 6.0, 10.0  # pixels: edges between the two, evened out around each
_LEAST_EDGE = 2.0  # of 255
_SHARED = 0.5  # of the picture has to be seen in both
_SIZES = tuple(exp(0.04 * step) for step in range(-10, 11))
_TURNS_DEG = tuple(1.5 * step for step in range(-4, 5))
_HALF_SIZE, _HALF_TURN_DEG = 0.02, 0.75


class Lie(Struct, frozen=True):
    """The second picture is ``larger`` times as large as the first and leans ``leans_deg``.

    What is seen in it lies ``right`` and ``down`` of where it is in the first, in shares of the
    picture's height. ``score`` (-1 to 1) is how alike the two then are.
    """

    score: float
    larger: float = 1.0
    leans_deg: float = 0.0
    right: float = 0.0
    down: float = 0.0


def as_they_are(first: GreyPicture, second: GreyPicture) -> float:
    """How alike the two are with no more than a hair's movement, -1 to 1."""
    edges, other = _edges(first), _edges(second)
    whole = np.ones_like(edges)
    alike = _alike(edges, other, np.ones_like(other), whole)
    near = np.r_[-3:4]
    return float(alike[np.ix_(near, near)].max())


def lie_of(first: GreyPicture, second: GreyPicture) -> Lie:
    """How ``second`` lies against ``first``: tried from 0.67 to 1.5 times and up to 7 degrees."""
    edges, other = _edges(first), _edges(second)
    best = max((_laid(edges, other, size, 0.0) for size in _SIZES), key=_score)
    size = 1 / best.larger
    best = max((_laid(edges, other, size, turn) for turn in _TURNS_DEG), key=_score)
    return max(
        (
            _laid(edges, other, size * exp(more), -best.leans_deg + further)
            for more in (-_HALF_SIZE, 0.0, _HALF_SIZE)
            for further in (-_HALF_TURN_DEG, 0.0, _HALF_TURN_DEG)
        ),
        key=_score,
    )


def _score(lie: Lie) -> float:
    return lie.score


def _edges(picture: GreyPicture) -> Grey:
    """What stands out from its surroundings, evened out, so that light and colour do not count."""
    grey = zoom(picture.astype(np.float64), _LINES / picture.shape[0], order=1)
    edges = gaussian_filter(grey, _FINE) - gaussian_filter(grey, _COARSE)
    around = np.sqrt(gaussian_filter(edges * edges, _AROUND))
    evened: Grey = edges / (around + _LEAST_EDGE)
    return evened


def _laid(edges: Grey, other: Grey, size: float, turn_deg: float) -> Lie:
    """``other``, made ``size`` times as large and turned, where it fits ``edges`` best."""
    turn = radians(turn_deg)
    back = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]) / size
    middle, its_middle = (np.array(p.shape) - 1 for p in (edges, other))
    offset = its_middle / 2 - back @ (middle / 2)
    shape = edges.shape
    moved = affine_transform(other, back, offset, output_shape=shape, order=1)
    seen = affine_transform(np.ones_like(other), back, offset, output_shape=shape, order=0)
    alike = _alike(edges, moved, seen, np.ones_like(edges))
    row, column = np.unravel_index(int(np.argmax(alike)), alike.shape)
    down, right = (
        int(at) - (of if at > of / 2 else 0)
        for at, of in zip((row, column), alike.shape, strict=True)
    )
    return Lie(
        score=float(alike[row, column]),
        larger=1 / size,
        leans_deg=-turn_deg,
        right=-right / size / _LINES,
        down=-down / size / _LINES,
    )


def _alike(edges: Grey, moved: Grey, seen: Grey, whole: Grey) -> Grey:
    """The correlation coefficient of what both show, for every movement of the second.

    Over the overlap alone, by Fourier transforms of the pictures and of where they are seen.
    """
    shape = [next_fast_len(a + b) for a, b in zip(edges.shape, moved.shape, strict=True)]
    first, first_squared, first_seen = (
        rfft2(part, shape) for part in (edges, edges * edges, whole)
    )
    second, second_squared, second_seen = (
        np.conj(rfft2(part, shape)) for part in (moved * seen, moved * moved * seen, seen)
    )
    shared = np.maximum(irfft2(first_seen * second_seen, shape), 1.0)
    sum_first = irfft2(first * second_seen, shape)
    sum_second = irfft2(first_seen * second, shape)
    covered = irfft2(first * second, shape) - sum_first * sum_second / shared
    spread = irfft2(first_squared * second_seen, shape) - sum_first**2 / shared
    its_spread = irfft2(first_seen * second_squared, shape) - sum_second**2 / shared
    alike: Grey = covered / np.sqrt(np.maximum(spread * its_spread, 1e-6))
    alike[shared < _SHARED * edges.size] = -1.0
    return alike
