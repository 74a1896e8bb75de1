"""Clips that ask for more than a lesson's clip can: what they claim, or what they really hold."""

import struct
from collections.abc import Callable
from pathlib import Path

from tests.clips.phone_clips import ffmpeg

_BIG = 1_000_000


def _drawn(path: Path, source: str, *options: str) -> bytes:
    """What ffmpeg draws of ``source``, as H.264."""
    ffmpeg(
        "-f", "lavfi", "-i", source, "-c:v", "libx264", "-preset", "ultrafast", *options, str(path)
    )
    return path.read_bytes()


def _small(path: Path) -> bytes:
    return _drawn(path, "testsrc=size=64x64:rate=30:duration=1", "-pix_fmt", "yuv420p")


def _claims(path: Path, box: bytes, at: int, number: bytes) -> bytes:
    """A small clip with ``number`` written ``at`` bytes behind the name of a ``box``."""
    body = bytearray(_small(path))
    begins = body.index(box) + 4 + at
    body[begins : begins + len(number)] = number
    return bytes(body)


def _box(name: bytes, within: bytes) -> bytes:
    return struct.pack(">I", len(within) + 8) + name + within


def _nested(deep: int) -> bytes:
    """Boxes in boxes; built from within without copying each time."""
    heads = [struct.pack(">I", 8 * (deep - n)) + b"moov" for n in range(deep)]
    return _box(b"ftyp", b"isom\0\0\2\0isom") + b"".join(heads)


_MOST = b"\xff\xff\xff\xff"
CLIPS: dict[str, Callable[[Path], bytes]] = {
    "huge pictures.mp4": lambda p: _drawn(p, "color=size=8192x8192:rate=30:duration=0.4"),
    "wide pictures.mp4": lambda p: _drawn(p, "color=size=16384x64:rate=30:duration=1"),
    "many pictures.mp4": lambda p: _drawn(p, "color=size=16x16:rate=1000:duration=120"),
    "noise.mp4": lambda p: _drawn(p, "nullsrc=size=640x640:rate=60:duration=2,geq=random(1)*255"),
    "long.mp4": lambda p: _drawn(p, "color=size=16x16:rate=1:duration=20000"),
    "many samples.mp4": lambda p: _claims(p, b"stsz", 8, _MOST),
    "many times.mp4": lambda p: _claims(p, b"stts", 4, _MOST + b"\x7f\xff\xff\xff"),
    "long times.mp4": lambda p: _claims(p, b"stts", 8, b"\0\0\0\x1e\x7f\xff\xff\xff"),
    "many chunks.mp4": lambda p: _claims(p, b"stco", 4, _MOST),
    "many edits.mp4": lambda p: _claims(p, b"elst", 4, _MOST),
    "endless seconds.mp4": lambda p: _claims(p, b"mvhd", 12, b"\0\0\0\1" + _MOST),
    "wide in the index.mp4": lambda p: _claims(p, b"avc1", 24, b"\xff\xff\xff\xff"),
    "long settings.mp4": lambda p: _claims(p, b"avcC", -8, _MOST),
    "nested.mp4": lambda _: _nested(_BIG),
    "boxes.mp4": lambda _: _box(b"ftyp", b"isom\0\0\2\0isom") + _box(b"free", b"") * 4 * _BIG,
    "tracks.mp4": lambda _: (
        _box(b"ftyp", b"isom\0\0\2\0isom") + _box(b"moov", _box(b"trak", b"") * _BIG)
    ),
    "zeros.mov": lambda _: b"\0" * 50 * _BIG,
    "letters.mkv": lambda _: b"\x1a\x45\xdf\xa3" + b"\xff" * 20 * _BIG,
    "packets.ts": lambda _: (b"G\x40\0\x10" + b"\xaa" * 184) * 100_000,
    "other files.mp4": lambda _: b"ffconcat version 1.0\n" + b"file /dev/zero\n" * 1_000,
    "a list.mp4": lambda _: b"#EXTM3U\n#EXT-X-TARGETDURATION:1\n" + b"#EXTINF:1,\n/dev/zero\n" * 99,
    "pictures of a picture.gif": lambda p: (
        _drawn(p.with_suffix(".mp4"), "testsrc=duration=1")[:40]
        + b"GIF89a\xff\xff\xff\xff\xf7\0\0"
        + b"," * _BIG
    ),
}
