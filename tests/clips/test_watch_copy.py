"""A worksheet's copy: every picture of the clip once, upright, playable, and nothing else of it."""

import av
import pytest

from recapgen.clips import watch_copy
from recapgen.clips.watch_copy import sheet_clip
from recapgen.model.problem import Code
from recapgen.tools.cache import Cache
from tests.clips.conftest import Clip
from tests.clips.phone_clips import SECRETS, number_in
from tests.clips.test_download import decoded


@pytest.mark.parametrize(
    ("name", "first", "step"),
    [("rotated.mov", 0, 1), ("hevc.mov", 0, 1), ("uneven.mov", 0, 0), ("fast.mov", 0, 1)],
)
def test_frame_k_is_picture_k_whatever_the_phone_made(
    name: str, first: int, step: int, clip: Clip, cache: Cache
) -> None:
    made = sheet_clip(clip(name, 0.5), cache)
    copy = made.copy
    assert copy is not None
    numbers = [number_in(shown) for shown in decoded(copy.video)]
    assert len(numbers) == len(copy.times_s)
    if step:
        assert numbers == [first + step * k for k in range(len(numbers))]
    assert [round(at_s * 60) for at_s in copy.times_s][:3] == (
        [0, 1, 3] if name == "uneven.mov" else [0, 0, 1] if name == "fast.mov" else [0, 1, 2]
    )
    with av.open(str(copy.video)) as container:
        stream = container.streams.video[0]
        assert stream.codec_context.name == "h264"
        assert (copy.width, copy.height) == (stream.width, stream.height)
        assert copy.height > copy.width, "upright"


def test_nothing_private_comes_along_and_it_is_made_once(clip: Clip, cache: Cache) -> None:
    made = sheet_clip(clip("telltale.mov", None), cache)
    assert made.copy is not None
    held = made.copy.video.read_bytes()
    assert not [told for told in SECRETS.values() if told.encode() in held]
    with av.open(str(made.copy.video)) as container:
        assert not container.streams.audio
    before = made.copy.video.stat().st_mtime_ns
    again = sheet_clip(clip("telltale.mov", None), cache)
    assert again.copy is not None
    assert again.copy.video.stat().st_mtime_ns == before
    assert made.guess_s is not None


def test_where_pictures_are_lost_or_too_many_there_is_a_still(
    clip: Clip, cache: Cache, monkeypatch: pytest.MonkeyPatch
) -> None:
    holed = sheet_clip(clip("frayed.mov", 1.5), cache)
    assert holed.copy is None or len(decoded(holed.copy.video)) == len(holed.copy.times_s)
    monkeypatch.setattr(watch_copy, "MOST_COPIED", 10)
    made = sheet_clip(clip("plain.mp4", 0.5), cache)
    assert made.copy is None
    assert made.why is Code.CLIP_NOT_CONVERTED
    assert made.still is not None
    assert made.still.stat().st_size > 0


def test_what_cannot_be_read_says_why(clip: Clip, cache: Cache) -> None:
    made = sheet_clip(clip("text.mov", None), cache)
    assert (made.copy, made.still) == (None, None)
    assert made.why is Code.CLIP_NOT_VIDEO
