"""Thousands of damaged clips through the reader: each costs itself at most, and soon."""

import random
import sys
import time
from collections import Counter
from pathlib import Path

import pytest

from recapgen.clips.footage import inspect
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Code, Cost
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache
from tests.clips.phone_clips import film, strike_sound

pytestmark = pytest.mark.ffmpeg

WHERE = SourceRef("notes.md", 6, 5)
SEED = 20270411
DAMAGED = 3_000
MOST_S = 30.0
_BOXES = (b"moov", b"trak", b"mdia", b"stbl", b"stsd", b"avc1", b"avcC", b"stts", b"stsz", b"stco",
          b"ctts", b"elst", b"tkhd", b"mdhd", b"mvhd", b"hdlr", b"mp4a", b"esds")  # fmt: skip


def _bytes_anywhere(body: bytearray, draw: random.Random) -> None:
    for _ in range(draw.choice((1, 8, 64))):
        body[draw.randrange(len(body))] = draw.randrange(256)


def _bytes_of_the_index(body: bytearray, draw: random.Random) -> None:
    index = body.find(b"moov")
    for _ in range(draw.choice((1, 4, 16))):
        body[draw.randrange(index, len(body))] = draw.randrange(256)


def _cut_off(body: bytearray, draw: random.Random) -> None:
    del body[draw.randrange(len(body)) :]


def _moved_or_gone(body: bytearray, draw: random.Random) -> None:
    at, length = draw.randrange(len(body)), draw.randrange(1, 4096)
    part = bytes(body[at : at + length])
    del body[at : at + length]
    if draw.random() < 0.5:
        to = draw.randrange(len(body))
        body[to:to] = part


def _box_of_another_size_or_name(body: bytearray, draw: random.Random) -> None:
    at = body.find(draw.choice(_BOXES))
    if at < 4:
        return
    if draw.random() < 0.7:
        size = draw.choice((0, 1, 7, 8, 2**31, 2**32 - 1, draw.randrange(2**32)))
        body[at - 4 : at] = size.to_bytes(4, "big")
    else:
        body[at : at + 4] = bytes(draw.randrange(256) for _ in range(4))


def _extreme_number(body: bytearray, draw: random.Random) -> None:
    at, width = draw.randrange(body.find(b"moov"), len(body) - 8), draw.choice((2, 4, 8))
    body[at : at + width] = draw.choice((b"\xff", b"\0", b"\x7f", b"\x80")) * width


_DAMAGES = (
    _bytes_anywhere,
    _bytes_of_the_index,
    _cut_off,
    _moved_or_gone,
    _box_of_another_size_or_name,
    _extreme_number,
)


def damaged(whole: bytes, seed: int) -> bytes:
    """One kind of damage, the same for the same seed."""
    body = bytearray(whole)
    draw = random.Random(seed)  # noqa: S311 - damage that can be had again
    _DAMAGES[seed % len(_DAMAGES)](body, draw)
    return bytes(body)


@pytest.fixture(scope="module")
def wholes(tmp_path_factory: pytest.TempPathFactory) -> tuple[bytes, ...]:
    """Three small clips: one plain, one with sound, one whose pictures rest on others."""
    folder = tmp_path_factory.mktemp("whole")
    sound = strike_sound(0.6, 0.4)
    return tuple(
        film(folder / name, range(36), *more, sound=heard).read_bytes()
        for name, more, heard in (
            ("plain.mp4", (), None),
            ("heard.mov", (), sound),
            ("resting.mp4", ("-bf", "2", "-g", "12"), None),
        )
    )


def look_through(wholes: tuple[bytes, ...], folder: Path, seeds: range) -> Counter[str]:
    """What became of each seed's clip, by problem; "shown" where there was footage."""
    ends: Counter[str] = Counter()
    for seed in seeds:
        path = folder / f"{seed}.mp4"
        path.write_bytes(damaged(wholes[seed // 6 % len(wholes)], SEED + seed))
        cache = Cache(folder / f"cache {seed}")
        began = time.monotonic()
        footage, problems = inspect(ClipFile(path, WHERE, None, None, None, 0.3, WHERE), cache)
        took = time.monotonic() - began
        assert took < MOST_S, f"seed {seed}: {took:.0f} s"
        assert footage is not None or [p for p in problems if p.cost is Cost.CLIP], f"seed {seed}"
        ends["shown" if footage is not None else problems[0].code.slug] += 1
        path.unlink()
    return ends


def test_a_few_damaged_clips_cost_themselves(wholes: tuple[bytes, ...], tmp_path: Path) -> None:
    ends = look_through(wholes, tmp_path, range(24))
    assert ends.total() == 24
    assert len(ends) > 2


@pytest.mark.campaign
def test_thousands_of_damaged_clips_cost_themselves(
    wholes: tuple[bytes, ...], tmp_path: Path
) -> None:
    ends = look_through(wholes, tmp_path, range(DAMAGED))
    sys.stderr.write(f"{DAMAGED} damaged clips from seed {SEED}: {dict(ends.most_common())}\n")
    assert ends.total() == DAMAGED
    assert ends[Code.CLIP_NOT_READ.slug] < DAMAGED / 20
