"""What is in a recording: pictures, their times and colours, and whether it is whole."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from enum import StrEnum
from itertools import pairwise
from pathlib import Path

import av
from av.container import InputContainer
from av.stream import Disposition
from av.video.frame import VideoFrame
from av.video.stream import VideoStream
from msgspec import Struct
from msgspec.structs import replace

from recapgen.tools.media.boxes import MediaTrack, tracks

READER = f"av {av.__version__}"
"""What takes part in reading a recording."""

CONTAINERS = "mov,mp4,matroska,webm,avi,mpegts,mpeg,flv,asf,ogg,mxf"
"""What is opened at all: no playlists, no text formats, nothing that leads to other files."""

FEWEST_PICTURES = 5
MOST_PIXELS = 36_000_000  # 8K
MOST_PICTURES = 500_000  # half an hour at 240 a second
_PROMISED_SHARE = 0.97  # of the pictures in the index; fewer means the end is missing
_CLOCKS_SET_SINCE = 2000  # an unset clock says 1904 or 1970
_SAME_S = 1e-6  # two times this near are one
_RUN_UP_S = 0.5  # some files can only be sought by guessing

_LOCKED = ("encv", "drmi")  # how the samples of protected films are called
_AAC_PRIMING = 1024  # samples, of the encoders that write no edit list
_MOVIE_ATOMS = (b"ftyp", b"moov", b"mdat", b"wide", b"free", b"skip")
_STILL_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"mif1", b"msf1", b"avif")
_STILL_STARTS = (b"\xff\xd8\xff", b"\x89PNG", b"GIF8", b"BM", b"II*\0", b"MM\0*", b"\0\0\1\0")


class Flaw(StrEnum):
    """Why a file cannot be used as a clip."""

    EMPTY = "empty"
    PICTURE = "picture"
    NOT_VIDEO = "not video"
    CUT_OFF = "cut off"
    SOUND_ONLY = "sound only"
    FEW_PICTURES = "few pictures"
    UNDECODABLE = "undecodable"
    PROTECTED = "protected"
    TOO_LARGE = "too large"


class Unusable(Struct, frozen=True):
    """``detail`` is a count or a format's name where the flaw has one."""

    flaw: Flaw
    detail: str = ""


class Light(StrEnum):
    """How brightness was written down."""

    SDR = "sdr"
    HLG = "hlg"
    PQ = "pq"


class Recording(Struct, frozen=True):
    """A whole recording.

    ``stream`` counts among the video streams. ``width`` and ``height`` are as people see it:
    upright, square pixels. ``first_s`` is the first picture on the file's own clock;
    ``times_s`` are all pictures from there, ascending, the first one 0. ``fps`` is the usual
    rate, whatever single steps do. ``tagged_matrix`` and ``tagged_primaries`` tell whether the
    file names its colours. ``turned`` is how many quarter turns to the left bring a stored
    picture upright. ``recorded_at`` is when the phone says it was made, in seconds since 1970.
    ``primed_s`` is what the sound's encoder put before the first sample with nothing in the file
    to say so. ``keys_apart_s`` is the longest way from one picture that rests on no other to the
    next.
    """

    stream: int
    codec: str
    width: int
    height: int
    first_s: float
    times_s: tuple[float, ...]
    fps: float
    light: Light
    tagged_matrix: bool
    tagged_primaries: bool
    has_sound: bool
    turned: int = 0
    recorded_at: float | None = None
    primed_s: float = 0.0
    keys_apart_s: float = 0.0

    @property
    def length_s(self) -> float:
        return self.times_s[-1] + 1 / self.fps

    def nearest_picture_s(self, at_s: float) -> float:
        """The time of the picture nearest to ``at_s``, both from the first picture."""
        return min(self.times_s, key=lambda t: abs(t - at_s))

    def read_from_s(self, at_s: float) -> float | None:
        """Where on the file's own clock to begin to read, to have the picture at ``at_s``.

        None for the beginning. A file without an index is entered between two pictures
        that rest on no other, so the whole way from one to the next is read beforehand.
        """
        from_s = at_s - self.keys_apart_s - _RUN_UP_S
        return self.first_s + from_s if from_s > 0 else None


