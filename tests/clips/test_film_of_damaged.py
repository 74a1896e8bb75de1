"""What is shown of a clip that is damaged, or cannot be converted at all."""

from pathlib import Path

import numpy as np
import pytest
from msgspec.structs import replace

from recapgen.clips.film import make_film
from recapgen.model.problem import Code
from recapgen.tools.cache import Cache
from tests.clips.conftest import Clip
from tests.clips.film_making import filmed, footage, pictures
from tests.clips.phone_clips import number_in

pytestmark = pytest.mark.ffmpeg


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
        made = make_film(None, sides, cache)
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
    made = make_film(None, sides, cache)
    assert made.value is not None
    assert [side.source_name for side in made.value.sides] == ["slow.mp4"]
    assert made.value.width == 270
    assert [(p.code, p.facts["file"]) for p in made.problems] == [
        (Code.CLIP_NOT_CONVERTED, "gone.mp4")
    ]
    neither = make_film(None, (sides[names.index("gone.mp4")],) * 2, cache)
    assert neither.value is None
    assert {p.facts["file"] for p in neither.problems} == {"gone.mp4"}
