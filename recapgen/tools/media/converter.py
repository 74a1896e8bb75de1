"""Running ffmpeg: which one, how long, and its last useful word when it fails."""

import re
import subprocess
from functools import cache
from typing import Any

import ffmpeg
import imageio_ffmpeg

from recapgen.tools.apart import watched
from recapgen.tools.media.recording import CONTAINERS

_USEFUL_LENGTH = 160
_MOST_MEMORY_BYTES = 4 << 30  # two films in 8K, and the encoder


class ConversionError(Exception):
    """ffmpeg could not do it; the message is its last useful line."""


@cache
def program() -> str:
    """The ffmpeg that came with the wheel (or that IMAGEIO_FFMPEG_EXE names)."""
    return str(imageio_ffmpeg.get_ffmpeg_exe())


@cache
def version() -> str:
    """What takes part in shaping the bytes of a film: the ffmpeg build."""
    return str(imageio_ffmpeg.get_ffmpeg_version())


def source(path: object, *, from_s: float | None, order: int) -> Any:  # noqa: ANN401 - ffmpeg-python is untyped
    """An input node for a local file, read from its beginning or from about ``from_s``.

    That is a time on the file's own clock, which need not begin at nought, and nothing that is
    read from there on is thrown away. ``order`` differs between inputs: equal nodes would merge
    into one.
    """
    seek: dict[str, object] = {}
    if from_s is not None:
        seek = {"ss": f"{from_s:.3f}", "seek_timestamp": 1, "noaccurate_seek": None}
    return ffmpeg.input(
        f"file:{path}",
        threads=1,
        thread_queue_size=64 + order,
        format_whitelist=CONTAINERS,
        protocol_whitelist="file",
        **seek,
    )


def run(graph: Any, timeout_s: float) -> str:  # noqa: ANN401 - see above
    """Run a compiled graph to its end; the last complaint about the source, or "".

    Raises ConversionError when it fails or takes longer than ``timeout_s``.
    """
    command = (
        graph.global_args("-hide_banner", "-nostdin", "-nostats", "-loglevel", "error")
        .global_args("-copyts", "-filter_complex_threads", "1")
        .overwrite_output()
        .compile(cmd=program())
    )
    with (
        subprocess.Popen(  # noqa: S603 - no shell, and inputs are "file:" paths
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
        ) as process,
        watched(process, _MOST_MEMORY_BYTES),
    ):
        try:
            _, told = process.communicate(timeout=timeout_s)
        except subprocess.TimeoutExpired as slow:
            raise ConversionError(f"no end after {timeout_s:.0f} s") from slow
        finally:
            process.kill()
    complaint = _last_useful_line(told.decode("utf-8", "replace"))
    if process.returncode:
        raise ConversionError(complaint or f"ffmpeg ended with {process.returncode}")
    return complaint


def _last_useful_line(told: str) -> str:
    """The last line that says something itself, without addresses in memory or paths."""
    dull = (
        "conversion failed",
        "error opening output",
        "nothing was written",
        "referenced qt chapter track",  # left behind by a trim on the phone; harmless
    )
    lines = [re.sub(r"^(\[[^\]]*\]\s*)+", "", line).strip() for line in told.splitlines()]
    useful = [line for line in lines if line and not line.lower().startswith(dull)]
    return useful[-1][:_USEFUL_LENGTH] if useful else ""
