"""Tiny clips as phones make them, each picture carrying its own number.

A picture is 270 x 480: coloured corners (red top left, green top right, blue bottom left)
tell which way up it is; twelve cells in the middle are its number in black and white, the
highest place first; the band below holds a grey and a white field.
"""

import subprocess
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import numpy.typing as npt
from scipy.io import wavfile
from scipy.signal import resample_poly

from recapgen.tools.media.converter import program

Picture = npt.NDArray[np.uint8]

WIDTH, HEIGHT = 270, 480
PLACES = 12
SECRETS = {
    "location": "+51.4769-000.0005/",
    "comment": "PLANTED-COMMENT left shoulder",
    "title": "PLANTED-TITLE",
    "artist": "PLANTED-NAME",
    "com.example.device": "PLANTED-DEVICE",
    "creation_time": "2031-02-03T04:05:06Z",
    "timecode": "01:02:03:04",
}
_ROWS, _COLUMNS = 4, 3


def picture(number: int) -> Picture:
    """(480, 270, 3) RGB."""
    drawn = np.full((HEIGHT, WIDTH, 3), 90, np.uint8)
    drawn[:60, :60] = (220, 30, 30)
    drawn[:60, -60:] = (30, 200, 30)
    drawn[-60:, :60] = (30, 30, 220)
    for place in range(PLACES):
        row, column = divmod(place, _COLUMNS)
        lit = number >> (PLACES - 1 - place) & 1
        y, x = 80 + row * 60, 30 + column * 70
        drawn[y : y + 60, x : x + 70] = 235 if lit else 20
    drawn[340:400, 30:135] = 128
    drawn[340:400, 135:240] = 235
    return drawn


def number_in(shown: Picture) -> int:
    """The number in a decoded picture of any size with this shape, (h, w, 3) or (h, w)."""
    grey = shown.mean(axis=2) if shown.ndim == 3 else shown.astype(np.float64)
    height, width = grey.shape
    number = 0
    for place in range(PLACES):
        row, column = divmod(place, _COLUMNS)
        y, x = (80 + row * 60 + 30) * height / HEIGHT, (30 + column * 70 + 35) * width / WIDTH
        patch = grey[round(y) - 3 : round(y) + 4, round(x) - 3 : round(x) + 4]
        number = number << 1 | int(patch.mean() > 110)
    return number


def strike_sound(length_s: float, heard_s: float, loudness: float = 0.5) -> npt.NDArray[np.float32]:
    """Quiet noise with one click: 48 kHz mono."""
    rate = 48_000
    dice = np.random.default_rng(7)
    sound = dice.normal(0, 0.002, round(length_s * rate))
    since = np.arange(round(0.03 * rate)) / rate
    click = dice.normal(0, 1, len(since)) * np.exp(-since / 0.004) * loudness
    start = round(heard_s * rate)
    sound[start : start + len(click)] += click[: len(sound) - start]
    return np.clip(sound, -1, 1).astype(np.float32)


def film(
    path: Path,
    numbers: Sequence[int],
    *options: str,
    rate: str = "60",
    before: Sequence[str] = (),
    sound: npt.NDArray[np.float32] | None = None,
    turned: int = 0,
) -> Path:
    """Write a clip of the numbered pictures; ``turned`` quarter turns to the left beforehand."""
    pictures = np.stack([np.rot90(picture(n), turned) for n in numbers])
    height, width = pictures.shape[1:3]
    heard = []
    if sound is not None:
        wav = path.with_suffix(".wav")
        wavfile.write(wav, 48_000, sound)
        heard = ["-i", str(wav), "-c:a", "aac"]
    ffmpeg(
        *("-f", "rawvideo", "-pix_fmt", "rgb24", "-s", f"{width}x{height}", "-r", rate),
        *before,
        *("-i", "-", *heard, "-c:v", "libx264", "-preset", "ultrafast", "-crf", "12"),
        *("-pix_fmt", "yuv420p", *options, str(path)),
        fed=pictures.tobytes(),
    )
    return path


def hole_in(path: Path, begins: float, ends: float) -> None:
    """Every 37th byte of the pictures turned over, between two shares of them."""
    content = bytearray(path.read_bytes())
    pictures = content.index(b"mdat")
    length = int.from_bytes(content[pictures - 4 : pictures])
    for at in range(pictures + int(length * begins), pictures + int(length * ends), 37):
        content[at] ^= 0x55
    path.write_bytes(content)


