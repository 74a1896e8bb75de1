"""Films from phone clips, judged by the pictures that come out and by a search of the bytes."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import cast

import av
import numpy as np
import pytest
from PIL import Image

from recapgen.clips.film import make_film
from recapgen.clips.footage import Footage, inspect
from recapgen.model.filming import Box, Directions, Line, Pace, Place, Position, Ring
from recapgen.model.films import Film
from recapgen.model.lesson import ClipFile, View
from recapgen.model.problem import Code
from recapgen.tools.cache import Cache
from tests.clips.phone_clips import SECRETS, Picture, ffmpeg, film, number_in

pytestmark = pytest.mark.ffmpeg

Clip = Callable[[str, float | None], ClipFile]
RED, GREEN, BLUE = 0, 1, 2


def footage(clip: ClipFile, cache: Cache) -> Footage:
    looked = inspect(clip, cache)
    assert looked.value is not None, looked.problems
    return looked.value


def filmed(cache: Cache, *clips: ClipFile, threads: int = 1) -> Film:
    made = make_film(View.FACE_ON, tuple(footage(c, cache) for c in clips), cache, threads)
    assert made.value is not None, made.problems
    assert made.problems == ()
    return made.value


def pictures(path: Path) -> list[Picture]:
    with av.open(str(path)) as container:
        return [
            cast("Picture", f.to_ndarray(format="rgb24"))
            for f in container.decode(container.streams.video[0])
        ]


def assert_upright(shown: Picture) -> None:
    height, width = shown.shape[:2]
    corners = {
        RED: shown[height // 20, width // 10],
        GREEN: shown[height // 20, -width // 10],
        BLUE: shown[-height // 20, width // 10],
    }
    for colour, found in corners.items():
        assert int(np.argmax(found)) == colour, corners
        assert int(found.max()) - int(np.sort(found)[1]) > 90, corners


@pytest.mark.parametrize(
    ("name", "fps", "per_frame"),
    [
        ("plain.mp4", 60, 1),
        ("rotated.mov", 60, 1),
        ("hevc.mov", 60, 1),
        ("hlg.mov", 60, 1),
        ("pq.mov", 60, 1),
        ("full_range.mp4", 60, 1),
        ("narrow_pixels.mp4", 60, 1),
        ("late.mov", 60, 1),
        ("fast.mov", 60, 2),
        ("slow.mp4", 30, 1),
        ("coarse_clock.avi", 30, 1),
        ("web.webm", 30, 1),
    ],
)
def test_every_frame_shows_the_picture_of_its_instant(
    name: str, fps: int, per_frame: int, clip: Clip, cache: Cache
) -> None:
    strike = 0.8
    film = filmed(cache, clip(name, strike))
    shown = pictures(film.video)
    at_strike = round(strike * fps * per_frame)
    expected = [at_strike + (k - film.impact_frame) * per_frame for k in range(len(shown))]
    assert film.fps == fps
    assert len(shown) == film.frames
    assert [number_in(p) for p in shown] == expected
    assert (film.width, film.height) == shown[0].shape[1::-1] == (270, 480)
    assert_upright(shown[0])


def test_an_uneven_rate_keeps_every_picture_at_its_time(clip: Clip, cache: Cache) -> None:
    film = filmed(cache, clip("uneven.mov", 0.8))  # picture 48, itself kept
    numbers = [number_in(p) for p in pictures(film.video)]
    exact = range(48 - film.impact_frame, 48 - film.impact_frame + film.frames)
    assert numbers == [n - (n % 3 == 2) for n in exact]


def test_a_mirrored_camera_is_turned_as_its_flag_says(clip: Clip, cache: Cache) -> None:
    (first, *_) = pictures(filmed(cache, clip("mirrored.mov", 0.8)).video)
    assert_upright(first[:, ::-1])


@pytest.mark.parametrize(
    ("then", "now"),
    [
        ("plain.mp4", "slow.mp4"),
        ("late.mov", "fast.mov"),
        ("uneven.mov", "hevc.mov"),
        ("plain.mp4", "plain.mp4"),
        ("rotated.mov", "coarse_clock.avi"),
    ],
)
def test_a_pair_has_both_strikes_on_one_frame(
    then: str, now: str, clip: Clip, cache: Cache
) -> None:
    rates = {"fast.mov": 120, "slow.mp4": 30, "coarse_clock.avi": 30}
    film = filmed(cache, clip(then, 0.8), clip(now, 0.7))
    shown = pictures(film.video)
    left, right = np.split(shown[film.impact_frame], 2, axis=1)
    assert number_in(left) == round(0.8 * rates.get(then, 60))
    assert number_in(right) == round(0.7 * rates.get(now, 60))
    assert_upright(left)
    assert_upright(right)
    assert film.fps == 60
    assert len(shown) == film.frames
    assert [s.source_name for s in film.sides] == [then, now]
    with Image.open(film.poster) as still:
        assert still.format == "WEBP"
        poster = np.asarray(still.convert("RGB"))
    assert number_in(np.split(poster, 2, axis=1)[0]) == round(0.8 * rates.get(then, 60))


def test_upright_and_lying_clips_share_one_film_in_their_own_shapes(
    clip: Clip, cache: Cache
) -> None:
    film = filmed(cache, clip("plain.mp4", 0.8), clip("landscape.mp4", 0.8))
    left, right = np.split(pictures(film.video)[film.impact_frame], 2, axis=1)
    assert film.width % 4 == 0
    assert film.height % 2 == 0
    shape = left.shape[0] / 480 * 270
    margin = round((left.shape[1] - shape) / 2)
    assert number_in(left[:, margin : margin + round(shape)]) == 48
    assert number_in(right) == 48


@pytest.mark.parametrize(
    ("name", "grey"),
    [("plain.mp4", 128), ("full_range.mp4", 128), ("hlg.mov", 143.6), ("pq.mov", 184.6)],
)
def test_greys_and_whites_arrive_where_an_sdr_screen_wants_them(
    name: str, grey: float, clip: Clip, cache: Cache
) -> None:
    """Against ARIB STD-B67, SMPTE ST 2084 and BT.1886.

    A grey field of 128 is a signal of .502. By the HLG curve E = .502^2 / 3 and the reference
    display gives 1000 E^1.2 = 51.2 nits; by PQ it is 93.6 nits. Of the white of 203 nits that
    is .252 and .461; a screen of gamma 2.4 wants 255 * .252^(1/2.4) = 143.6 and 184.6 for it.
    The white field, .92, lies far above that white and is held below the ceiling.
    """
    (first, *_) = pictures(filmed(cache, clip(name, 0.8)).video)
    assert first[360:380, 60:110].mean() == pytest.approx(grey, abs=4)
    white = first[360:380, 160:215].mean()
    if grey == 128:
        assert white == pytest.approx(235, abs=3)
    else:
        assert 225 < white <= 255


def test_what_comes_out_is_plain_h264_without_sound(clip: Clip, cache: Cache) -> None:
    for name in ("telltale.mov", "hlg.mov"):
        film = filmed(cache, clip(name, 0.8), clip("fast.mov", 0.8))
        with av.open(str(film.video)) as container:
            (stream,) = container.streams
            context = stream.codec_context
            assert isinstance(context, av.VideoCodecContext)
            assert (context.name, context.pix_fmt) == ("h264", "yuv420p")
            assert stream.average_rate == 60
            assert stream.duration is not None
            assert stream.time_base is not None
            assert stream.duration * stream.time_base * 60 == film.frames
            colours = context.colorspace, context.color_primaries, context.color_trc
            assert [int(c) for c in colours] == [1, 1, 1]
            kept = {"major_brand", "minor_version", "compatible_brands", "encoder"}
            assert set(container.metadata) <= kept
            assert dict(stream.metadata).items() <= {
                ("language", "und"),
                ("handler_name", "VideoHandler"),
                ("vendor_id", "[0][0][0][0]"),
                ("encoder", "Lavc libx264"),
            }
        whole = film.video.read_bytes()
        assert whole.index(b"moov") < whole.index(b"mdat")


def test_no_planted_secret_survives(recordings: Path, clip: Clip, cache: Cache) -> None:
    secrets = [s.encode() for s in SECRETS.values() if s.startswith(("PLANTED", "+"))]
    secrets += [b"PLANTED-HANDLER", b"telltale", str(recordings).encode()]
    source = (recordings / "telltale.mov").read_bytes()
    assert sum(s in source for s in secrets) >= 5
    film = filmed(cache, clip("telltale.mov", 0.8), clip("plain.mp4", 0.8))
    for made in (film.video, film.poster):
        content = made.read_bytes()
        assert [s for s in secrets if s in content] == []
        assert b"x264 - core" not in content
        assert b"Lavf" not in content
    with av.open(str(film.video)) as container:
        assert container.duration is not None
        assert "creation_time" not in {**container.metadata, **container.streams[0].metadata}


def test_the_same_clips_give_the_same_bytes(clip: Clip, tmp_path: Path) -> None:
    clips = clip("hlg.mov", 0.8), clip("uneven.mov", 0.7)
    one, other = (
        filmed(Cache(tmp_path / str(threads)), *clips, threads=threads) for threads in (1, 3)
    )
    assert one.video.read_bytes() == other.video.read_bytes()
    assert one.poster.read_bytes() == other.poster.read_bytes()
    assert one.fingerprint == other.fingerprint


def test_a_film_is_made_once(clip: Clip, cache: Cache, monkeypatch: pytest.MonkeyPatch) -> None:
    first = filmed(cache, clip("plain.mp4", 0.8), clip("slow.mp4", 0.7))

    def no_more(*_: object, **__: object) -> None:
        pytest.fail("converted again")

    monkeypatch.setattr("recapgen.tools.media.converter.run", no_more)
    assert filmed(cache, clip("plain.mp4", 0.8), clip("slow.mp4", 0.7)) == first


def test_a_clip_that_begins_at_the_strike_stands_still_until_then(clip: Clip, cache: Cache) -> None:
    film = filmed(cache, clip("plain.mp4", 0.1), clip("plain.mp4", 0.8))
    shown = pictures(film.video)
    left = [number_in(p[:, : film.width // 2]) for p in shown]
    assert film.impact_frame == 36
    assert left[: 36 - 6] == [0] * 30
    assert left[30:] == list(range(film.frames - 30))


@pytest.mark.parametrize(("strike", "first", "last"), [(1.5, 60, 119), (0.3, 0, 30)])
def test_only_the_whole_part_of_a_damaged_clip_is_shown(
    strike: float, first: int, last: int, clip: Clip, cache: Cache
) -> None:
    film = filmed(cache, clip("plain.mp4", 0.8), clip("holed.mp4", strike))
    shown = [number_in(np.split(p, 2, axis=1)[1]) for p in pictures(film.video)]
    at_strike = round(strike * 60)
    expected = [at_strike + k - film.impact_frame for k in range(len(shown))]
    assert shown == [min(max(n, first), last) for n in expected]
    assert [side.part_only for side in film.sides] == [False, True]


def test_damage_that_only_the_conversion_meets_is_told_and_the_rest_is_shown(
    clip: Clip, cache: Cache
) -> None:
    """A long recording is not searched beforehand."""
    looked = footage(clip("holed.mp4", 1.5), cache)
    sides = footage(clip("plain.mp4", 0.8), cache), replace(looked, whole=None)
    for _ in range(2):  # the second time from the cache
        made = make_film(None, sides, cache, 1)
        assert made.value is not None
        assert [(p.code, p.facts["file"]) for p in made.problems] == [
            (Code.CLIP_DAMAGED, "holed.mp4")
        ]


@pytest.mark.parametrize("names", [("slow.mp4", "gone.mp4"), ("gone.mp4", "slow.mp4")])
def test_a_clip_that_cannot_be_converted_is_named_and_the_other_is_shown_alone(
    names: tuple[str, str], recordings: Path, clip: Clip, cache: Cache
) -> None:
    gone = recordings / "gone.mp4"
    gone.write_bytes((recordings / "plain.mp4").read_bytes())
    sides = tuple(footage(clip(name, 0.8), cache) for name in names)
    gone.write_bytes(b"no longer a film")
    made = make_film(None, sides, cache, 1)
    assert made.value is not None
    assert [side.source_name for side in made.value.sides] == ["slow.mp4"]
    assert made.value.width == 270
    assert [(p.code, p.facts["file"]) for p in made.problems] == [
        (Code.CLIP_NOT_CONVERTED, "gone.mp4")
    ]
    neither = make_film(None, (sides[names.index("gone.mp4")],) * 2, cache, 1)
    assert neither.value is None
    assert {p.facts["file"] for p in neither.problems} == {"gone.mp4"}


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
    ring = Ring(Place(0.25, 0.25), 0.1)
    asked = Directions(
        mirror=True, crop=Box(0, 0, 0.5, 0.5), blur=(Box(0, 0, 0.25, 0.15),), mark=ring
    )
    then, now = clip("plain.mp4", 0.8), replace(clip("hevc.mov", 0.8), directions=asked)
    film = filmed(cache, then, now)
    assert [side.mirrored for side in film.sides] == [False, True]
    assert film.sides[1].mark == Ring(Place(0.75, 0.5), 0.1)
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
    line = Line(Place(0.5, 0.25), Place(0.5, 0.75))
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
    assert dict(then_side.moments)[Position.STRIKE] == film.impact_frame
    assert not now_side.estimated
    assert then_side.mark == Line(Place(0.25, 0.25), Place(0.25, 0.75))
    assert now_side.mark == Line(Place(0.75, 0.25), Place(0.75, 0.75))


def test_originals_stay_as_they_are(recordings: Path, clip: Clip, cache: Cache) -> None:
    before = {f.name: f.read_bytes() for f in recordings.glob("telltale.*")}
    filmed(cache, clip("telltale.mov", 0.5))
    assert {f.name: f.read_bytes() for f in recordings.glob("telltale.*")} == before
