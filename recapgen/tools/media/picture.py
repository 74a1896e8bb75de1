"""A picture made ready for a page: upright, no larger than it needs to be, nothing private."""

from pathlib import Path

import av
import ffmpeg

from recapgen.tools.media import converter, editing

LONG_SIDE = 960
MOST_PIXELS = 120_000_000  # beyond any phone's photo; a small file may claim far more
RECIPE = f"picture {LONG_SIDE} webp; 1"
"""Changes whenever anything in this file changes what comes out."""

_PATIENCE_S = 60
_STARTS = {b"\xff\xd8\xff": "jpeg_pipe", b"\x89PNG": "png_pipe", b"RIFF": "webp_pipe"}


def is_picture(path: Path) -> bool:
    """By its first bytes, not by its name: JPEG, PNG or WebP. Raises OSError."""
    return _kind(path) is not None


def make_picture(path: Path, into: Path, long_side: int = LONG_SIDE) -> None:
    """Write the picture at ``path`` as WebP, at most ``long_side`` pixels wide and high.

    Raises ConversionError, OSError.
    """
    kind = _kind(path)
    if kind is None:
        raise converter.ConversionError("not a picture of a known kind")
    source = ffmpeg.input(
        f"file:{path}",
        format=kind,
        format_whitelist=kind,
        protocol_whitelist="file",
        max_pixels=MOST_PIXELS,
    )
    small = source.video.filter(
        "scale",
        w=f"min({long_side},iw)",
        h=f"min({long_side},ih)",
        force_original_aspect_ratio="decrease",
        flags="area+bitexact",
    )
    graph = ffmpeg.output(small, f"file:{into}", **editing.still_options())
    converter.run(graph, timeout_s=_PATIENCE_S)


def size(path: Path) -> tuple[int, int]:
    """Width and height in pixels of a picture that ``make_picture`` wrote.

    Raises ConversionError where the file has gone bad since.
    """
    try:
        with av.open(str(path)) as opened:
            seen = opened.streams.video[0]
            return seen.width, seen.height
    except (av.FFmpegError, IndexError) as error:
        raise converter.ConversionError(str(error)) from error


def _kind(path: Path) -> str | None:
    with path.open("rb") as file:
        start = file.read(16)
    return next((kind for sign, kind in _STARTS.items() if start.startswith(sign)), None)
