"""A sheet of a recording's pictures with their times, to read a moment off."""

from collections.abc import Sequence
from pathlib import Path

import ffmpeg

from recapgen.tools.media import converter
from recapgen.tools.media.editing import still_options
from recapgen.tools.media.recording import Recording

_PICTURE_HEIGHT = 300
_COLUMNS = 6
_PATIENCE_S = 300


def make_sheet(
    path: Path, recording: Recording, pictures: Sequence[int], font: Path, into: Path
) -> None:
    """Write the ``pictures`` (counted from 0, ascending) as one WebP. Raises ConversionError.

    Each carries its seconds from the first picture, as the notes count them.
    """
    rows = -(-len(pictures) // _COLUMNS)
    film = converter.source(path, from_s=None, order=0)[f"v:{recording.stream}"]
    sheet = (
        film.filter("setpts", f"PTS-{recording.first_s:.6f}/TB")
        .filter("select", "+".join(f"eq(n,{number})" for number in pictures))
        .filter("scale", -2, _PICTURE_HEIGHT)
        .filter("format", "yuv420p")
        .filter(
            "drawtext",
            text="%{pts:flt}",
            fontfile=str(font),
            fontsize=22,
            fontcolor="white",
            box=1,
            boxcolor="black@0.7",
            boxborderw=5,
            x=6,
            y=6,
        )
        .filter("tile", f"{_COLUMNS}x{rows}", padding=4, color="white")
    )
    converter.run(ffmpeg.output(sheet, f"file:{into}", **still_options()), _PATIENCE_S)
