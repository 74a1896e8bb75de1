"""From drawn pictures to a phone's file, with the habits of phones: one quirk a clip."""

import subprocess
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import imageio_ffmpeg

from sample_making.draw_swing import Scene, SwingArtist
from sample_making.strike_sound import SOUND_TRAVEL_S, strike_sound, write_wav

WIDTH, HEIGHT = 540, 960
_H264 = ("-c:v", "libx264", "-preset", "slow", "-crf", "21", "-pix_fmt", "yuv420p")
_HEVC = ("-c:v", "libx265", "-preset", "medium", "-crf", "23", "-tag:v", "hvc1")
_CALM = ("-x265-params", "pools=none:frame-threads=1:log-level=error")
_TO_HLG = (
    "zscale=matrixin=gbr:transferin=iec61966-2-1:primariesin=bt709:rangein=full"
    ":matrix=gbr:primaries=bt709:transfer=linear:npl=203,format=gbrpf32le,"
    "zscale=primaries=bt2020:transfer=arib-std-b67:matrix=2020_ncl:range=limited:npl=203,"
    "format=yuv420p10le"
)
_TO_SDR = "scale=out_color_matrix=bt709:out_range=tv,format=yuv420p"
_SDR_TAGS = ("-color_primaries", "bt709", "-color_trc", "bt709", "-colorspace", "bt709")
_HLG_TAGS = ("-color_primaries", "bt2020", "-color_trc", "arib-std-b67", "-colorspace", "bt2020nc")


@dataclass(frozen=True, slots=True)
class Quirk:
    """A habit of phones.

    ``turned``: coded lying down with a flag; ``uneven``: pictures missing here and there;
    ``hidden_s``: so much before the first picture is in the file but trimmed by an edit list.
    """

    name: str
    hevc: bool = False
    ten_bit: bool = False
    turned: bool = False
    uneven: bool = False
    silent: bool = False
    hidden_s: float = 0.0
    tags: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class ClipPlan:
    """One clip; ``impact_s`` from the first picture shown."""

    file: str
    scene: Scene
    block: str
    shot: int | None
    quirk: Quirk
    seed: int
    fps: int = 60
    length_s: float = 2.4
    impact_s: float = 1.6
    indoors: bool = False


@dataclass(frozen=True, slots=True)
class ClipTruth:
    """What a detector should find: seconds from the first picture, None where not to be heard."""

    file: str
    view: str
    block: str
    shot: int | None
    hand: str
    quirk: str
    codec: str
    fps: int
    shown: tuple[int, int]
    length_s: float
    impact_s: float
    sound_s: float | None
    positions_s: dict[str, float] = field(default_factory=dict)


def truth_of(plan: ClipPlan) -> ClipTruth:
    """From the drawing alone: no clip is opened."""
    tempo = SwingArtist(plan.scene, (WIDTH // 10, HEIGHT // 10)).golfer.tempo
    positions = {
        name: round(plan.impact_s + tempo.moment(name), 3)
        for name in ("start", "half back", "top", "impact", "half through", "finish")
    }
    return ClipTruth(
        file=plan.file,
        view=plan.scene.view,
        block=plan.block,
        shot=plan.shot,
        hand="left" if plan.scene.left_handed else "right",
        quirk=plan.quirk.name,
        codec="hevc" if plan.quirk.hevc else "h264",
        fps=plan.fps,
        shown=(WIDTH, HEIGHT),
        length_s=plan.length_s,
        impact_s=round(plan.impact_s, 4),
        sound_s=None if plan.quirk.silent else round(plan.impact_s + SOUND_TRAVEL_S, 4),
        positions_s=positions,
    )


def film(plan: ClipPlan, into: Path) -> None:
    """Draw, record and encode one clip. Raises CalledProcessError if the encoder fails."""
    with tempfile.TemporaryDirectory() as spare:
        first = Path(spare) / f"first{into.suffix}"
        _encode(plan, first, Path(spare) / "strike.wav")
        into.parent.mkdir(parents=True, exist_ok=True)
        command = [imageio_ffmpeg.get_ffmpeg_exe(), "-nostdin", "-y", "-v", "error"]
        command += [*_before(plan.quirk), "-i", str(first), "-c", "copy", *_after(plan.quirk)]
        subprocess.run([*command, str(into)], check=True, timeout=60)


def _encode(plan: ClipPlan, into: Path, sound: Path) -> None:
    """The pictures go in through a pipe, standing or lying."""
    quirk = plan.quirk
    lead = plan.length_s + quirk.hidden_s
    impact = plan.impact_s + quirk.hidden_s
    size = f"{HEIGHT}x{WIDTH}" if quirk.turned else f"{WIDTH}x{HEIGHT}"
    command = [imageio_ffmpeg.get_ffmpeg_exe(), "-nostdin", "-y", "-v", "error"]
    command += ["-f", "rawvideo", "-pix_fmt", "rgb24", "-s", size, "-r", str(plan.fps), "-i", "-"]
    if not quirk.silent:
        write_wav(sound, strike_sound(lead, impact, plan.seed, indoors=plan.indoors))
        command += ["-i", str(sound), "-c:a", "aac", "-b:a", "64k"]
    filters = [_TO_HLG if quirk.ten_bit else _TO_SDR]
    if quirk.uneven:
        filters.insert(0, "select='gt(mod(n*29+7,13),1)'")
        command += ["-fps_mode", "vfr"]
    command += ["-vf", ",".join(filters), *_codec(quirk), "-threads", "1", str(into)]
    artist = SwingArtist(plan.scene, (WIDTH, HEIGHT))
    open_s = min(0.55 / plan.fps, 0.008)
    with subprocess.Popen(command, stdin=subprocess.PIPE) as encoder:
        if encoder.stdin is None:
            raise RuntimeError("the encoder has no ear")
        for count in range(round(lead * plan.fps)):
            picture = artist.picture(count / plan.fps - impact, open_s)
            standing = picture.rotate(90, expand=True) if quirk.turned else picture
            encoder.stdin.write(standing.tobytes())
    if encoder.returncode:
        raise subprocess.CalledProcessError(encoder.returncode, command)


def _codec(quirk: Quirk) -> Sequence[str]:
    if quirk.ten_bit:
        return (*_HEVC, *_CALM, "-profile:v", "main10", *_HLG_TAGS)
    return (*_HEVC, *_CALM, *_SDR_TAGS) if quirk.hevc else (*_H264, *_SDR_TAGS)


def _before(quirk: Quirk) -> Sequence[str]:
    """What a phone writes around the pictures: which way is up, where the trim begins."""
    turned = ("-display_rotation", "-90") if quirk.turned else ()
    trimmed = ("-ss", f"{quirk.hidden_s:.3f}") if quirk.hidden_s else ()
    return (*turned, *trimmed)


def _after(quirk: Quirk) -> Sequence[str]:
    tags = [part for key, value in quirk.tags for part in ("-metadata", f"{key}={value}")]
    if tags:
        return (*tags, "-movflags", "+faststart+use_metadata_tags")
    return ("-map_metadata", "-1", "-fflags", "+bitexact", "-movflags", "+faststart")
