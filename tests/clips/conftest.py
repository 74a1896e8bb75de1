from collections.abc import Callable
from pathlib import Path

import pytest

from recapgen.model.lesson import ClipFile
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache
from tests.clips.phone_clips import (
    HEIGHT,
    SECRETS,
    WIDTH,
    ffmpeg,
    film,
    hole_in,
    picture,
    strike_sound,
)

Clip = Callable[[str, float | None], ClipFile]


@pytest.fixture(scope="session")
def recordings(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of clips, each of 1.2 s unless its name says otherwise."""
    made = tmp_path_factory.mktemp("recordings")
    sixty = range(72)
    plain = film(made / "plain.mp4", sixty)
    film(made / "stored_sideways.mp4", sixty, turned=1)
    ffmpeg(
        *("-display_rotation", "-90", "-i", str(made / "stored_sideways.mp4")),
        *("-c", "copy", str(made / "rotated.mov")),
    )
    mirrored = made / "mirrored.mov"
    ffmpeg("-display_hflip", "-i", str(plain), "-c", "copy", str(mirrored))
    film(
        made / "hevc.mov", sixty, "-c:v", "libx265", "-tag:v", "hvc1", "-x265-params", "log-level=0"
    )
    film(made / "fast.mov", range(144), rate="120")
    film(made / "slow.mp4", range(36), rate="30")
    film(made / "coarse_clock.avi", range(36), "-c:v", "mpeg4", "-q:v", "2", rate="30")
    film(made / "web.webm", range(36), "-c:v", "libvpx-vp9", "-deadline", "realtime", rate="30")
    # every third picture missing, as in poor light: times 0, 1, 3, 4, 6, 7 ... sixtieths
    kept = "select=not(eq(mod(n\\,3)\\,2))"
    film(made / "uneven.mov", range(72), "-vf", kept, "-fps_mode", "vfr", "-bf", "2")
    film(made / "with_sound.mov", sixty, sound=strike_sound(1.5, 0.7))
    ffmpeg(
        *("-itsoffset", "0.35", "-i", str(plain), "-i", str(made / "with_sound.wav")),
        *("-map", "0:v", "-map", "1:a", "-c:v", "copy", "-c:a", "aac", str(made / "late.mov")),
    )
    secrets = [part for k, v in SECRETS.items() for part in ("-metadata", f"{k}={v}")]
    film(
        made / "telltale.mov",
        sixty,
        *secrets,
        *("-metadata:s:v", "handler_name=PLANTED-HANDLER"),
        *("-movflags", "use_metadata_tags"),
        sound=strike_sound(1.2, 0.8),
    )
    _hdr(made / "hlg.mov", "arib-std-b67")
    _hdr(made / "pq.mov", "smpte2084")
    film(made / "full_range.mp4", sixty, "-vf", "scale=out_range=pc", "-color_range", "pc")
    film(made / "narrow_pixels.mp4", sixty, "-vf", "scale=360:480,setsar=3/4")
    film(made / "landscape.mp4", sixty, "-vf", "scale=480:270")
    _broken(made, plain)
    return made


def _hdr(path: Path, curve: str) -> None:
    """10-bit HDR as phones tag it: the pictures' code values are taken as the signal."""
    ffmpeg(
        *("-f", "rawvideo", "-pix_fmt", "rgb24", "-s", f"{WIDTH}x{HEIGHT}", "-r", "60", "-i", "-"),
        "-vf",
        "scale=out_color_matrix=bt2020:out_range=tv,format=yuv420p10le,"
        f"setparams=color_primaries=bt2020:color_trc={curve}:colorspace=bt2020nc",
        *("-c:v", "libx265", "-preset", "ultrafast", "-crf", "12", "-tag:v", "hvc1"),
        *("-x265-params", "log-level=0", str(path)),
        fed=b"".join(picture(n).tobytes() for n in range(72)),
    )


def _broken(made: Path, plain: Path) -> None:
    whole = plain.read_bytes()
    (made / "empty.mp4").write_bytes(b"")
    (made / "text.mov").write_text("shot,carry\n1,140\n", encoding="utf-8")
    (made / "photo.mp4").write_bytes(b"\xff\xd8\xff\xe0" + bytes(200))
    (made / "no_index.mp4").write_bytes(whole[: len(whole) * 2 // 3])
    _cut_short(made / "cut_short.mp4", plain)
    playlist = "#EXTM3U\n#EXTINF:1,\nplain.mp4\n#EXT-X-ENDLIST\n"
    (made / "playlist.mp4").write_text(playlist, encoding="utf-8")
    ffmpeg("-i", str(made / "late.mov"), "-vn", "-c", "copy", str(made / "sound_only.mov"))
    film(made / "blink.mp4", range(3))
    film(made / "endless.mp4", range(62), rate="1")
    protected = whole.replace(b"avc1", b"encv")  # how a shop's films are stored
    assert len(protected) == len(whole)
    (made / "protected.mp4").write_bytes(protected)
    hole_in(film(made / "holed.mp4", range(120), "-g", "20"), 0.3, 0.4)
    hole_in(film(made / "frayed.mov", range(120), "-c:v", "libx265", "-tag:v", "hvc1",
                 "-x265-params", "log-level=0:keyint=20"), 0.3, 0.4)  # fmt: skip
    heard = strike_sound(62, 41.3)
    film(made / "untrimmed.mov", range(62), rate="1", sound=heard)


def _cut_short(path: Path, plain: Path) -> None:
    """The index is in front and promises 72 pictures; the last third of the file is missing."""
    ffmpeg("-i", str(plain), "-c", "copy", "-movflags", "+faststart", str(path))
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) * 2 // 3])


@pytest.fixture
def cache(tmp_path: Path) -> Cache:
    return Cache(tmp_path / "cache")


@pytest.fixture
def clip(recordings: Path) -> Clip:
    """A clip listed on line 9 of the notes; ``impact_s`` as the notes would give it."""

    def listed(name: str, impact_s: float | None = None) -> ClipFile:
        line = SourceRef("mia/2031-02-03/notes.md", 9, 3)
        return ClipFile(recordings / name, line, None, None, None, impact_s, line)

    return listed
