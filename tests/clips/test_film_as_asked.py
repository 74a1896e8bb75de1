"""What a clip's line asks of its film: a crop, hidden boxes, mirrored, positions and marks."""

import numpy as np
import pytest
from msgspec.structs import replace
from PIL import Image

from recapgen.model.filming import Box, Directions, MarkLine, MarkRing, Point, Position
from recapgen.tools.cache import Cache
from tests.clips.conftest import Clip
from tests.clips.film_making import GREEN, assert_upright, filmed, pictures
from tests.clips.phone_clips import number_in

pytestmark = pytest.mark.ffmpeg


def test_a_crop_is_cut_out_and_a_box_is_hidden(clip: Clip, cache: Cache) -> None:
    """The upper half is kept; the green corner in it is made unrecognisable."""
    asked = Directions(crop=Box(0, 0, 1, 0.5), blur=(Box(0.6, 0, 0.4, 0.3),))
    film = filmed(cache, replace(clip("plain.mp4", 0.8), directions=asked))
    assert film.width / film.height == pytest.approx(270 / 240, abs=0.01)
    whole = pictures(filmed(cache, clip("plain.mp4", 0.8)).video)[10][:240]
    cropped = pictures(film.video)[10]
    assert cropped.shape == (240, 270, 3)
    kept = np.abs(cropped[:, :150].astype(int) - whole[:, :150])
    assert kept.mean() < 3
    hidden = cropped[:144, 164:].astype(float)
    steps = np.abs(np.diff(hidden, axis=1)).max()
    assert np.abs(np.diff(whole[:144, 164:].astype(float), axis=1)).max() > 80
    assert steps < 40


def test_a_mirrored_clip_swaps_its_sides_and_every_place_is_meant_after_that(
    clip: Clip, cache: Cache
) -> None:
    """The left upper quarter of the mirrored picture is kept: the green corner, once right."""
    ring = MarkRing(Point(0.25, 0.25), 0.1)
    asked = Directions(
        mirror=True, crop=Box(0, 0, 0.5, 0.5), blur=(Box(0, 0, 0.25, 0.15),), mark=ring
    )
    then, now = clip("plain.mp4", 0.8), replace(clip("hevc.mov", 0.8), directions=asked)
    film = filmed(cache, then, now)
    assert [side.mirrored for side in film.sides] == [False, True]
    assert film.sides[1].mark == MarkRing(Point(0.75, 0.5), 0.1)
    _, right = np.split(pictures(film.video)[0], 2, axis=1)
    plain = filmed(cache, replace(now, directions=Directions(mirror=True)))
    whole = pictures(plain.video)[0]
    assert_upright(whole[:, ::-1])
    corner = right[right.shape[0] // 10, right.shape[1] // 8]
    assert int(np.argmax(corner)) == GREEN
    steps = np.abs(
        np.diff(right[: right.shape[0] // 4, : right.shape[1] // 3].astype(float), axis=1)
    )
    assert steps.max() < 40


def test_positions_are_stills_of_both_and_marks_land_on_their_side(
    clip: Clip, cache: Cache
) -> None:
    moments = ((Position.START, 0.1), (Position.TOP, 0.5), (Position.FINISH, 1.1))
    line = MarkLine(Point(0.5, 0.25), Point(0.5, 0.75))
    then = replace(clip("plain.mp4", 0.8), directions=Directions(moments=moments, mark=line))
    later = tuple((at, seconds + 0.05) for at, seconds in moments)
    now = replace(clip("hevc.mov", 0.85), directions=Directions(moments=later, mark=line))
    film = filmed(cache, then, now)
    assert film.positions == tuple(Position)
    assert len(film.stills) == 2
    for strip, numbers in zip(film.stills, ((6, 30, 48, 66), (9, 33, 51, 69)), strict=True):
        with Image.open(strip) as still:
            assert still.format == "WEBP"
            row = np.split(np.asarray(still.convert("RGB")), 4, axis=1)
        assert tuple(number_in(p) for p in row) == numbers
    then_side, now_side = film.sides
    assert dict(then_side.moments)[Position.IMPACT] == film.impact_frame
    assert not now_side.estimated
    assert then_side.mark == MarkLine(Point(0.25, 0.25), Point(0.25, 0.75))
    assert now_side.mark == MarkLine(Point(0.75, 0.25), Point(0.75, 0.75))
