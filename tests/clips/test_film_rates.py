"""A film's rate and its pace: no picture of a clip is lost, and slow motion runs as life did."""

from pathlib import Path

import numpy as np
import pytest
from msgspec.structs import replace

from recapgen.model.filming import Directions, Pace
from recapgen.tools.cache import Cache
from tests.clips.conftest import Clip
from tests.clips.film_making import filmed, pictures
from tests.clips.phone_clips import ffmpeg, film, number_in

pytestmark = pytest.mark.ffmpeg


def test_an_uneven_rate_keeps_every_picture_at_its_time(clip: Clip, cache: Cache) -> None:
    film = filmed(cache, clip("uneven.mov", 0.8))  # picture 48, itself kept
    numbers = [number_in(p) for p in pictures(film.video)]
    exact = range(48 - film.impact_frame, 48 - film.impact_frame + film.frames)
    assert numbers == [n - (n % 3 == 2) for n in exact]


@pytest.mark.parametrize(
    ("rate", "fps"),
    [("24", 24), ("24000/1001", 24), ("25", 25), ("30000/1001", 30), ("30", 30), ("50", 50)],
)
def test_a_usual_rate_stays_as_it_is(
    rate: str, fps: int, tmp_path: Path, clip: Clip, cache: Cache
) -> None:
    """At 24 frames a second one picture of 25 would be missing, maybe the one before impact."""
    made = film(tmp_path / "clip.mp4", range(fps), rate=rate)
    told = replace(clip("plain.mp4", 16 / 25), path=made)
    shown = filmed(cache, told)
    assert shown.fps == fps
    numbers = [number_in(p) for p in pictures(shown.video)]
    assert numbers == list(range(numbers[0], numbers[0] + len(numbers)))


def test_a_pair_takes_the_higher_rate_and_repeats_pictures_for_the_other(
    tmp_path: Path, clip: Clip, cache: Cache
) -> None:
    calm = replace(clip("plain.mp4", 0.8), path=film(tmp_path / "c.mp4", range(30), rate="25"))
    pair = filmed(cache, calm, clip("slow.mp4", 0.8))
    assert pair.fps == 30
    shown = [number_in(np.split(p, 2, axis=1)[0]) for p in pictures(pair.video)]
    assert shown[pair.impact_frame] == 20
    first, last = shown[0], shown[-1]
    assert [n for k, n in enumerate(shown) if k == 0 or n != shown[k - 1]] == list(
        range(first, last + 1)
    )


def test_a_slowed_clip_plays_at_the_speed_of_life(
    recordings: Path, clip: Clip, cache: Cache
) -> None:
    """72 pictures at 30 a second, each two sixtieths of a life that lasted half as long."""
    slowed = recordings / "at_half_speed.mp4"
    ffmpeg("-itsscale", "2", "-i", str(recordings / "plain.mp4"), "-c", "copy", str(slowed))
    told = replace(clip("at_half_speed.mp4", 1.6), directions=Directions(slow=Pace(2)))
    shown = pictures((film := filmed(cache, told)).video)
    assert film.fps == 60
    assert [number_in(p) for p in shown] == [48 + k - film.impact_frame for k in range(len(shown))]


def test_a_clip_slowed_between_two_moments_plays_at_the_speed_of_life(
    recordings: Path, clip: Clip, cache: Cache
) -> None:
    """Pictures 24 to 47 are shown four times each, as a phone saves what it calls slow motion."""
    numbers = [n for n in range(72) for _ in range(4 if 24 <= n < 48 else 1)]
    film(recordings / "ramp.mp4", numbers)
    pace = Pace(4, from_s=24 / 60, to_s=120 / 60)
    told = replace(clip("ramp.mp4", (24 + 4 * 16) / 60), directions=Directions(slow=pace))
    shown = pictures((made := filmed(cache, told)).video)
    assert made.fps == 60
    assert [number_in(p) for p in shown] == [40 + k - made.impact_frame for k in range(len(shown))]
    assert made.impact_frame == 40  # all of the clip's life before impact
    pair = filmed(cache, clip("plain.mp4", 40 / 60), told)
    for picture in pictures(pair.video):
        left, right = np.split(picture, 2, axis=1)
        assert number_in(left) == number_in(right)
