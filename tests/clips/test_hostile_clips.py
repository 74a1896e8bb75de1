"""A clip that its reader was never meant for costs that clip, with one problem."""

import os
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from recapgen.clips.demonstration import show_drill
from recapgen.clips.footage import inspect
from recapgen.model.problem import Code, Cost
from recapgen.tools.cache import Cache
from recapgen.tools.media.recording import Flaw, Unusable, look
from tests.clips.conftest import Clip

pytestmark = pytest.mark.ffmpeg


def unknown_codec(whole: bytes) -> bytes:
    """The sample entry of a codec that ffmpeg does not know."""
    return whole.replace(b"avc1", b"zzzz").replace(b"avcC", b"zzzC")


def endless_box(whole: bytes) -> bytes:
    """A box of 2^64 - 1 bytes before the index."""
    return whole[:32] + b"\0\0\0\1free" + b"\xff" * 8 + whole[32:]


@pytest.mark.parametrize("damage", [unknown_codec, endless_box])
def test_a_clip_that_made_the_reader_stumble_costs_itself(
    clip: Clip, cache: Cache, tmp_path: Path, damage: Callable[[bytes], bytes]
) -> None:
    file = clip("plain.mp4", None)
    bad = tmp_path / "bad.mp4"
    bad.write_bytes(damage(file.path.read_bytes()))
    footage, problems = inspect(replace(file, path=bad), cache)
    assert footage is None
    (problem,) = problems
    assert problem.cost is Cost.CLIP
    assert show_drill(tmp_path, bad.name, cache, 1).problems[0].code is Code.DRILL_NOT_SHOWN


def hang(_path: Path) -> Unusable:
    """As a decoder that goes round in a circle does."""
    time.sleep(60)
    return Unusable(Flaw.EMPTY)


def crash(_path: Path) -> Unusable:
    """As a decoder with a fault in it does."""
    os.abort()


@pytest.mark.parametrize("fault", ["hang", "crash"])
def test_a_decoder_that_hangs_or_crashes_costs_the_clip(
    clip: Clip, cache: Cache, monkeypatch: pytest.MonkeyPatch, fault: str
) -> None:
    monkeypatch.setattr("recapgen.clips.footage.look", {"hang": hang, "crash": crash}[fault])
    monkeypatch.setattr(
        "recapgen.clips.footage.to_look_s", lambda _: 1.0 if fault == "hang" else 60
    )
    footage, problems = inspect(clip("plain.mp4", None), cache)
    assert footage is None
    (problem,) = problems
    assert (problem.code, problem.cost) == (Code.CLIP_NOT_READ, Cost.CLIP)


@pytest.mark.parametrize("most", ["MOST_PIXELS", "MOST_PICTURES"])
def test_a_clip_beyond_what_can_be_worked_on_is_told_by_its_size(
    clip: Clip, monkeypatch: pytest.MonkeyPatch, most: str
) -> None:
    monkeypatch.setattr(f"recapgen.tools.media.recording.{most}", 60)
    seen = look(clip("plain.mp4", None).path)
    assert isinstance(seen, Unusable)
    assert seen.flaw is Flaw.TOO_LARGE
    assert seen.detail.startswith("270 x 480")
