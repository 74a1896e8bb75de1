"""A strike that was heard is held against the lesson's others: a neighbour's is asked about."""

from collections.abc import Callable
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.clips.footage import Footage, inspect
from recapgen.clips.own_sound import doubt_soft
from recapgen.model.films import ImpactFrom
from recapgen.model.problem import Checked, Code
from recapgen.tools.cache import Cache
from tests.clips.conftest import Clip
from tests.clips.phone_clips import swing_film

pytestmark = pytest.mark.ffmpeg

Heard = Callable[[float], Checked[Footage]]


@pytest.fixture
def heard(tmp_path: Path, clip: Clip, cache: Cache) -> Heard:
    """A clip whose strike is believed by its sound, of some loudness (own: 0.5)."""

    def looked(loudness: float) -> Checked[Footage]:
        path = swing_film(tmp_path / f"{loudness}.mp4", (1.0,), loudness=loudness)
        look = inspect(replace(clip("plain.mp4", None), path=path), cache)
        assert look.value is not None
        assert look.value.strike.found_in is ImpactFrom.SOUND
        return look

    return looked


def duller(look: Checked[Footage], by_db: float) -> Checked[Footage]:
    """The same strike with less of its highest tones, as from another bay."""
    assert look.value is not None
    assert look.value.heard is not None
    sound = replace(look.value.heard, top_db=look.value.heard.top_db - by_db)
    return Checked(replace(look.value, heard=sound), look.problems)


def asked(look: Checked[Footage]) -> list[Code]:
    assert look.value is not None
    guessed = look.value.strike.found_in is ImpactFrom.GUESS
    codes = [problem.code for problem in look.problems]
    assert guessed == bool(codes)
    return codes


def test_a_strike_much_softer_than_those_of_the_other_clips_is_a_guess(heard: Heard) -> None:
    own, neighbours = heard(0.5), heard(0.12)
    judged = doubt_soft([own, own, neighbours])
    assert judged[:2] == (own, own)
    assert asked(judged[2]) == [Code.CLIP_IMPACT_SOFT]
    assert judged[2].problems[0].facts["softer"] == "12"
    assert doubt_soft([own, neighbours]) == (own, neighbours)  # one other is not enough


def test_a_strike_as_loud_but_duller_than_the_others_is_a_guess(heard: Heard) -> None:
    own = heard(0.5)
    assert asked(doubt_soft([own, own, duller(own, 5)])[2]) == []
    assert asked(doubt_soft([own, own, duller(own, 8)])[2]) == [Code.CLIP_IMPACT_SOFT]


def test_without_others_a_dull_strike_is_asked_about(heard: Heard) -> None:
    """Of invented scenes with neighbours' strikes alone 9 of 200 are believed so, 27 without."""
    own = heard(0.5)
    assert own.value is not None
    assert own.value.heard is not None
    to_dull = own.value.heard.top_db + 9
    assert asked(doubt_soft([duller(own, to_dull - 1)])[0]) == []
    (judged,) = doubt_soft([duller(own, to_dull + 1)])
    assert asked(judged) == [Code.CLIP_IMPACT_GUESSED]
    assert judged.problems[0].offers
