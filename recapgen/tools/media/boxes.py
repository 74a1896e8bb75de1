"""The boxes of an MP4 or MOV file (ISO/IEC 14496-12) that no library we use reads."""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from msgspec import Struct

_LARGEST_INDEX = 64 << 20
_HEAD, _LONG_HEAD = 8, 16
_PARAMETER_SETS = (32, 33, 34)  # of video, sequence and picture
_INSIDE = {b"moov", b"trak", b"mdia", b"minf", b"stbl"}


class MediaTrack(Struct, frozen=True):
    """``kind`` is "vide" or "soun", ``entry`` how its samples are kept ("avc1", "encv").

    ``edited`` where an edit list says which of it is played.
    """

    kind: str
    entry: str
    edited: bool


def tracks(path: Path) -> tuple[MediaTrack, ...]:
    """The file's tracks; none where it has no index or is no such file. Raises OSError."""
    with path.open("rb") as file:
        index = _index(file)
    return tuple(_track(body) for kind, body in _boxes(index) if kind == b"trak")


def _index(file: BinaryIO) -> bytes:
    """What is in the moov box."""
    end = file.seek(0, os.SEEK_END)
    file.seek(0)
    while len(head := file.read(_HEAD)) == _HEAD:
        size, kind, known = int.from_bytes(head[:4]), head[4:], _HEAD
        if size == 1:
            size, known = int.from_bytes(file.read(_HEAD)), _LONG_HEAD
        if size < known:
            return b""
        if kind == b"moov":
            return file.read(min(size - known, _LARGEST_INDEX))
        if size - known > end:
            return b""
        file.seek(size - known, os.SEEK_CUR)
    return b""


def _boxes(body: bytes) -> Iterator[tuple[bytes, bytes]]:
    """(kind, content) of the boxes in ``body``, as far as they are whole."""
    at = 0
    while at + _HEAD <= len(body):
        size, kind = int.from_bytes(body[at : at + 4]), body[at + 4 : at + _HEAD]
        if size < _HEAD or at + size > len(body):
            return
        yield kind, body[at + _HEAD : at + size]
        at += size


def _track(body: bytes) -> MediaTrack:
    kind = entry = b""
    edited = False
    for name, content in _all_boxes(body):
        if name == b"hdlr" and not kind:
            kind = content[8:12]
        elif name == b"stsd":
            entry = content[12:16]
        elif name == b"edts":
            edited = True
    return MediaTrack(kind.decode("latin-1"), entry.decode("latin-1"), edited)


def _all_boxes(body: bytes) -> Iterator[tuple[bytes, bytes]]:
    for name, content in _boxes(body):
        yield name, content
        if name in _INSIDE:
            yield from _all_boxes(content)


def blank_all_but_parameters(path: Path) -> None:
    """Take the encoder's and the phone's remarks out of an HEVC film's index, in place.

    The box hvcC (ISO/IEC 14496-15) holds lists of units; those that are no parameter sets become
    a box of nothing, so that no byte after them moves.
    """
    content = bytearray(path.read_bytes())
    kind = content.find(b"hvcC")
    if kind < 0:
        return
    begin, lists = kind - 4, kind + 4 + 22
    end = begin + int.from_bytes(content[begin:kind])
    kept, count, at = bytearray(), 0, lists + 1
    for _ in range(content[lists]):
        start, at = at, at + 3
        for _ in range(int.from_bytes(content[start + 1 : start + 3])):
            at += 2 + int.from_bytes(content[at : at + 2])
        if content[start] & 0x3F in _PARAMETER_SETS:
            kept += content[start:at]
            count += 1
    last = lists + 1 + len(kept)
    if at > end or end - last < _HEAD:
        return
    content[lists] = count
    content[lists + 1 : last] = kept
    content[begin:kind] = (last - begin).to_bytes(4)
    content[last:end] = (end - last).to_bytes(4) + b"free" + bytes(end - last - _HEAD)
    path.write_bytes(content)