def odd_unit_in(path: Path, unit: bytes) -> None:
    """A unit put in before the middle picture of an H.264 or HEVC film without B pictures."""
    kind = "hevc" if path.suffix == ".mov" else "h264"
    bare = path.with_suffix(f".{kind}")
    ffmpeg("-i", str(path), "-c", "copy", "-bsf:v", f"{kind}_mp4toannexb", "-f", kind, str(bare))
    start = b"\0\0\0\1"
    units = [
        start + one for one in bare.read_bytes().replace(b"\0" + start, start).split(start)[1:]
    ]
    units.insert(len(units) // 2, start + unit)
    bare.write_bytes(b"".join(units))
    named = ("-tag:v", "hvc1") if kind == "hevc" else ()
    ffmpeg("-r", "60", "-f", kind, "-i", str(bare), "-c", "copy", *named, str(path))
    bare.unlink()


def without_edit_lists(path: Path) -> None:
    """As recorders write it that say nothing of the sound encoder's own first samples."""
    content = path.read_bytes()
    assert b"edts" in content
    path.write_bytes(content.replace(b"edts", b"free"))


def ball_film(path: Path, gone_at: int, times: int = 1) -> Path:
    """72 pictures of grey: a ball lies low in the middle until ``gone_at``, a bar sweeps past.

    Each is shown ``times`` times in a row, as a phone slows a film when it saves it.
    """
    pictures = np.full((72, HEIGHT, WIDTH), 90, np.uint8)
    rows, columns = np.ogrid[:HEIGHT, :WIDTH]
    ball = (rows - 0.8 * HEIGHT) ** 2 + (columns - 0.5 * WIDTH) ** 2 < 6**2
    for n, shown in enumerate(pictures):
        place = round(140 + 100 * np.tanh((n - gone_at) / 7))
        shown[place - 20 : place + 20, 40:230] = 200
        if n < gone_at:
            shown[ball] = 245
    slowed = np.repeat(pictures, times, axis=0)
    ffmpeg(
        *("-f", "rawvideo", "-pix_fmt", "gray", "-s", f"{WIDTH}x{HEIGHT}", "-r", "60", "-i", "-"),
        *("-c:v", "libx264", "-preset", "ultrafast", "-crf", "12", "-pix_fmt", "yuv420p"),
        str(path),
        fed=slowed.tobytes(),
    )
    return path


def swing_film(
    path: Path, struck_s: Sequence[float], loudness: float = 0.5, times: int = 1
) -> Path:
    """A bar sweeps past and a strike is heard at each moment of life, 0.9 s to spare at the end.

    With its sound ``times`` slower than life, as a phone may save it.
    """
    length_s = struck_s[-1] + 0.9
    at = np.arange(0, length_s * times, 1 / 60) / times
    sway = sum(np.tanh((at - moment) / 0.15) * (-1) ** n for n, moment in enumerate(struck_s))
    places = np.round(WIDTH / 2 + 90 * np.asarray(sway) - 90 * (1 - len(struck_s) % 2)).astype(int)
    columns = np.arange(WIDTH)
    row = np.where(np.abs(columns[None] - places[:, None]) < 15, 200, 90).astype(np.uint8)
    pictures = np.repeat(row[:, None, :], HEIGHT, axis=1)
    heard = np.sum(
        [strike_sound(length_s, moment + 4 / 343, loudness) for moment in struck_s], axis=0
    )
    slowed = resample_poly(heard, times, 1)
    wav = path.with_suffix(".wav")
    wavfile.write(wav, 48_000, np.clip(slowed, -1, 1).astype(np.float32))
    ffmpeg(
        *("-f", "rawvideo", "-pix_fmt", "gray", "-s", f"{WIDTH}x{HEIGHT}", "-r", "60", "-i", "-"),
        *("-i", str(wav), "-c:a", "aac", "-b:a", "128k"),
        *("-c:v", "libx264", "-preset", "ultrafast", "-crf", "18", "-pix_fmt", "yuv420p"),
        str(path),
        fed=pictures.tobytes(),
    )
    return path


def ffmpeg(*arguments: str, fed: bytes = b"") -> None:
    command = [program(), "-v", "error", "-y", *arguments]
    done = subprocess.run(command, input=fed, capture_output=True, check=False)
    assert done.returncode == 0, done.stderr.decode()
