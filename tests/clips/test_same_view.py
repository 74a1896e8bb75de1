"""What is said of two clips that were not filmed alike; where they were, nothing."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from msgspec.structs import replace
from scipy.ndimage import gaussian_filter, rotate, zoom

from recapgen.clips.footage import Footage, inspect
from recapgen.clips.same_view import unlike
from recapgen.model.filming import Box, Directions
from recapgen.model.films import UnlikeIn
from recapgen.model.lesson import ClipFile, View
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache
from tests.clips.phone_clips import ffmpeg

pytestmark = pytest.mark.ffmpeg

Grey = npt.NDArray[np.float64]
Phone = Callable[[Grey], Grey]
NOTES = SourceRef("mia/2031-02-03/notes.md", 9, 3)
HEIGHT, WIDTH = 480, 270
MARGIN = 60  # of the world around what a well placed phone sees


def world(seed: int = 3) -> Grey:
    """A range as noise sees it: a sky, a fence, trees of all sizes."""
    dice = np.random.default_rng(seed)
    height, width = HEIGHT + 2 * MARGIN, WIDTH + 2 * MARGIN
    drawn = np.tile(np.linspace(190, 110, height)[:, None], (1, width))
    for _ in range(120):
        row, column = dice.integers(0, height), dice.integers(0, width)
        tall, wide = dice.integers(6, 70), dice.integers(4, 40)
        drawn[row : row + tall, column : column + wide] += dice.uniform(-70, 70)
    return np.clip(drawn, 0, 255)


def phone(larger: float = 1.0, right: int = 0, down: int = 0, leans_deg: float = 0.0) -> Phone:
    """It makes things ``larger``; they lie ``right`` and ``down`` of where they would."""

    def look(there: Grey) -> Grey:
        if leans_deg:
            there = rotate(there, leans_deg, reshape=False, order=1, mode="nearest")
        if larger != 1:
            there = zoom(there, larger, order=1)
        top, left = ((n - m) // 2 for n, m in zip(there.shape, (HEIGHT, WIDTH), strict=True))
        return there[top - down : top - down + HEIGHT, left - right : left - right + WIDTH]

    return look


def filmed(
    folder: Path,
    cache: Cache,
    name: str,
    look: Phone,
    *,
    there: Grey | None = None,
    rate: int = 60,
    asked: Directions | None = None,
) -> Footage:
    """24 pictures: a body stands still for eight of them and then turns."""
    there = world() if there is None else there
    pictures = []
    for n in range(24):
        sway = round(40 * np.sin(max(0, n - 8) / 5))
        now = there.copy()
        now[MARGIN + 150 : MARGIN + 430, MARGIN + 115 + sway : MARGIN + 155 + sway] = 60
        pictures.append(look(gaussian_filter(now, 1.0)))
    dice = np.random.default_rng(sum(name.encode()))
    shown = np.stack(pictures)
    noisy = np.clip(shown + dice.normal(0, 2, shown.shape), 0, 255).astype(np.uint8)
    ffmpeg(
        *("-f", "rawvideo", "-pix_fmt", "gray", "-s", f"{shown.shape[2]}x{shown.shape[1]}"),
        *("-r", str(rate), "-i", "-", "-c:v", "libx264", "-preset", "ultrafast", "-crf", "18"),
        *("-pix_fmt", "yuv420p", str(folder / name)),
        fed=noisy.tobytes(),
    )
    clip = ClipFile(folder / name, NOTES, None, None, None, 16 / rate, NOTES)
    looked = inspect(replace(clip, directions=asked or Directions()), cache)
    assert looked.value is not None, looked.problems
    return looked.value


@pytest.fixture
def then(tmp_path: Path, cache: Cache) -> Footage:
    return filmed(tmp_path, cache, "then.mp4", phone())


def told(then: Footage, now: Footage, cache: Cache) -> dict[UnlikeIn, float]:
    return {each.what: each.now for each in unlike(then, now, cache)}


def test_the_same_place_is_passed_over_in_silence(
    then: Footage, tmp_path: Path, cache: Cache
) -> None:
    nudged = phone(right=4, down=3)
    assert told(then, filmed(tmp_path, cache, "now.mp4", nudged), cache) == {}
    dusk = filmed(tmp_path, cache, "dusk.mp4", lambda there: 0.8 * phone()(there))
    assert told(then, dusk, cache) == {}


@pytest.mark.parametrize("larger", [1.25, 0.85])
def test_a_phone_that_stood_closer_or_further_off_is_named(
    larger: float, then: Footage, tmp_path: Path, cache: Cache
) -> None:
    now = filmed(tmp_path, cache, "now.mp4", phone(larger))
    found = told(then, now, cache)
    assert set(found) == {UnlikeIn.SIZE}
    assert found[UnlikeIn.SIZE] == pytest.approx(larger, abs=0.03)


def test_a_phone_that_points_elsewhere_is_named_with_how_far(
    then: Footage, tmp_path: Path, cache: Cache
) -> None:
    now = filmed(tmp_path, cache, "now.mp4", phone(right=38, down=-34))
    found = told(then, now, cache)
    assert set(found) == {UnlikeIn.ASIDE, UnlikeIn.HEIGHT}
    assert found[UnlikeIn.ASIDE] == pytest.approx(38 / HEIGHT, abs=0.015)
    assert found[UnlikeIn.HEIGHT] == pytest.approx(-34 / HEIGHT, abs=0.015)


def test_a_leaning_phone_is_named(then: Footage, tmp_path: Path, cache: Cache) -> None:
    now = filmed(tmp_path, cache, "now.mp4", phone(leans_deg=3))
    found = told(then, now, cache)
    assert set(found) == {UnlikeIn.LEAN}
    assert abs(found[UnlikeIn.LEAN]) == pytest.approx(3, abs=0.8)


def test_a_soft_picture_is_named(then: Footage, tmp_path: Path, cache: Cache) -> None:
    now = filmed(tmp_path, cache, "now.mp4", lambda there: gaussian_filter(phone()(there), 2.5))
    assert set(told(then, now, cache)) == {UnlikeIn.SHARPNESS}


def test_another_number_of_pictures_is_told_for_certain(
    then: Footage, tmp_path: Path, cache: Cache
) -> None:
    now = filmed(tmp_path, cache, "now.mp4", phone(), rate=30)
    (found,) = unlike(then, now, cache)
    assert (found.what, found.then, found.now) == (UnlikeIn.RATE, 60, 30)


def test_of_two_different_places_nothing_is_estimated_but_that_they_are(
    then: Footage, tmp_path: Path, cache: Cache
) -> None:
    """Where the coach named the side, it may be another day; else it may be another side."""
    now = filmed(tmp_path, cache, "now.mp4", phone(), there=world(9))
    assert set(told(then, now, cache)) == {UnlikeIn.VIEW}
    side = replace(now, clip=replace(now.clip, view=View.FACE_ON))
    assert told(then, side, cache) == {}


def test_what_is_shown_counts_so_a_crop_or_a_mirror_can_make_them_alike(
    then: Footage, tmp_path: Path, cache: Cache
) -> None:
    backwards = filmed(
        tmp_path, cache, "turned.mp4", lambda there: phone()(there)[:, ::-1],
        asked=Directions(mirror=True),
    )  # fmt: skip
    assert told(then, backwards, cache) == {}
    part = Box(
        MARGIN / (WIDTH + 2 * MARGIN), MARGIN / (HEIGHT + 2 * MARGIN),
        WIDTH / (WIDTH + 2 * MARGIN), HEIGHT / (HEIGHT + 2 * MARGIN),
    )  # fmt: skip
    wide = filmed(tmp_path, cache, "wide.mp4", lambda there: there, asked=Directions(crop=part))
    assert UnlikeIn.SIZE not in told(then, wide, cache)
    flat = filmed(tmp_path, cache, "flat.mp4", lambda there: phone()(there)[:200])
    assert set(told(then, flat, cache)) == {UnlikeIn.SHAPE}


def test_what_was_compared_once_is_remembered(
    then: Footage, tmp_path: Path, cache: Cache, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = filmed(tmp_path, cache, "now.mp4", phone(1.25))
    first = unlike(then, now, cache)

    def never(*_: object, seconds: float) -> None:
        pytest.fail(f"looked again for {seconds} s")

    monkeypatch.setattr("recapgen.clips.same_view.apart", never)
    assert unlike(then, now, cache) == first
