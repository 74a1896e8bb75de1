"""What a film or a picture says besides its pictures: titles, makers, places, remarks.

Compressed pictures and tables of numbers are passed over: no word stands in them, and a short
name is met in random bytes by chance.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

_HEAD, _LONG_HEAD = 8, 16
_LARGEST = 64 << 20  # of one box of remarks
_NESTED = frozenset({b"moov", b"trak", b"mdia", b"minf", b"stbl"})
_NO_WORDS = frozenset(
    {b"mdat", b"stsz", b"stz2", b"stco", b"co64", b"stts", b"ctts", b"stsc", b"stss", b"elst"}
)
_PICTURE_CHUNKS = frozenset({b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF"})
_PNG_PICTURE = frozenset({b"IHDR", b"PLTE", b"IDAT", b"IEND"})
_PNG_SIGNATURE, _RIFF_HEAD = 8, 12
_JPEG_REMARKS = frozenset({*range(0xE0, 0xF0), 0xFE})
_JPEG_SCAN = 0xDA
_RUN = re.compile(rb"[\x20-\x7e\x80-\xff]{3,}")
_WIDE_RUN = re.compile(rb"(?:[\x20-\x7e]\x00){3,}")  # UTF-16, as in what cameras write


def film_remarks(path: Path) -> tuple[str, ...]:
    """Of an MP4 film (ISO/IEC 14496-12), every box but the pictures'. Raises OSError."""
    with path.open("rb") as file:
        end = file.seek(0, 2)
        return tuple(text for box in _boxes(file.read, file.seek, 0, end) for text in _runs(box))


def webp_remarks(path: Path) -> tuple[str, ...]:
    """Of a WebP picture, every chunk but the picture's. Raises OSError."""
    content, at = path.read_bytes(), _RIFF_HEAD
    told: list[str] = []
    while at + _HEAD <= len(content):
        size = int.from_bytes(content[at + 4 : at + _HEAD], "little")
        if content[at : at + 4] not in _PICTURE_CHUNKS:
            told.extend(_runs(content[at + _HEAD : at + _HEAD + size]))
        at += _HEAD + size + size % 2
    return (*told, *_runs(content[at:]))


def png_remarks(path: Path) -> tuple[str, ...]:
    """Of a PNG picture, every chunk but the picture's. Raises OSError."""
    content, at = path.read_bytes(), _PNG_SIGNATURE
    told: list[str] = []
    while at + _HEAD <= len(content):
        size, kind = int.from_bytes(content[at : at + 4]), content[at + 4 : at + _HEAD]
        if kind not in _PNG_PICTURE:
            told.extend(_runs(content[at + _HEAD : at + _HEAD + size]))
        at += _HEAD + size + 4
    return (*told, *_runs(content[at:]))


def jpeg_remarks(path: Path) -> tuple[str, ...]:
    """Of a JPEG picture, what stands in front of it. Raises OSError."""
    content, at = path.read_bytes(), 2
    told: list[str] = []
    while at + 4 <= len(content) and content[at + 1] != _JPEG_SCAN:
        size = int.from_bytes(content[at + 2 : at + 4])
        if content[at + 1] in _JPEG_REMARKS:
            told.extend(_runs(content[at + 4 : at + 2 + size]))
        at += 2 + size
    return tuple(told)


def _boxes(
    read: Callable[[int], bytes], seek: Callable[[int], int], at: int, end: int
) -> Iterator[bytes]:
    """The contents of the boxes from ``at`` on that may hold words."""
    while at + _HEAD <= end:
        seek(at)
        head = read(_LONG_HEAD)
        size, kind, known = int.from_bytes(head[:4]), head[4:_HEAD], _HEAD
        if size == 1:
            size, known = int.from_bytes(head[_HEAD:]), _LONG_HEAD
        last = end if size < known else min(at + size, end)  # zero: up to the end
        if kind in _NESTED:
            yield from _boxes(read, seek, at + known, last)
        elif kind not in _NO_WORDS:
            seek(at + known)
            yield read(min(last - at - known, _LARGEST))
        at = last


def _runs(content: bytes) -> Iterator[str]:
    """Every stretch of three signs or more that could be words."""
    for run in _RUN.findall(content):
        yield run.decode("utf-8", "ignore")
    for run in _WIDE_RUN.findall(content):
        yield run.decode("utf-16-le")


REMARKS: Mapping[str, Callable[[Path], tuple[str, ...]]] = {
    ".mp4": film_remarks,
    ".webp": webp_remarks,
    ".png": png_remarks,
    ".jpg": jpeg_remarks,
    ".jpeg": jpeg_remarks,
}
"""How the remarks of a film or picture are found, by the ending of its name."""
