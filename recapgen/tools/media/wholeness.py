"""Which parts of a damaged recording can be trusted."""

from collections.abc import Callable, Iterable
from itertools import groupby
from math import inf
from pathlib import Path

import av
from av.packet import Packet
from av.video.frame import VideoFrame
from av.video.stream import VideoStream
from msgspec import Struct

from recapgen.tools.media.recording import Recording, opened

Stretch = tuple[float, float]
"""Seconds from the first picture of the first and the last whole picture."""

_HEVC_PICTURES = frozenset((*range(10), *range(16, 22), 32, 33, 34))
_HEVC_LENGTH_AT = 21  # of hvcC (ISO/IEC 14496-15): how many bytes tell how long a unit is

Decode = Callable[["Packet[VideoStream]"], list[VideoFrame]]


class _Picture(Struct, frozen=True):
    """A picture as it is stored, in the order of decoding; ``broken`` if it was not decoded."""

    at_s: float
    key: bool
    broken: bool


def whole_stretches(path: Path, recording: Recording) -> tuple[Stretch, ...]:
    """Where every picture is whole, in order.

    A decoder goes on after a fault and patches what it can. From a picture that it patched on
    nothing is trusted until the next that rests on no other.
    """
    with opened(path) as container:
        film = container.streams.video[recording.stream]
        film.thread_type = "NONE"  # so that a fault is told with its own packet
        stored, patched = _decoded(container.demux(film), _decoder(film), recording.first_s)
    trusted = _trusted(stored, patched)
    shown = [at for at in sorted(trusted) if at >= 0]
    runs = (list(run) for whole, run in groupby(shown, key=trusted.__getitem__) if whole)
    return tuple((run[0], run[-1]) for run in runs)


def _decoded(
    packets: "Iterable[Packet[VideoStream]]", decode: Decode, first_s: float
) -> tuple[list[_Picture], set[float]]:
    """What is stored, and when the pictures are shown that the decoder says it patched."""
    stored: list[_Picture] = []
    patched: set[float] = set()
    try:
        for packet in packets:
            broken = packet.is_corrupt
            try:
                frames = decode(packet)
            except av.FFmpegError:
                frames, broken = [], True
            patched.update(
                _since(f.time, first_s) for f in frames if f.is_corrupt and f.pts is not None
            )
            stamp = packet.dts if packet.pts is None else packet.pts
            if stamp is not None and packet.size:
                at_s = _since(float(stamp * packet.time_base), first_s)
                stored.append(_Picture(at_s, packet.is_keyframe, broken))
    except av.FFmpegError:
        pass  # what comes after cannot even be read
    return stored, patched


def _since(at_s: float, first_s: float) -> float:
    return round(at_s - first_s, 6)


def _trusted(stored: list[_Picture], patched: set[float]) -> dict[float, bool]:
    """When each picture is shown -> whether it and all that it rests on is whole."""
    trusted: dict[float, bool] = {}
    whole = whole_before = True
    key_s = -inf
    for each in stored:
        if each.key:
            whole, whole_before, key_s = True, whole, each.at_s
        whole = whole and not each.broken and each.at_s not in patched
        # Shown before the key picture, though stored behind it: rests on what was before, too.
        trusted[each.at_s] = whole and (whole_before or each.at_s >= key_s)
    return trusted


def _decoder(film: VideoStream) -> Decode:
    """HEVC's patches without saying so: it has to stop at each fault, of a picture's own units.

    Units that are odd but no part of a picture cost nothing.
    """
    context = film.codec_context
    head = context.extradata
    if context.name != "hevc":
        return Packet.decode
    context.options = {"err_detect": "explode"}
    if not head or head[0] != 1:  # units follow each other without their lengths
        return Packet.decode
    length_bytes = (head[_HEVC_LENGTH_AT] & 3) + 1

    def decode(packet: "Packet[VideoStream]") -> list[VideoFrame]:
        units = _units(bytes(packet), length_bytes) if packet.size else b""
        if not units:
            return packet.decode()
        alone = Packet(units)
        alone.pts, alone.dts, alone.time_base = packet.pts, packet.dts, packet.time_base
        return context.decode(alone)

    return decode


def _units(stored: bytes, length_bytes: int) -> bytes:
    """The units of a packet that are pictures or needed for them; all where they do not add up."""
    kept, at = bytearray(), 0
    while at + length_bytes < len(stored):
        begin = at + length_bytes
        end = begin + int.from_bytes(stored[at:begin])
        if end > len(stored):
            return stored
        if (stored[begin] >> 1) & 0x3F in _HEVC_PICTURES:
            kept += stored[at:end]
        at = end
    return bytes(kept)
