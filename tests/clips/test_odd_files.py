"""Clips of odd shapes and damaged in ten ways, as the command line takes them."""

from collections.abc import Callable
from pathlib import Path

import pytest

from recapgen.tools.media.recording import Recording, look
from tests.clips.film_making import pictures
from tests.clips.phone_clips import ffmpeg, film, hole_in, number_in, strike_sound
from tests.end_to_end.small_lessons import TODAY, add_student, recapgen

pytestmark = pytest.mark.ffmpeg

IMPACT_S = 0.6
LINE = "- {file: %s, view: face on, block: after, impact: 0.6}"


def lay_out(root: Path, name: str, make: Callable[[Path], object]) -> None:
    """One lesson with one clip, its strike told."""
    lesson = add_student(root, "Brida")
    (root / "coach.yml").write_text("coach: Ada Quill\n", encoding="utf-8")
    make(lesson / name)
    notes = lesson / "notes.md"
    head = notes.read_text(encoding="utf-8").removeprefix("---\n")
    notes.write_text(f"---\nclips:\n  {LINE % name}\n{head}", encoding="utf-8")


def sized(width: int, height: int) -> Callable[[Path], Path]:
    """Odd sizes need colour for each pixel, as some screens are recorded."""
    return lambda path: film(
        path, range(72), "-vf", f"scale={width}:{height}", "-pix_fmt", "yuv444p"
    )


def tracks(path: Path) -> None:
    """Two of pictures, the second turned about, and two of sound, the first of them silent."""
    heard = strike_sound(1.2, IMPACT_S)
    spare = film(path.with_name("spare.mkv"), range(72), sound=heard)
    ffmpeg(
        *("-i", str(spare), "-f", "lavfi", "-t", "1.2", "-i", "anullsrc=r=48000:cl=mono"),
        *("-filter_complex", "[0:v]split[a][b];[b]hflip,scale=90:160[c]", "-map", "[a]"),
        *("-map", "[c]", "-map", "1:a", "-map", "0:a", "-c:v", "libx264", "-crf", "12"),
        *("-pix_fmt", "yuv420p", "-c:a", "aac", str(path)),
    )
    spare.unlink()
    spare.with_suffix(".wav").unlink()


@pytest.mark.parametrize(
    ("name", "make"),
    [
        ("odd.mp4", sized(271, 479)),
        pytest.param("odd.mkv", sized(271, 480), marks=pytest.mark.campaign),
        pytest.param("wide.mov", sized(481, 271), marks=pytest.mark.campaign),
        pytest.param("tracks.mp4", tracks, marks=pytest.mark.campaign),
        pytest.param("tracks.mkv", tracks, marks=pytest.mark.campaign),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_an_odd_clip_is_shown_with_every_picture_in_its_place(
    name: str, make: Callable[[Path], object], tmp_path: Path
) -> None:
    root, out = tmp_path / "lessons", tmp_path / "out"
    lay_out(root, name, make)
    ran = recapgen("build", root, "--out", out, "--today", TODAY)
    assert ran.code == 0, ran.err
    assert name not in ran.err
    (made,) = (out / "site").glob("*/films/*.mp4")
    assert isinstance(look(made), Recording)
    numbers = [number_in(shown) for shown in pictures(made)]
    assert numbers == list(range(numbers[0], numbers[0] + len(numbers)))
    assert round(60 * IMPACT_S) in numbers


def damaged(change: Callable[[bytearray], object], *options: str) -> Callable[[Path], None]:
    def make(path: Path) -> None:
        content = bytearray(film(path, range(72), *options).read_bytes())
        change(content)
        path.write_bytes(content)

    return make


def zero(content: bytearray, box: bytes, at: int, length: int) -> None:
    start = content.index(box) + at
    content[start : start + length] = bytes(length)


def blank(content: bytearray, box: bytes) -> None:
    at = content.index(box)
    content[at : at + 4] = b"free"


FRONT = ("-movflags", "+faststart")
DAMAGED: dict[str, tuple[Callable[[Path], object], str]] = {
    "nothing in it": (lambda path: path.write_bytes(b""), "clip-empty"),
    "only zeros": (lambda path: path.write_bytes(bytes(5000)), "clip-not-a-video"),
    "its end missing": (
        damaged(lambda c: c.__delitem__(slice(len(c) * 2 // 3, None)), *FRONT), "clip-cut-off"),
    "its index missing": (
        damaged(lambda c: c.__delitem__(slice(len(c) // 2, None))), "clip-cut-off"),
    "its beginning missing": (damaged(lambda c: c.__delitem__(slice(0, 64))), "clip-not-a-video"),
    "its index renamed": (damaged(lambda c: blank(c, b"moov")), ""),
    "its list of times gone": (damaged(lambda c: zero(c, b"stts", 4, 16)), "clip-few-pictures"),
    "its list of sizes gone": (damaged(lambda c: zero(c, b"stsz", 4, 200)), "clip-cut-off"),
    "its key gone": (damaged(lambda c: zero(c, b"avcC", 4, 30)), "clip-undecodable"),
    "a hole at the strike": (
        lambda path: hole_in(film(path, range(72), "-g", "20"), 0.4, 0.6), "clip-broken"),
}  # fmt: skip


@pytest.mark.campaign
@pytest.mark.parametrize("how", DAMAGED)
def test_a_damaged_clip_costs_at_most_itself_and_its_coach_is_told(
    how: str, tmp_path: Path
) -> None:
    make, code = DAMAGED[how]
    lay_out(tmp_path, "swing.mp4", make)
    ran = recapgen("check", tmp_path, "--today", TODAY)
    print(how, ran.code, ran.err)  # noqa: T201 - the campaign's table
    assert "Traceback" not in ran.out + ran.err
    assert f"[{code}]" in ran.err if code else "swing.mp4" not in ran.err
