"""Looking into clips: what is refused and why, and whose word the strike rests on."""

from collections.abc import Callable
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.clips.footage import glimpses_of, inspect
from recapgen.clips.tempo import tempo_of
from recapgen.desk.still_sheets import pictures_of
from recapgen.model.filming import Directions, Pace, Point, Position
from recapgen.model.films import ImpactFrom
from recapgen.model.fix import Add, Put
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Code, Cost, Problem, Severity
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache, digest_of_file
from recapgen.words.catalogue import words
from recapgen.words.problems import tell
from tests.clips.phone_clips import (
    ball_film,
    ffmpeg,
    film,
    odd_unit_in,
    strike_sound,
    swing_film,
    without_edit_lists,
)

pytestmark = pytest.mark.ffmpeg

Clip = Callable[[str, float | None], ClipFile]


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("empty.mp4", Code.CLIP_EMPTY),
        ("photo.mp4", Code.CLIP_IS_PICTURE),
        ("text.mov", Code.CLIP_NOT_VIDEO),
        ("playlist.mp4", Code.CLIP_NOT_VIDEO),
        ("no_index.mp4", Code.CLIP_CUT_OFF),
        ("cut_short.mp4", Code.CLIP_CUT_OFF),
        ("sound_only.mov", Code.CLIP_SOUND_ONLY),
        ("blink.mp4", Code.CLIP_FEW_PICTURES),
        ("endless.mp4", Code.CLIP_TOO_LONG),
        ("not_there.mp4", Code.CLIP_UNREADABLE),
        ("protected.mp4", Code.CLIP_PROTECTED),
    ],
)
def test_a_clip_that_cannot_be_shown_costs_itself_and_says_why(
    name: str, code: Code, clip: Clip, cache: Cache
) -> None:
    refused = inspect(clip(name, None), cache)
    assert refused.value is None
    (problem,) = refused.problems
    assert problem.code is code
    assert problem.code.cost is Cost.CLIP
    assert problem.severity is Severity.ERROR
    assert problem.where == SourceRef("mia/2031-02-03/notes.md", 9, 3)
    told = tell(problem, words("en"))
    assert name in told.found
    assert told.expected
    assert told.fix


def test_a_long_recording_is_taken_where_the_notes_name_the_strike(
    clip: Clip, cache: Cache
) -> None:
    looked = inspect(clip("endless.mp4", 40.0), cache)
    assert looked.value is not None
    assert looked.value.strike.at_s == 40.0


def test_a_long_recording_is_offered_the_strikes_that_are_heard(clip: Clip, cache: Cache) -> None:
    refused = inspect(clip("untrimmed.mov", None), cache)
    assert refused.value is None
    (problem,) = refused.problems
    assert problem.code is Code.CLIP_TOO_LONG_HEARD
    assert "41.3" in tell(problem, words("en")).found
    (offer,) = problem.offers
    (said,) = offer.changes
    assert isinstance(said, Put)
    assert isinstance(said.value, str)
    assert said.keys == ("impact",)
    assert float(said.value) == pytest.approx(41.3, abs=0.05)
    followed = inspect(clip("untrimmed.mov", float(said.value)), cache)
    assert followed.value is not None


@pytest.mark.parametrize("name", ["holed.mp4", "frayed.mov"])
def test_of_a_damaged_clip_the_whole_part_around_the_strike_is_kept(
    name: str, clip: Clip, cache: Cache
) -> None:
    """Of 120 pictures those from about the 30th to the next key picture, the 60th, are damaged."""
    late = inspect(clip(name, 1.5), cache)
    assert late.value is not None
    assert late.value.whole is not None
    assert 0.9 <= late.value.whole[0] <= 1.0
    assert late.value.whole[1] == pytest.approx(119 / 60, abs=1e-5)
    assert Code.CLIP_PARTLY_WHOLE in [p.code for p in late.problems]
    early = inspect(clip(name, 0.3), cache)
    assert early.value is not None
    assert early.value.whole is not None
    assert early.value.whole[0] == 0
    assert early.value.whole[1] < 0.7
    refused = inspect(clip(name, 0.8), cache)
    assert refused.value is None
    assert [p.code for p in refused.problems] == [Code.CLIP_BROKEN]
    assert refused.problems[0].severity is Severity.ERROR


