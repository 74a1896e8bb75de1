"""Recordings whose clock does not begin at nought: cut, streamed, or kept on a camera's card."""

from pathlib import Path

import pytest

from recapgen.clips.film import make_film
from recapgen.clips.footage import inspect
from recapgen.model.films import ImpactFrom
from recapgen.model.lesson import ClipFile
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache
from recapgen.tools.media.contact_sheet import make_sheet
from recapgen.tools.media.stills import stills_at
from recapgen.tools.template_folder import template_folder
from tests.clips.film_making import pictures
from tests.clips.phone_clips import ffmpeg, film, number_in, strike_sound

pytestmark = pytest.mark.ffmpeg

STRUCK_S = 1.4
SECONDS = 2
LATER = ("-output_ts_offset", "12.5")
KINDS: dict[str, tuple[str, ...]] = {
    "card.mts": (),
    "streamed.ts": ("-output_ts_offset", "95000"),
    "later.mkv": LATER,
    "later.mov": LATER,
    "in_pieces.mp4": (*LATER, "-an", "-movflags", "frag_keyframe+empty_moov+default_base_moof"),
    "earlier.mov": ("-output_ts_offset", "-0.4", "-avoid_negative_ts", "0", "-use_editlist", "0"),
}


@pytest.fixture(scope="module")
def clocks(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One clip of 2 s, its key pictures 1 s apart, under different clocks."""
    made = tmp_path_factory.mktemp("clocks")
    sound = strike_sound(SECONDS, STRUCK_S + 4 / 343)
    whole = film(made / "whole.mp4", range(60 * SECONDS), "-g", "60", sound=sound)
    for name, options in KINDS.items():
        ffmpeg("-i", str(whole), "-c", "copy", *options, str(made / name))
    return made


def _clip(path: Path, impact_s: float | None) -> ClipFile:
    line = SourceRef("mia/2031-02-03/notes.md", 9, 3)
    return ClipFile(path, line, None, None, None, impact_s, line)


@pytest.mark.parametrize("name", KINDS)
def test_every_frame_shows_the_picture_of_its_instant(
    name: str, clocks: Path, cache: Cache
) -> None:
    looked = inspect(_clip(clocks / name, STRUCK_S), cache)
    assert looked.value is not None
    film = make_film(None, (looked.value,), cache)
    assert film.value is not None, film.problems
    shown = [number_in(picture) for picture in pictures(film.value.video)]
    at_strike = round(STRUCK_S * 60) - film.value.impact_frame
    assert shown == list(range(at_strike, at_strike + film.value.frames))


@pytest.mark.parametrize("name", KINDS)
def test_times_are_told_from_the_first_picture(name: str, clocks: Path, cache: Cache) -> None:
    looked = inspect(_clip(clocks / name, None), cache)
    assert looked.value is not None
    recording = looked.value.recording
    if recording.has_sound:
        assert looked.value.strike.found_in is ImpactFrom.SOUND
        assert looked.value.strike.at_s == pytest.approx(STRUCK_S, abs=0.003)
    at_s = (0.0, 0.95, 1.05, 1.95)
    stills = stills_at(clocks / name, recording, 480, at_s)
    assert [number_in(s) for s in stills if s is not None] == [round(60 * s) for s in at_s]


def test_a_sheet_is_the_same_whatever_the_clock(clocks: Path, cache: Cache, tmp_path: Path) -> None:
    font = template_folder() / "fonts/figtree-numerals.ttf"
    sheets = []
    for name in ("whole.mp4", "later.mkv"):
        looked = inspect(_clip(clocks / name, STRUCK_S), cache)
        assert looked.value is not None
        sheets.append(tmp_path / f"{name}.webp")
        make_sheet(clocks / name, looked.value.recording, [0, 60, 90], font, sheets[-1])
    assert sheets[0].read_bytes() == sheets[1].read_bytes()
