"""Single pictures of a recording, upright and grey."""

from collections.abc import Sequence
from pathlib import Path
from typing import cast

import av
import numpy as np

from recapgen.tools.media.recording import Recording, opened
from recapgen.tools.media.senses import GreyPicture

_NEAR_S = 1e-3


def stills_at(
    path: Path, recording: Recording, long_side: int, at_s: Sequence[float]
) -> tuple[GreyPicture | None, ...]:
    """The pictures shown at ``at_s`` seconds from the first, (height, width) uint8.

    As people see them, scaled to ``long_side``, square pixels; None where there is none to be had.
    """
    return tuple(_still(path, recording, long_side, seconds) for seconds in at_s)


def _still(path: Path, recording: Recording, long_side: int, at_s: float) -> GreyPicture | None:
    picture_s = recording.nearest_picture_s(at_s)
    wanted_s = recording.first_s + picture_s - _NEAR_S
    from_s = recording.read_from_s(picture_s)
    with opened(path) as container:
        film = container.streams.video[recording.stream]
        film.thread_type = "AUTO"
        try:
            if from_s is not None and film.time_base:
                container.seek(int(from_s / film.time_base), stream=film, backward=True)
            frame = next(
                f for f in container.decode(film) if f.pts is not None and f.time >= wanted_s
            )
        except (av.FFmpegError, StopIteration):
            return None
        scale = long_side / max(recording.width, recording.height)
        width, height = (max(8, round(n * scale)) for n in (recording.width, recording.height))
        if recording.turned % 2:
            width, height = height, width
        grey = frame.reformat(width=width, height=height, format="gray", interpolation="AREA")
        upright = np.rot90(cast("GreyPicture", grey.to_ndarray()), recording.turned)
        return np.ascontiguousarray(upright)