@contextmanager
def opened(path: Path) -> Iterator[InputContainer]:
    """The container, from local files of the known kinds only. Raises av.FFmpegError."""
    with av.open(
        f"file:{path}",
        metadata_errors="ignore",
        options={"format_whitelist": CONTAINERS, "protocol_whitelist": "file"},
    ) as container:
        yield container


def look(path: Path) -> Recording | Unusable:
    """Look into a file, down to every packet and one decoded picture. Raises OSError."""
    with path.open("rb") as file:
        start = file.read(64)
    if not start:
        return Unusable(Flaw.EMPTY)
    if start.startswith(_STILL_STARTS) or start[8:12] in (*_STILL_BRANDS, b"WEBP"):
        return Unusable(Flaw.PICTURE)
    inside = tracks(path) if start[4:8] in _MOVIE_ATOMS else ()
    if any(track.kind == "vide" and track.entry in _LOCKED for track in inside):
        return Unusable(Flaw.PROTECTED)
    try:
        with opened(path) as container:
            seen = _look_inside(path, container)
            if isinstance(seen, Recording):
                return replace(seen, primed_s=_primed_s(container, inside))
            return seen
    except av.FFmpegError:
        known = start[4:8] in _MOVIE_ATOMS
        return Unusable(Flaw.CUT_OFF if known else Flaw.NOT_VIDEO)


def moving_pictures(container: InputContainer) -> VideoStream | None:
    """The largest video stream that is not cover art."""
    films = [s for s in container.streams.video if _has_decoder(s)]
    films = [s for s in films if not s.disposition & Disposition.attached_pic]
    return max(films, key=lambda s: s.width * s.height, default=None)


def _has_decoder(film: VideoStream) -> bool:
    """False for a codec that ffmpeg does not know, whatever the type says."""
    return getattr(film, "codec_context", None) is not None


def _look_inside(path: Path, container: InputContainer) -> Recording | Unusable:
    film = moving_pictures(container)
    if film is None:
        return _without_film(container)
    if film.width * film.height > MOST_PIXELS:
        return Unusable(Flaw.TOO_LARGE, f"{film.width} x {film.height}")
    met = _packets_of(container, film)
    if (flaw := _flaw_in(met, film)) is not None:
        return flaw
    picture = _first_picture(path, list(container.streams.video).index(film))
    if picture is None:
        return Unusable(Flaw.UNDECODABLE, film.codec_context.name)
    return _described(container, film, met, picture)


def _without_film(container: InputContainer) -> Unusable:
    if not all(map(_has_decoder, container.streams.video)):
        return Unusable(Flaw.UNDECODABLE, "?")
    return Unusable(Flaw.SOUND_ONLY if container.streams.audio else Flaw.NOT_VIDEO)


class _StoredPackets(Struct, frozen=True):
    """What a film is stored as: the times shown, ascending, and those of its key pictures.

    ``packets`` are as many as were promised where nothing is missing; ``broke_off`` where
    reading could not go on.
    """

    times_s: list[float]
    keys_s: list[float]
    packets: int
    broke_off: bool


def _flaw_in(met: _StoredPackets, film: VideoStream) -> Unusable | None:
    if met.packets > MOST_PICTURES:
        return Unusable(Flaw.TOO_LARGE, f"{film.width} x {film.height} x {met.packets}")
    if met.broke_off or _ends_early(film, met):
        return Unusable(Flaw.CUT_OFF, f"{met.packets}/{film.frames}" if film.frames else "")
    if len(met.times_s) < FEWEST_PICTURES:
        return Unusable(Flaw.FEW_PICTURES, str(len(met.times_s)))
    return None


