"""A recording's sound and movement as arrays, on the clock of its pictures."""

from dataclasses import dataclass
from pathlib import Path
from typing import cast

import av
import numpy as np
import numpy.typing as npt
from av.audio.frame import AudioFrame
from av.audio.resampler import AudioResampler

from recapgen.tools.media.recording import Recording, opened

SOUND_RATE_HZ = 48_000


@dataclass(frozen=True, slots=True)
class Sound:
    """One channel at ``SOUND_RATE_HZ``; ``samples`` (n,) float32 in -1..1.

    The first sample was heard ``starts_s`` after the first picture (negative: before it).
    """

    samples: npt.NDArray[np.float32]
    starts_s: float


@dataclass(frozen=True, slots=True)
class Glimpses:
    """Small grey pictures: ``grey`` (n, height, width) uint8, ``times_s`` (n,) float64.

    Not turned upright and not mapped to SDR: only what changes between them matters.
    """

    grey: npt.NDArray[np.uint8]
    times_s: npt.NDArray[np.float64]


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
    return Sound(np.concatenate(chunks), (starts_s or 0.0) - recording.first_s)


def _samples(frames: list[AudioFrame]) -> list[npt.NDArray[np.float32]]:
    return [cast("npt.NDArray[np.float32]", f.to_ndarray()).ravel() for f in frames]


def glimpse(path: Path, recording: Recording, long_side: int, apart_s: float) -> Glimpses:
    """Decode everything once, keeping small pictures at least ``apart_s`` from each other."""
    scale = long_side / max(recording.width, recording.height)
    small: list[npt.NDArray[np.uint8]] = []
    times: list[float] = []
    with opened(path) as container:
        film = container.streams.video[recording.stream]
        film.thread_type = "AUTO"
        film.codec_context.options = {"skip_loop_filter": "all"}  # too fine to be seen this small
        try:
            for frame in container.decode(film):
                at = frame.time - recording.first_s if frame.pts is not None else -1.0
                if at < 0 or (times and at < times[-1] + apart_s):
                    continue
                grey = frame.reformat(
                    width=max(8, int(frame.width * scale)),
                    height=max(8, int(frame.height * scale)),
                    format="gray",
                    interpolation="AREA",
                )
                small.append(cast("npt.NDArray[np.uint8]", grey.to_ndarray()))
                times.append(at)
        except av.FFmpegError:
            pass  # damage further on: what was seen until there is used
    if not small:
        return Glimpses(np.zeros((0, 8, 8), np.uint8), np.zeros(0))
    return Glimpses(np.stack(small), np.array(times))
