"""A clip made small for a browser: every picture of it once, upright, at an even pace."""

from pathlib import Path

import ffmpeg

from recapgen.tools.media import converter
from recapgen.tools.media.editing import (
    even_size,
    in_plain_colours,
    nothing_private,
    patience_s,
    still_options,
)
from recapgen.tools.media.recording import Recording

RECIPE = "small copy; every picture, 30 or 60 a second, 640 long, crf27 g6; 1"
"""Changes whenever anything in this file changes what comes out."""

_LONG_SIDE = 640
_USUAL_FPS, _FAST_FPS = 30, 60
_FAST_FROM = 45
_ENCODER_THREADS = 2  # part of the recipe: the number of threads shapes the bytes


def size_of(recording: Recording) -> tuple[int, int]:
    """Width and height of the copy, even numbers; never larger than the clip."""
    width, height = even_size(recording)
    scale = min(1.0, _LONG_SIDE / max(width, height))
    return max(2, round(width * scale / 2) * 2), max(2, round(height * scale / 2) * 2)


def rate_of(recording: Recording) -> int:
    """Pictures a second of the copy: a clip in slow motion plays slowly."""
    return _FAST_FPS if recording.fps >= _FAST_FROM else _USUAL_FPS


def make(path: Path, recording: Recording, size: tuple[int, int], fps: int, into: Path) -> None:
    """Write the copy: picture k of the recording is its frame k. Raises ConversionError."""
    source = converter.source(path, from_s=None, order=0)
    pictures = source[f"v:{recording.stream}"].filter(
        "select", f"gte(t,{recording.first_s - 1e-6:.6f})"
    )
    even = in_plain_colours(pictures, recording, *size).filter("setpts", f"N/({fps}*TB)")
    options = {
        "vcodec": "libx264",
        "preset": "veryfast",
        "profile:v": "high",
        "crf": 27,
        "g": 6,  # one goes back and forth picture by picture
        "bf": 0,
        "pix_fmt": "yuv420p",
        "fps_mode": "passthrough",
        "video_track_timescale": fps * 512,
        "movflags": "+faststart",
        "bsf:v": "filter_units=remove_types=6",  # x264 signs its settings there
        "threads": _ENCODER_THREADS,
        **nothing_private(),
    }
    even = even.filter("setsar", 1)
    converter.run(ffmpeg.output(even, f"file:{into}", **options), timeout_s=patience_s(recording))


def make_still(path: Path, recording: Recording, size: tuple[int, int], into: Path) -> None:
    """Write the first picture alone, as WebP. Raises ConversionError."""
    source = converter.source(path, from_s=None, order=0)
    still = in_plain_colours(source[f"v:{recording.stream}"], recording, *size)
    written = ffmpeg.output(still, f"file:{into}", **still_options())
    converter.run(written, timeout_s=patience_s(recording))