ODD_UNITS = {  # a remark that breaks off, parameters that nothing uses, a kind that does not exist
    "h264": (b"\x06\x05\xff\xff\xff\x80", b"\x68\x00\x00\x00\x80", b"\x18\x12\x34\x56\x80"),
    "hevc": (b"\x4e\x01\x05\xff\xff\xff\x80", b"\x52\x01\x12\x34\x80"),
}


@pytest.mark.parametrize(
    ("codec", "unit"), [(codec, unit) for codec, units in ODD_UNITS.items() for unit in units]
)
def test_an_odd_unit_that_is_no_part_of_a_picture_costs_nothing(
    codec: str, unit: bytes, tmp_path: Path, clip: Clip, cache: Cache
) -> None:
    """All 72 pictures rest on the first: stopping at the unit would lose half of them."""
    kinds = {
        "h264": ("odd.mp4", ("-g", "72", "-bf", "0", "-x264-params", "slices=1")),
        "hevc": ("odd.mov", ("-c:v", "libx265", "-tag:v", "hvc1",
                             "-x265-params", "log-level=0:keyint=72:bframes=0")),
    }  # fmt: skip
    name, options = kinds[codec]
    odd = film(tmp_path / name, range(72), *options)
    odd_unit_in(odd, unit)
    looked = inspect(replace(clip("plain.mp4", 0.8), path=odd), cache)
    assert looked.value is not None, looked.problems
    assert looked.value.whole is None
    assert looked.value.shown_s == pytest.approx((0.0, 71 / 60), abs=1e-4)
    assert Code.CLIP_PARTLY_WHOLE not in [p.code for p in looked.problems]
    assert len(glimpses_of(odd, looked.value.recording).times_s) == 72


def test_a_container_that_counts_pictures_left_out_is_not_cut_off(
    tmp_path: Path, clip: Clip, cache: Cache
) -> None:
    """An old camera writes an empty packet where it had no time for a picture."""
    left_out = ("-vf", "select=not(eq(mod(n\\,5)\\,2))", "-fps_mode", "passthrough")
    path = film(tmp_path / "old.avi", range(72), "-c:v", "mpeg4", "-q:v", "2", *left_out)
    looked = inspect(replace(clip("plain.mp4", 0.8), path=path), cache)
    assert looked.value is not None, looked.problems
    assert len(looked.value.recording.times_s) == 58
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    (problem,) = inspect(replace(clip("plain.mp4", 0.8), path=path), cache).problems
    assert problem.code is Code.CLIP_CUT_OFF


def test_the_encoders_first_samples_are_not_counted_as_sound(
    recordings: Path, clip: Clip, cache: Cache
) -> None:
    bare = recordings / "no_edit_list.mov"
    bare.write_bytes((recordings / "with_sound.mov").read_bytes())
    without_edit_lists(bare)
    looked = inspect(clip("no_edit_list.mov", None), cache)
    assert looked.value is not None
    assert looked.value.recording.primed_s == pytest.approx(1024 / 48_000)
    assert looked.value.strike.at_s == pytest.approx(0.7 - 4 / 343, abs=0.002)


def test_the_notes_go_before_the_sound(clip: Clip, cache: Cache) -> None:
    looked = inspect(clip("with_sound.mov", 0.25), cache)
    assert looked.value is not None
    assert looked.value.strike.at_s == 0.25
    assert looked.value.strike.found_in is ImpactFrom.NOTES


@pytest.mark.parametrize("impact_s", [-0.1, 1.3])
def test_a_strike_outside_the_clip_is_refused(impact_s: float, clip: Clip, cache: Cache) -> None:
    refused = inspect(clip("plain.mp4", impact_s), cache)
    assert refused.value is None
    assert [p.code for p in refused.problems] == [Code.CLIP_IMPACT_OUTSIDE]