def _packets_of(container: InputContainer, film: VideoStream) -> _StoredPackets:
    times: list[float] = []
    keys: list[float] = []
    packets = 0
    broke_off = False
    try:
        for packet in container.demux(film):
            packets += packet.size > 0
            if packets > MOST_PICTURES:
                break
            if packet.pts is not None and not packet.is_discard:
                times.append(float(packet.pts * packet.time_base))
                if packet.is_keyframe:
                    keys.append(times[-1])
    except av.FFmpegError:
        broke_off = True
    return _StoredPackets(sorted(times), sorted(keys), packets, broke_off)


def _ends_early(film: VideoStream, met: _StoredPackets) -> bool:
    """Are there fewer pictures than promised, and none near the end?

    Old containers count pictures that were left out when it was recorded.
    """
    if met.packets >= film.frames * _PROMISED_SHARE:
        return False
    if not met.times_s or film.duration is None or film.time_base is None:
        return True
    promised_s = float(((film.start_time or 0) + film.duration * _PROMISED_SHARE) * film.time_base)
    return met.times_s[-1] < promised_s


def _first_picture(path: Path, stream: int) -> VideoFrame | None:
    """Read anew from the beginning: some files cannot be sought back to it."""
    try:
        with opened(path) as container:
            return next(iter(container.decode(container.streams.video[stream])), None)
    except av.FFmpegError:
        return None


def _described(
    container: InputContainer, film: VideoStream, met: _StoredPackets, picture: VideoFrame
) -> Recording:
    times = met.times_s
    first = times[0] if picture.pts is None else max(times[0], picture.time)
    shown = [t - first for t in times if t >= first - _SAME_S]
    keys = [times[0], *met.keys_s, times[-1]]
    steps = sorted(b - a for a, b in pairwise(shown) if b - a > _SAME_S)
    step = steps[len(steps) // 2] if steps else 1.0
    stretched = round(picture.width * _pixel_shape(film))
    upright = (picture.width and stretched, picture.height)
    if round(picture.rotation) % 180:
        upright = (upright[1], upright[0])
    return Recording(
        stream=list(container.streams.video).index(film),
        codec=film.codec_context.name,
        width=upright[0],
        height=upright[1],
        first_s=first,
        times_s=tuple(round(t, 6) for t in shown),
        fps=1 / step,
        light={16: Light.PQ, 18: Light.HLG}.get(int(picture.color_trc), Light.SDR),
        tagged_matrix=int(picture.colorspace) not in (0, 2),
        tagged_primaries=int(picture.color_primaries) not in (0, 2),
        has_sound=bool(container.streams.audio),
        turned=round(picture.rotation / 90) % 4,
        recorded_at=_recorded_at(container.metadata),
        keys_apart_s=round(max(b - a for a, b in pairwise(keys)), 6),
    )


def _recorded_at(told: Mapping[str, str]) -> float | None:
    """The phone's own time with its zone where there is one, else the container's in UTC."""
    for key in ("com.apple.quicktime.creationdate", "creation_time"):
        try:
            at = datetime.fromisoformat(told.get(key, ""))
        except ValueError:
            continue
        if at.year >= _CLOCKS_SET_SINCE:
            return (at if at.tzinfo else at.replace(tzinfo=UTC)).timestamp()
    return None


def _primed_s(container: InputContainer, inside: tuple[MediaTrack, ...]) -> float:
    """An MP4's AAC begins with the encoder's own samples; an edit list takes them off again."""
    sound = next(iter(container.streams.audio), None)
    track = next((track for track in inside if track.kind == "soun"), None)
    if sound is None or track is None or track.edited or "iTunSMPB" in container.metadata:
        return 0.0
    return _AAC_PRIMING / sound.rate if sound.codec_context.name == "aac" and sound.rate else 0.0


def _pixel_shape(film: VideoStream) -> float:
    shape = film.sample_aspect_ratio
    return float(shape) if shape else 1.0
