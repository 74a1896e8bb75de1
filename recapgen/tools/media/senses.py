"""A recording's sound and movement as arrays, on the clock of its pictures."""

from collections.abc import Callable, Iterator
from math import inf
from pathlib import Path
from typing import cast

import av
import numpy as np
import numpy.typing as npt
from av.audio.frame import AudioFrame
from av.audio.resampler import AudioResampler
from av.container import InputContainer
from av.video.frame import VideoFrame
from av.video.stream import VideoStream
from msgspec import Struct
from msgspec.structs import replace

from recapgen.tools.media.recording import Recording, opened

GreyPicture = npt.NDArray[np.uint8]

SOUND_RATE_HZ = 48_000


class Sound(Struct, frozen=True):
    """One channel at ``SOUND_RATE_HZ``; ``samples`` (n,) float32 in -1..1.

    The first sample was heard ``starts_s`` after the first picture (negative: before it).
    """

    samples: npt.NDArray[np.float32]
    starts_s: float


class Glimpses(Struct, frozen=True):
    """Small grey pictures: ``grey`` (n, height, width) uint8, ``times_s`` (n,) float64.

    Not turned upright and not mapped to SDR: only what changes between them matters. ``broken``
    where some of the recording could not be decoded as it was meant.
    """

    grey: npt.NDArray[np.uint8]
    times_s: npt.NDArray[np.float64]
    broken: bool = False


def hear(path: Path, recording: Recording) -> Sound | None:
    """The first sound track, as far as it can be decoded; None where there is none."""
    with opened(path) as container:
        track = next(iter(container.streams.audio), None)
        if track is None:
            return None
        even_out = AudioResampler(format="flt", layout="mono", rate=SOUND_RATE_HZ)
        chunks: list[npt.NDArray[np.float32]] = []
        starts_s: float | None = None
        try:
            for frame in container.decode(track):
                if starts_s is None:
                    starts_s = frame.time
                chunks.extend(_samples(even_out.resample(frame)))
            chunks.extend(_samples(even_out.resample(None)))
        except av.FFmpegError:
            pass  # a sound track that breaks off is used up to there
    if not chunks:
        return None
    starts_s = (starts_s or 0.0) - recording.first_s
    if starts_s > -recording.primed_s / 2:  # else the pictures were begun later to make up for it
        starts_s -= recording.primed_s
    return Sound(np.concatenate(chunks), starts_s)


def _samples(frames: list[AudioFrame]) -> list[npt.NDArray[np.float32]]:
    return [cast("npt.NDArray[np.float32]", f.to_ndarray()).ravel() for f in frames]


def glimpse(
    path: Path,
    recording: Recording,
    long_side: int,
    apart_s: float,
    between_s: tuple[float, float] = (0.0, inf),
) -> Glimpses:
    """Decode everything once, keeping small pictures at least ``apart_s`` from each other.

    Only those taken ``between_s`` (from, to) are kept.
    """
    scale = long_side / max(recording.width, recording.height)

    def small(frame: VideoFrame) -> GreyPicture:
        width, height = max(8, int(frame.width * scale)), max(8, int(frame.height * scale))
        grey = frame.reformat(width=width, height=height, format="gray", interpolation="AREA")
        return cast("GreyPicture", grey.to_ndarray())

    return _kept(path, recording, small, apart_s, between_s)


def close_up(path: Path, recording: Recording, x: float, y: float, side: float) -> Glimpses:
    """Every picture's square around a place, in the stored picture's own pixels.

    ``x`` and ``y`` are shares of the upright picture, ``side`` of its longer side.
    """
    for _ in range(recording.turned):
        x, y = 1 - y, x

    def around(frame: VideoFrame) -> GreyPicture:
        grey = cast("GreyPicture", frame.reformat(format="gray").to_ndarray())
        height, width = grey.shape
        half = max(3, round(side * max(height, width) / 2))
        row = min(max(half, round(y * height)), height - half)
        column = min(max(half, round(x * width)), width - half)
        return grey[row - half : row + half, column - half : column + half].copy()

    return _kept(path, recording, around, 0.0)


def _kept(
    path: Path,
    recording: Recording,
    part: Callable[[VideoFrame], GreyPicture],
    apart_s: float,
    between_s: tuple[float, float] = (0.0, inf),
) -> Glimpses:
    """``part`` of every picture that is shown and at least ``apart_s`` after the one before.

    The decoder stops at a fault, so that it is noticed; then all is decoded once more as a
    player would, which goes on after it.
    """
    seen = _kept_once(path, recording, part, apart_s, between_s, strict=True)
    if not seen.broken:
        return seen
    again = _kept_once(path, recording, part, apart_s, between_s, strict=False)
    return replace(again, broken=True)


def _kept_once(
    path: Path,
    recording: Recording,
    part: Callable[[VideoFrame], GreyPicture],
    apart_s: float,
    between_s: tuple[float, float],
    *,
    strict: bool,
) -> Glimpses:
    from_s, to_s = between_s
    parts: list[GreyPicture] = []
    times: list[float] = []
    with opened(path) as container:
        film = container.streams.video[recording.stream]
        film.thread_type = "AUTO"
        film.codec_context.options = {
            "skip_loop_filter": "all",  # too fine to matter here
            **({"err_detect": "explode"} if strict else {}),
        }
        packets = _DecodedPictures(container, film)
        for frame in packets.pictures():
            at = frame.time - recording.first_s if frame.pts is not None else -1.0
            if not from_s <= at <= to_s or (times and at < times[-1] + apart_s):
                continue
            parts.append(part(frame))
            times.append(at)
    if not parts:
        return Glimpses(np.zeros((0, 8, 8), np.uint8), np.zeros(0), packets.broken)
    return Glimpses(np.stack(parts), np.array(times), packets.broken)


class _DecodedPictures:
    """A film's pictures one after another; ``broken`` once any of it could not be decoded."""

    def __init__(self, container: InputContainer, film: VideoStream) -> None:
        self.broken = False
        self._container = container
        self._film = film

    def pictures(self) -> Iterator[VideoFrame]:
        """Those that can be decoded, whatever lies between them."""
        try:
            for packet in self._container.demux(self._film):
                try:
                    yield from packet.decode()
                except av.FFmpegError:
                    self.broken = True
        except av.FFmpegError:
            self.broken = True  # what comes after cannot even be read