@pytest.mark.parametrize("late_s", [0.0, 0.35])
def test_a_clear_strike_is_heard_on_the_clock_of_the_pictures(
    late_s: float, clip: Clip, cache: Cache, tmp_path: Path
) -> None:
    """A late clip's pictures begin that long after its sound. The sound travels 4 m."""
    heard_s = 0.9 - late_s
    swung = range(round(heard_s * 60) - 9, round(heard_s * 60))
    numbers = [4095 * (k % 2) if k in swung else 0 for k in range(90)]
    film(tmp_path / "swung.mov", numbers, sound=strike_sound(1.5 + late_s, 0.9))
    late = tmp_path / "late.mov"
    ffmpeg(
        *("-itsoffset", f"{late_s}", "-i", str(tmp_path / "swung.mov")),
        *("-i", str(tmp_path / "swung.wav"), "-map", "0:v", "-map", "1:a"),
        *("-c:v", "copy", "-c:a", "aac", str(late)),
    )
    looked = inspect(replace(clip("with_sound.mov", None), path=late), cache)
    assert looked.value is not None
    assert looked.problems == ()
    assert looked.value.strike.found_in is ImpactFrom.SOUND
    assert looked.value.strike.at_s == pytest.approx(heard_s - 4 / 343, abs=0.002)


def _asked(problems: tuple[Problem, ...], code: Code) -> Problem:
    """The one problem of ``code``; beside it the clip may be asked about for its speed."""
    (found,) = [problem for problem in problems if problem.code is code]
    return found


def test_a_guess_is_shown_and_asks_with_the_line_to_add(clip: Clip, cache: Cache) -> None:
    looked = inspect(clip("plain.mp4", None), cache)
    assert looked.value is not None
    assert looked.value.strike.found_in is ImpactFrom.GUESS
    problem = _asked(looked.problems, Code.CLIP_IMPACT_GUESSED)
    assert problem.severity is Severity.WARNING
    assert problem.where.line == 9
    (offer,) = problem.offers
    impact = f"{looked.value.strike.at_s:.3f}"
    assert offer.changes == (Put(looked.value.clip.where, ("impact",), impact),)


def test_a_clip_that_the_notes_do_not_list_is_asked_for_in_a_list_of_all(
    clip: Clip, cache: Cache
) -> None:
    here = SourceRef("mia/2031-02-03/plain.mp4")
    unlisted = replace(clip("plain.mp4", None), where=here, beside=("other.mov",))
    problem = _asked(inspect(unlisted, cache).problems, Code.CLIP_IMPACT_GUESSED_UNLISTED)
    assert problem.where.file.endswith("notes.md")
    (offer,) = problem.offers
    own, other = offer.changes
    assert isinstance(own, Add)
    assert isinstance(own.item, dict)
    assert set(own.item) == {"file", "impact"}
    assert other == Add(SourceRef(problem.where.file), ("clips",), {"file": "other.mov"})


