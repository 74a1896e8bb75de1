"""The graph that makes a film: upright, SDR, one clock, nothing private, same bytes each time."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Protocol

import ffmpeg
from msgspec import Struct

from recapgen.tools.media import converter, hiding
from recapgen.tools.media.recording import Light, Recording, Unusable, look

_HAIR_S = 1.5e-3  # a picture may be this late for its frame: some clocks count milliseconds
_ENCODER_THREADS = 2  # part of the recipe: the number of threads shapes the bytes
_STILL_HEIGHT = 320
_HD_LINES = 720
_REFERENCE_WHITE_NITS = 203
_TAGS = {"colorspace": "bt709", "color_primaries": "bt709", "color_trc": "bt709"}

RECIPE = f"upright sdr h264 veryfast crf23 g12 no-deblock; webp 78; {hiding.RECIPE}; 6"
"""Changes whenever anything in this file or in hiding.py changes what comes out."""


class PaceLike(Protocol):
    """Between two moments, in seconds from the first picture, life was ``times`` as fast."""

    @property
    def times(self) -> float: ...
    @property
    def from_s(self) -> float: ...
    @property
    def to_s(self) -> float: ...
    def life_s(self, at_s: float, /) -> float: ...
    def clip_s(self, life_s: float, /) -> float: ...


class FilmCut(Struct, frozen=True):
    """One recording's place in a film.

    The picture taken at ``strike_s`` (one of the recording's times) is shown on the film's
    strike frame, as ``width`` x ``height`` (even numbers). ``pace`` tells how the recording runs
    against life. ``mirrored`` swaps left and right before all else. ``crop`` is (x, y, width,
    height) in shares of the upright picture; ``hidden`` are the tiles over those who are not to be
    recognised, in pixels of the cut. Of a damaged recording only the pictures from and to
    ``whole`` seconds are used.
    """

    path: Path
    recording: Recording
    strike_s: float
    width: int
    height: int
    pace: PaceLike
    crop: tuple[float, float, float, float] | None = None
    hidden: tuple[hiding.Tiles, ...] = ()
    mirrored: bool = False
    whole: tuple[float, float] | None = None


class Plan(Struct, frozen=True):
    """Cuts side by side, each centred in a cell of ``cell_width`` x ``height`` (even numbers).

    ``moments`` are for each cut the frames of its strip of stills, ascending; or nothing.
    """

    cuts: tuple[FilmCut, ...]
    fps: int
    frames: int
    strike_frame: int
    cell_width: int
    height: int
    moments: tuple[tuple[int, ...], ...] = ()


def make(plan: Plan, video: Path, poster: Path, strips: Sequence[Path]) -> str:
    """Write the film (MP4), its still at the strike and the strips (WebP) in one decode.

    Answers ffmpeg's complaint about the source, or "". Raises ConversionError.
    """
    cells = [_cell(cut, plan, order) for order, cut in enumerate(plan.cuts)]
    film = cells[0] if len(cells) == 1 else ffmpeg.filter(cells, "hstack", inputs=len(cells))
    strands = film.filter("setparams", range="tv", **_TAGS).filter_multi_output(
        "split", outputs=2 + len(plan.moments)
    )
    still = strands[1].filter("select", f"eq(n,{plan.strike_frame})")
    outputs = ffmpeg.merge_outputs(
        ffmpeg.output(strands[0], f"file:{video}", **_film_options(plan.fps)),
        ffmpeg.output(still, f"file:{poster}", **still_options()),
        *(
            ffmpeg.output(_strip(strands[2 + k], plan, k), f"file:{strip}", **still_options())
            for k, strip in enumerate(strips)
        ),
    )
    wait_s = sum(patience_s(cut.recording) for cut in plan.cuts)
    return converter.run(outputs, timeout_s=wait_s)


def _strip(film: Any, plan: Plan, side: int) -> Any:  # noqa: ANN401 - ffmpeg-python is untyped
    """One side's stills in a row, in the order of the swing."""
    frames = plan.moments[side]
    return (
        film.filter("select", "+".join(f"eq(n,{frame})" for frame in frames))
        .filter("crop", plan.cell_width, plan.height, side * plan.cell_width, 0)
        .filter("scale", -2, min(plan.height, _STILL_HEIGHT), flags="area+bitexact")
        .filter("tile", f"{len(frames)}x1")
    )


def complaint_about(cut: FilmCut) -> str:
    """What ffmpeg has to say about one source when it only reads it; "" if nothing."""
    source = converter.source(cut.path, from_s=None, order=0)
    reading = ffmpeg.output(source[f"v:{cut.recording.stream}"], "-", f="null")
    try:
        return converter.run(reading, timeout_s=patience_s(cut.recording))
    except converter.ConversionError as failure:
        return str(failure)


def patience_s(recording: Recording) -> float:
    return 120 + 20 * recording.length_s


def frames_in(video: Path) -> int:
    """How many pictures a finished film has; 0 where it cannot be read."""
    seen = look(video)
    return 0 if isinstance(seen, Unusable) else len(seen.times_s)


def _cell(cut: FilmCut, plan: Plan, order: int) -> Any:  # noqa: ANN401 - ffmpeg-python is untyped
    recording = cut.recording
    begins_s = cut.pace.life_s(cut.strike_s) - plan.strike_frame / plan.fps
    read_from_s = recording.read_from_s(cut.pace.clip_s(begins_s))
    source = converter.source(cut.path, from_s=read_from_s, order=order)
    pictures = source[f"v:{recording.stream}"]
    if cut.whole is not None:
        first_s, last_s = (recording.first_s + at_s for at_s in cut.whole)
        pictures = pictures.filter("trim", start=first_s - _HAIR_S, end=last_s + _HAIR_S)
    cell = _on_the_films_clock(pictures, cut, begins_s, plan)
    if cut.mirrored:
        cell = cell.filter("hflip")
    if cut.crop is not None:
        x, y, width, height = cut.crop
        cell = cell.filter("crop", f"iw*{width}", f"ih*{height}", f"iw*{x}", f"ih*{y}")
    cell = in_plain_colours(cell, recording, cut.width, cut.height)
    for tiles in cut.hidden:
        cell = hiding.hide(cell, tiles, plan.fps)
    if cut.width < plan.cell_width:
        cell = cell.filter("pad", plan.cell_width, plan.height, "(ow-iw)/2", 0, color="0x1d221f")
    return cell.filter("setsar", 1)


def _on_the_films_clock(pictures: Any, cut: FilmCut, begins_s: float, plan: Plan) -> Any:  # noqa: ANN401 - see above
    """Frame k shows the last picture taken no later than ``k / fps`` of life after ``begins_s``.

    Whatever the source's rate or gaps. Missing ends are stills of the first or last picture.
    """
    since_us = f"(PTS-({_us(cut.recording.first_s + _HAIR_S)}))"
    pace = cut.pace
    spared = 1 - 1 / pace.times
    from_us, to_us = _us(pace.from_s), _us(min(pace.to_s, cut.recording.length_s + 1))
    slowed_us = f"(clip({since_us},{from_us},{to_us})-{from_us})"
    life_us = f"{since_us}-{slowed_us}*{spared:.9f}" if spared else since_us
    return (
        pictures.filter("settb", "AVTB")
        .filter("setpts", f"{life_us}-({_us(begins_s)})")
        .filter("fps", fps=plan.fps, start_time=0, round="up")
        .filter("tpad", stop_mode="clone", stop=plan.frames)
        .filter("trim", end_frame=plan.frames)
        .filter("setpts", "PTS-STARTPTS")
    )


def _us(seconds: float) -> int:
    return round(seconds * 1e6)


def even_size(recording: Recording) -> tuple[int, int]:
    """Width and height as people see it, to the nearest even number of pixels below."""
    return max(2, recording.width // 2 * 2), max(2, recording.height // 2 * 2)


def _curve(light: Light) -> str | None:
    """What zscale calls the transfer curve; None where it is that of any screen."""
    match light:
        case Light.SDR:
            return None
        case Light.HLG:
            return "arib-std-b67"
        case Light.PQ:
            return "smpte2084"


def in_plain_colours(pictures: Any, recording: Recording, width: int, height: int) -> Any:  # noqa: ANN401 - see above
    """The pictures as any screen shows them, ``width`` x ``height``."""
    curve = _curve(recording.light)
    if curve is None:
        return pictures.filter(
            "scale",
            width,
            height,
            flags="bicubic+accurate_rnd+bitexact",
            in_color_matrix="auto" if recording.tagged_matrix else _usual_matrix(recording),
            out_color_matrix="bt709",
            out_range="tv",
        ).filter("format", "yuv420p")
    named = {} if recording.tagged_primaries else {"pin": "bt2020"}
    named |= {} if recording.tagged_matrix else {"min": "bt2020nc"}
    return (
        pictures.filter("zscale", w=width, h=height, f="bicubic", tin=curve, **named)
        .filter("zscale", t="linear", npl=_REFERENCE_WHITE_NITS)
        .filter("format", "gbrpf32le")
        .filter("zscale", p="bt709")
        .filter("tonemap", tonemap="mobius", param=0.6, desat=0)
        .filter("zscale", t="bt709", m="bt709", r="tv")
        .filter("format", "yuv420p")
    )


def _usual_matrix(recording: Recording) -> str:
    return "bt709" if min(recording.width, recording.height) >= _HD_LINES else "bt601"


def _film_options(fps: int) -> dict[str, object]:
    return {
        "vcodec": "libx264",
        "preset": "veryfast",
        "profile:v": "high",
        "crf": 23,
        "g": 12,
        "bf": 0,
        "sc_threshold": 0,
        "x264-params": "no-deblock=1",  # a phone seeks faster, and little is lost
        "pix_fmt": "yuv420p",
        "color_range": "tv",
        **_TAGS,
        "fps_mode": "cfr",
        "r": fps,
        "video_track_timescale": fps * 512,
        "movflags": "+faststart",
        "bsf:v": "filter_units=remove_types=6",  # x264 signs its settings there
        "threads": _ENCODER_THREADS,
        **nothing_private(),
    }


def still_options() -> dict[str, object]:
    return {
        "vcodec": "libwebp",
        "quality": 78,
        "compression_level": 4,
        "frames:v": 1,
        "update": 1,
        "threads": 1,
        **nothing_private(),
    }


def nothing_private() -> dict[str, object]:
    return {
        "an": None,
        "sn": None,
        "dn": None,
        "map_metadata": -1,
        "map_chapters": -1,
        "fflags": "+bitexact",
        "flags:v": "+bitexact",
    }
