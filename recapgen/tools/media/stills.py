"""Single pictures of a recording, upright and grey."""

from collections.abc import Sequence
from pathlib import Path
from typing import cast

import av
import numpy as np

from recapgen.tools.media.recording import Recording, opened
from recapgen.tools.media.senses import Picture

_NEAR_S = 1e-3


def stills_at(
    path: Path, recording: Recording, long_side: int, at_s: Sequence[float]
) -> tuple[Picture | None, ...]:
    """The pictures shown at ``at_s`` seconds from the first, (height, width) uint8.

    As people see them, scaled to ``long_side``, square pixels; None where there is none to be had.
    """
    with opened(path) as container:
        film = container.streams.video[recording.stream]
        film.thread_type = "AUTO"
        found: list[Picture | None] = []
        for seconds in at_s:
            wanted_s = recording.first_s + recording.nearest_picture_s(seconds)
            offset = int((wanted_s - _NEAR_S) / film.time_base) if film.time_base else 0
            try:
                container.seek(max(0, offset), stream=film, backward=True)
                frame = next(
                    f for f in container.decode(film)
                    if f.pts is not None and f.time >= wanted_s - _NEAR_S
                )  # fmt: skip
            except (av.FFmpegError, StopIteration):
                found.append(None)
                continue
            scale = long_side / max(recording.width, recording.height)
            width, height = (max(8, round(n * scale)) for n in (recording.width, recording.height))
            if recording.turned % 2:
                width, height = height, width
            grey = frame.reformat(width=width, height=height, format="gray", interpolation="AREA")
            upright = np.rot90(cast("Picture", grey.to_ndarray()), recording.turned)
            found.append(np.ascontiguousarray(upright))
    return tuple(found)