def test_a_clip_that_grows_while_it_is_read_is_refused(
    recordings: Path,
    clip: Clip,
    cache: Cache,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    growing = recordings / "growing.mp4"
    growing.write_bytes((recordings / "plain.mp4").read_bytes())

    def read_and_grow(path: Path) -> str:
        found = digest_of_file(path)
        with path.open("ab") as more:
            more.write(bytes(8))
        return found

    monkeypatch.setattr("recapgen.clips.footage.digest_of_file", read_and_grow)
    refused = inspect(clip("growing.mp4", 0.8), cache)
    assert refused.value is None
    assert [p.code for p in refused.problems] == [Code.CLIP_STILL_GROWING]


def test_a_marked_ball_settles_a_strike_without_sound(
    recordings: Path, clip: Clip, cache: Cache
) -> None:
    """A white disc lies on grey until picture 40; a dark bar sweeps past it fastest then."""
    swept = ball_film(recordings / "swept.mp4", gone_at=40)
    listed = replace(clip("swept.mp4", None), path=swept)
    for place, found in ((Point(0.5, 0.8), ImpactFrom.BALL), (Point(0.2, 0.3), ImpactFrom.GUESS)):
        looked = inspect(replace(listed, directions=Directions(ball=place)), cache)
        assert looked.value is not None
        assert looked.value.strike.found_in is found
        codes = {p.code for p in looked.problems}
        assert (Code.CLIP_BALL_STAYS in codes) is (found is ImpactFrom.GUESS)
        if found is ImpactFrom.BALL:
            assert codes == set()
            assert looked.value.strike.at_s == pytest.approx(39.5 / 60, abs=0.5 / 60)


def test_slow_motion_is_offered_and_never_applied(
    recordings: Path, clip: Clip, cache: Cache
) -> None:
    """The same sweep, each picture four times: silent, and four times slower than life."""
    slowed = ball_film(recordings / "slowed.mp4", gone_at=40, times=4)
    listed = replace(clip("slowed.mp4", None), path=slowed)
    problem = _asked(inspect(listed, cache).problems, Code.CLIP_LOOKS_SLOWED)
    (offer,) = problem.offers
    assert offer.changes == (Put(listed.where, ("slow",), "4"),)
    told = replace(listed, directions=Directions(ball=Point(0.5, 0.8), slow=Pace(4)))
    looked = inspect(told, cache)
    assert looked.value is not None
    assert looked.problems == ()
    assert looked.value.strike.found_in is ImpactFrom.BALL
    assert looked.value.strike.at_s == pytest.approx(4 * 39.5 / 60, abs=2.5 / 60)


@pytest.mark.parametrize("times", [2, 4, 8])
def test_slow_motion_saved_with_its_slowed_sound_is_not_believed(
    times: int, tmp_path: Path, clip: Clip, cache: Cache
) -> None:
    path = swing_film(tmp_path / "slowed.mp4", (1.0,), times=times)
    looked = inspect(replace(clip("plain.mp4", None), path=path), cache)
    assert looked.value is not None
    assert looked.value.strike.found_in is ImpactFrom.GUESS
    factor = int(_asked(looked.problems, Code.CLIP_LOOKS_SLOWED).facts["factor"])
    assert times / 2 <= factor <= times * 2
    stated = replace(clip("plain.mp4", float(times)), path=path)
    assert Code.CLIP_LOOKS_SLOWED in [p.code for p in inspect(stated, cache).problems]
    settled = replace(stated, directions=Directions(slow=Pace(1)))
    assert inspect(settled, cache).problems == ()


def test_two_balls_struck_in_one_clip_are_asked_about_with_pictures_of_each(
    tmp_path: Path, clip: Clip, cache: Cache
) -> None:
    path = swing_film(tmp_path / "two.mp4", (0.8, 2.0))
    looked = inspect(replace(clip("plain.mp4", None), path=path), cache)
    assert looked.value is not None
    assert looked.value.strike.found_in is ImpactFrom.GUESS
    assert looked.value.impacts_s == pytest.approx((0.8, 2.0), abs=0.003)
    told = tell(_asked(looked.problems, Code.CLIP_IMPACTS_SEVERAL), words("en"))
    assert "0.800, 2.000" in told.found
    drawn = set(pictures_of(looked.value))
    for struck in (48, 120):
        assert set(range(struck - 5, struck + 6)) <= drawn


def test_the_coachs_own_moments_go_before_the_estimates(clip: Clip, cache: Cache) -> None:
    moments = ((Position.START, 0.1), (Position.TOP, 0.5))
    told = replace(clip("plain.mp4", 0.8), directions=Directions(moments=moments))
    looked = inspect(told, cache)
    assert looked.value is not None
    known = {m.position: (m.at_s, m.stated) for m in looked.value.moments}
    assert known[Position.START] == (0.1, True)
    assert known[Position.TOP] == (0.5, True)
    assert known[Position.IMPACT] == (0.8, False)
    tempo = tempo_of(looked.value)
    assert tempo is not None
    assert (tempo.back_s, tempo.down_s) == pytest.approx((0.4, 0.3))
    assert tempo.back_within_s == tempo.down_within_s == pytest.approx(1 / 60, rel=0.01)


def test_the_ball_of_a_mirrored_clip_is_looked_for_on_the_stored_side(
    clip: Clip, cache: Cache, monkeypatch: pytest.MonkeyPatch
) -> None:
    watched: list[object] = []

    def here(work: Callable[..., object], *told: object, seconds: float) -> object:
        watched.extend(told[2:])
        assert seconds > 0
        return work(*told)

    monkeypatch.setattr("recapgen.clips.footage.apart", here)
    asked = Directions(ball=Point(0.25, 0.75), mirror=True)
    inspect(replace(clip("plain.mp4", 0.8), directions=asked), cache)
    assert watched == [0.75, 0.75]


def test_what_was_seen_once_is_remembered(
    clip: Clip, cache: Cache, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = inspect(clip("late.mov", None), cache)

    def never(*_: object, seconds: float) -> None:
        pytest.fail(f"looked again for {seconds} s")

    monkeypatch.setattr("recapgen.clips.footage.apart", never)
    assert inspect(clip("late.mov", None), cache) == first
