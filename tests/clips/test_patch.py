"""A marked patch followed through drawn pictures whose travel is known."""

from collections.abc import Callable

import numpy as np
import numpy.typing as npt
import pytest
from scipy.ndimage import gaussian_filter, rotate, shift

from recapgen.clips.patch import MarkedPatch, follow
from recapgen.tools.media.senses import Glimpses

Floats = npt.NDArray[np.float64]
Path = Callable[[float], tuple[float, float]]

SIZE, MARGIN = 30, 3  # of the drawn disc, and how far inside it the patch is marked
WIDE = SIZE - 2 * MARGIN
HEIGHT, WIDTH = 120, 140
COUNT = 60


def still(_: float) -> tuple[float, float]:
    return 50, 60


def slow(at: float) -> tuple[float, float]:
    return 50 + 20 * np.sin(3 * at), 60 + 10 * at


def sudden(at: float) -> tuple[float, float]:
    """Most of the way within five pictures."""
    return 50 + 40 / (1 + np.exp(-40 * (at - 0.8))), 60 - 8 * at


def drawn(
    path: Path,
    seed: int,
    turned: float = 0.0,
    covered: Callable[[float], float | None] = lambda _: None,
) -> Glimpses:
    """A speckled disc before a speckled wall, noise of 4 levels, 60 pictures at 60 a second.

    ``turned`` degrees by the end; a bar 30 wide stands at the column that ``covered`` gives.
    """
    dice = np.random.default_rng(seed)
    wall = 110 + 210 * gaussian_filter(dice.normal(size=(HEIGHT, WIDTH)), 6)
    speckles = 140 + 160 * gaussian_filter(dice.normal(size=(SIZE, SIZE)), 2.5)
    rows, columns = np.mgrid[:SIZE, :SIZE] - (SIZE - 1) / 2
    disc = gaussian_filter((np.hypot(rows, columns) < SIZE / 2 - 1).astype(float), 1)
    pictures = []
    for k in range(COUNT):
        at = k / (COUNT - 1)
        x, y = path(at)
        face = rotate(speckles, turned * at, reshape=False, mode="nearest") if turned else speckles
        there = _put(disc, x, y)
        picture = wall * (1 - there) + _put(face, x, y) * there
        bar = covered(at)
        if bar is not None:
            picture[:, max(0, int(bar)) : int(bar) + 30] = 60
        pictures.append(picture + dice.normal(0, 4, picture.shape))
    grey = np.clip(np.array(pictures), 0, 255).astype(np.uint8)
    return Glimpses(grey, np.arange(COUNT) / 60)


def _put(part: Floats, x: float, y: float) -> Floats:
    canvas = np.zeros((HEIGHT, WIDTH))
    row, column = int(y), int(x)
    canvas[row : row + SIZE, column : column + SIZE] = part
    moved: Floats = shift(canvas, (y - row, x - column), order=1)
    return moved


def marked_at(path: Path) -> MarkedPatch:
    x, y = path(0)
    return MarkedPatch(round(x) + MARGIN, round(y) + MARGIN, WIDE, WIDE)


@pytest.mark.parametrize("path", [still, slow, sudden])
@pytest.mark.parametrize("seed", range(3))
def test_the_travel_is_right_within_a_tenth_of_its_width(path: Path, seed: int) -> None:
    way = follow(drawn(path, seed), marked_at(path))
    assert way is not None
    assert way.steady
    truly = np.array(path(1)) - path(0)
    assert np.hypot(*(way.corners[-1] - way.corners[0] - truly)) / WIDE <= 0.1
    halfway = np.array(path(30 / 59)) - path(0)
    assert np.hypot(*(way.corners[30] - way.corners[0] - halfway)) / WIDE <= 0.1


@pytest.mark.parametrize("seed", range(3))
def test_what_turns_away_or_is_covered_is_not_steady(seed: int) -> None:
    turned = follow(drawn(slow, seed, turned=90), marked_at(slow))
    passed = follow(drawn(slow, seed, covered=lambda at: 20 + 90 * at), marked_at(slow))
    gone = follow(drawn(still, seed, covered=lambda at: 60 if at > 0.7 else None), marked_at(still))
    for way in (turned, passed, gone):
        assert way is not None
        assert not way.steady


def test_where_there_is_nothing_to_follow_nothing_is_followed() -> None:
    seen = drawn(slow, 0)
    plain = Glimpses(np.full((COUNT, HEIGHT, WIDTH), 90, np.uint8), seen.times_s)
    assert follow(plain, marked_at(slow)) is None
    assert follow(seen, MarkedPatch(WIDTH - 5, 0, WIDE, WIDE)) is None
    assert follow(Glimpses(seen.grey[:3], seen.times_s[:3]), marked_at(slow)) is None
