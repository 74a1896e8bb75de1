"""A number that only the clips hold: from drawn swings to the verdict on the page."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter

from tests.clips.phone_clips import ffmpeg
from tests.end_to_end.small_lessons import Ran, recapgen, sites

pytestmark = pytest.mark.ffmpeg

Build = Callable[..., Ran]
WIDTH, HEIGHT, COUNT = 180, 320, 66
SIZE, START, STRUCK = 48, (50, 90), 48  # of the drawn buckle, where it is, and impact's picture
MARK = [START[0] / WIDTH, START[1] / HEIGHT, SIZE / WIDTH, SIZE / HEIGHT]
THEN = {"a.mp4": 0.9, "b.mp4": 1.1, "c.mp4": 0.8}  # widths down by impact
NOW = {"d.mp4": 0.2, "e.mp4": 0.3, "f.mp4": 0.1}
NOTES = """---
intent: Carry the belt along a shelf
club: 9 iron
number: {number}
chosen: before the after-shots
want: less down
matters: 0.3 widths
clips:
{clips}
---
Well done.
"""


def _draw(path: Path, widths: float, *, hidden: bool = False) -> None:
    """A speckled buckle before a wall; ``hidden`` behind a bag from the middle on."""
    dice = np.random.default_rng(7)
    wall = 110 + 120 * gaussian_filter(dice.normal(size=(HEIGHT, WIDTH)), 5)
    buckle = np.clip(128 + 300 * gaussian_filter(dice.normal(size=(SIZE, SIZE)), 1.5), 20, 235)
    shown = []
    for n in range(COUNT):
        picture = wall.copy()
        column, row = START[0], START[1] + round(widths * SIZE * n / STRUCK)
        if not (hidden and n > STRUCK // 2):
            picture[row : row + SIZE, column : column + SIZE] = buckle
        shown.append(np.clip(picture + dice.normal(0, 2, picture.shape), 0, 255).astype(np.uint8))
    ffmpeg(
        *("-f", "rawvideo", "-pix_fmt", "gray", "-s", f"{WIDTH}x{HEIGHT}", "-r", "60", "-i", "-"),
        *("-c:v", "libx264", "-preset", "ultrafast", "-crf", "12", "-pix_fmt", "yuv420p"),
        str(path),
        fed=np.array(shown).tobytes(),
    )


def _line(name: str, block: str, view: str = "face on") -> str:
    mark = ", ".join(f"{share:.4f}" for share in MARK)
    told = f"file: {name}, view: {view}, block: {block}, impact: 0.8, at: {{start: 0}}"
    return f"  - {{{told}, mark: {{follow: [{mark}]}}}}"


@pytest.fixture
def lesson(lessons: Path) -> Path:
    """A lesson with six clips, three of each block, and no table of shots."""
    folder = lessons / "brida-folder/2027-04-11"
    (folder / "shots.csv").unlink()
    lines = [*(_line(name, "before") for name in THEN), *(_line(name, "after") for name in NOW)]
    notes = NOTES.format(number="travel up", clips="\n".join(lines))
    (folder / "notes.md").write_text(notes, encoding="utf-8")
    return folder


def _page(out: Path) -> str:
    page = next(sites(out)["Brida"].glob("2027-04-11-*.html")).read_text(encoding="utf-8")
    return re.sub(r"\s+", " ", page)


def test_the_travel_of_the_followed_patch_is_judged_like_any_number(
    lesson: Path, build: Build, out: Path
) -> None:
    for name, widths in (THEN | NOW).items():
        _draw(lesson / name, widths, hidden=name == "f.mp4")
    ran = build()
    assert ran.code == 0, ran.err
    page = _page(out)
    assert "We estimate it from the pictures." in page
    assert "widths down" in page
    record = json.loads((out / "coach_book/data/brida-folder/2027-04-11.json").read_text("utf-8"))
    number = record["number"]
    assert (number["name"], number["unit"]) == ("travel up", "widths")
    down = [-widths for widths in THEN.values()]
    assert number["before"]["values"] == pytest.approx(down, abs=0.1)
    assert number["after"]["values"] == pytest.approx([-0.2, -0.3], abs=0.1)
    assert record["verdict"] == "too early to tell"
    tally = record["shots"]
    assert (tally["read"], tally["used"], tally["not_read"]) == (6, 5, 1)
    (film,) = record["clips"]
    then, now = (side["shot"] for side in film["sides"])
    assert then == 1  # in the middle of the three
    assert now in (4, 5)  # never the one that could not be read


def test_without_a_patch_to_follow_there_is_no_such_number(lesson: Path) -> None:
    notes = lesson / "notes.md"
    text = notes.read_text("utf-8")
    notes.write_text(re.sub(r", mark: \{follow: \[.*?\]\}", "", text), "utf-8")
    for name in THEN | NOW:
        (lesson / name).touch()
    ran = recapgen("check", lesson.parents[1])
    assert "[number-not-followed]" in ran.err
    assert "[number-not-in-shots]" not in ran.err


def test_a_seal_takes_it_until_the_after_shots_are_filmed(lesson: Path) -> None:
    coming = lesson.with_name("2099-04-11")
    lesson.rename(coming)
    ran = recapgen("seal", coming)
    assert ran.code == 0, ran.err
    sealed = json.loads((coming / "seal.json").read_text("utf-8"))
    assert (sealed["number"], sealed["matters"]) == ("travel up", "0.3 widths")
    (coming / "seal.json").unlink()
    (coming / "d.mp4").touch()
    ran = recapgen("seal", coming)
    assert "[seal-too-late]" in ran.err
    assert not (coming / "seal.json").exists()
