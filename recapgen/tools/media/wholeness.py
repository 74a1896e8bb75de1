"""Which parts of a damaged recording can be trusted."""

from itertools import groupby
from pathlib import Path

import av

from recapgen.tools.media.recording import Recording, opened

Stretch = tuple[float, float]
"""Seconds from the first picture of the first and the last whole picture."""


def whole_stretches(path: Path, recording: Recording) -> tuple[Stretch, ...]:
    """Where every picture is whole, in order.

    From a fault on nothing is trusted until the next picture that rests on no other.
    """
    trusted: dict[float, bool] = {}
    with opened(path) as container:
        film = container.streams.video[recording.stream]
        film.thread_type = "NONE"  # so that a fault is told with its own packet
        film.codec_context.options = {"err_detect": "explode"}
        whole = True
        try:
            for packet in container.demux(film):
                try:
                    packet.decode()
                    whole = whole or packet.is_keyframe
                except av.FFmpegError:
                    whole = False
                stamp = packet.dts if packet.pts is None else packet.pts
                if stamp is not None and packet.size:
                    at = round(float(stamp * packet.time_base) - recording.first_s, 6)
                    trusted[at] = whole and not packet.is_corrupt
        except av.FFmpegError:
            pass  # what comes after cannot even be read
    shown = [at for at in sorted(trusted) if at >= 0]
    runs = (list(run) for whole, run in groupby(shown, key=trusted.__getitem__) if whole)
    return tuple((run[0], run[-1]) for run in runs)
