"""A recording as it was filmed, without its sound and all that is hidden in it."""

from pathlib import Path

import av
import ffmpeg

from recapgen.tools.apart import LostError, apart
from recapgen.tools.media import converter
from recapgen.tools.media.boxes import blank_all_but_parameters
from recapgen.tools.media.editing import (
    even_size,
    frames_in,
    in_plain_colours,
    nothing_private,
    patience_s,
)
from recapgen.tools.media.limits import to_look_s
from recapgen.tools.media.recording import Recording, opened

RECIPE = "picture units alone, or h264 medium crf16; 1"
"""Changes whenever anything in this file changes what comes out."""

# The units that are pictures or needed for them; whatever else a phone writes in between is left.
_PICTURE_UNITS = {"h264": "1-5|7-9", "hevc": "0-9|16-21|32-35"}
_FAITHFUL = {"vcodec": "libx264", "preset": "medium", "crf": 16, "pix_fmt": "yuv420p", "threads": 2}


def strip(path: Path, recording: Recording, into: Path) -> None:
    """Write the pictures of ``path`` as MP4, untouched where that can be. Raises ConversionError.

    They are encoded anew, close to the eye's limit, where the file is of another kind, or holds
    pictures that were trimmed away and would come along.
    """
    if recording.codec in _PICTURE_UNITS and not _is_trimmed(path, recording):
        try:
            _copy(path, recording, into)
        except converter.ConversionError:
            into.unlink(missing_ok=True)
        else:
            if frames_in(into) == len(recording.times_s):
                return
    _encode(path, recording, into)
    if frames_in(into) != len(recording.times_s):
        raise converter.ConversionError("not every picture was written")


def _is_trimmed(path: Path, recording: Recording) -> bool:
    try:
        return apart(trimmed, path, recording, seconds=to_look_s(path))
    except LostError:
        return True


def trimmed(path: Path, recording: Recording) -> bool:
    """Does the file hold pictures that it says are not to be shown?"""
    try:
        with opened(path) as container:
            film = container.streams.video[recording.stream]
            return any(packet.is_discard for packet in container.demux(film))
    except av.FFmpegError:
        return True


def _copy(path: Path, recording: Recording, into: Path) -> None:
    source = converter.source(path, from_s=None, order=0)
    units = f"filter_units=pass_types={_PICTURE_UNITS[recording.codec]}"
    named = {"tag:v": "hvc1"} if recording.codec == "hevc" else {}
    copied = ffmpeg.output(
        source[f"v:{recording.stream}"],
        f"file:{into}",
        **{"c:v": "copy", "bsf:v": units, **named, **_plain_file()},
    )
    converter.run(copied, patience_s(recording))
    if recording.codec == "hevc":
        try:
            blank_all_but_parameters(into)
        except IndexError as broken:
            raise converter.ConversionError("its index ends early") from broken


def _encode(path: Path, recording: Recording, into: Path) -> None:
    source = converter.source(path, from_s=None, order=0)
    size = even_size(recording)
    pictures = in_plain_colours(source[f"v:{recording.stream}"], recording, *size)
    units = {"bsf:v": f"filter_units=pass_types={_PICTURE_UNITS['h264']}"}
    encoded = ffmpeg.output(
        pictures.filter("setsar", 1),
        f"file:{into}",
        **{**_FAITHFUL, "fps_mode": "passthrough", **units, **_plain_file()},
    )
    converter.run(encoded, patience_s(recording))


def _plain_file() -> dict[str, object]:
    return {
        "movflags": "+faststart",
        "write_tmcd": 0,
        "avoid_negative_ts": "make_zero",
        **nothing_private(),
    }
