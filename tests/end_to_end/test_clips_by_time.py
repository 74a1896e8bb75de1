"""Clips dropped as the phone named them find their shots by their times, which stay at home."""

import json
import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from tests.clips.phone_clips import film
from tests.end_to_end.small_lessons import AFTER, BEFORE, Ran, recapgen, sites, tree

pytestmark = pytest.mark.ffmpeg

Build = Callable[..., Ran]
BEGAN = datetime(2027, 4, 11, 10, 0, 0)  # noqa: DTZ001  as a device writes it, without a zone
PAUSES_S = (0, 31, 24, 37, 26, 33, 19, 44, 26, 23, 377, 28, 33, 21, 38, 23, 38, 29, 22, 34)
ZONE_AND_SLOW = timedelta(hours=-2, seconds=37)  # the phone writes UTC, and runs ahead


def _at() -> list[datetime]:
    return [BEGAN + timedelta(seconds=sum(PAUSES_S[: n + 1])) for n in range(len(PAUSES_S))]


def _drop(lesson: Path, shots: dict[str, int], late: timedelta = timedelta()) -> list[str]:
    """A table with times and a clip of each of ``shots``; the times that the clips tell."""
    rows = ["Shot,Phase,Time,Club Path [deg; + right]"]
    values = [*(("before", v) for v in BEFORE), *(("after", v) for v in AFTER)]
    for n, ((block, value), at) in enumerate(zip(values, _at(), strict=True), 1):
        rows.append(f"{n},{block},{at.isoformat(sep=' ')},{value}")
    (lesson / "shots.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    told = []
    for name, shot in shots.items():
        made = (_at()[shot - 1] + ZONE_AND_SLOW + late).replace(tzinfo=UTC)
        told.append(made.strftime("%Y-%m-%dT%H:%M:%S"))
        film(
            lesson / name,
            range(shot, shot + 40),
            *("-metadata", f"creation_time={told[-1]}Z", "-vf", "scale=90:160"),
            rate="30",
        )
    return told


def test_a_gallery_of_clips_shows_the_right_shots_and_no_time_is_published(
    lessons: Path, build: Build, out: Path
) -> None:
    lesson = lessons / "brida-folder/2027-04-11"
    shots = {"IMG_0410.mov": 2, "IMG_0411.mov": 5, "IMG_0412.mov": 9, "IMG_0413.mov": 14,
             "IMG_0414.mov": 17}  # fmt: skip
    told = _drop(lesson, shots)
    ran = build()
    assert ran.code == 0, ran.err
    assert "[clip-shot-open]" not in ran.err
    site = sites(out)["Brida"]
    page = next(site.glob("2027-04-11-*.html")).read_text(encoding="utf-8")
    assert "data-film" in page
    record = out / "coach_book/data/brida-folder/2027-04-11.json"
    ((then, now),) = [
        film["sides"] for film in json.loads(record.read_text(encoding="utf-8"))["clips"]
    ]
    assert (then["block"], now["block"]) == ("before", "after")
    assert then["shot"] == shots[then["file"]]
    assert now["shot"] == shots[now["file"]]
    clocks = [each.split("T")[1].encode() for each in told]
    for path, content in tree(out / "site").items():
        assert not [c for c in clocks if c in content], path
        assert b"IMG_04" not in content, path


def test_two_clips_find_their_blocks_and_their_names_are_no_fault(lessons: Path) -> None:
    lesson = lessons / "brida-folder/2027-04-11"
    _drop(lesson, {"IMG_0410.mov": 4, "IMG_0413.mov": 14})
    ran = recapgen("check", lessons)
    assert ran.code == 0
    assert set(re.findall(r"\[(clip-[a-z-]+)\]", ran.err)) == {"clip-impact-guessed-unlisted"}


def test_a_clip_that_was_filmed_in_the_pause_is_asked_for_with_lines_to_paste(
    lessons: Path,
) -> None:
    lesson = lessons / "brida-folder/2027-04-11"
    _drop(lesson, {"IMG_0410.mov": 10}, late=timedelta(minutes=3))
    ran = recapgen("check", lessons)
    assert ran.code == 0
    assert "[clip-shot-open]" in ran.err
    assert "don't settle it: IMG_0410.mov" in ran.err
    for block in ("before", "after"):
        assert f"- {{file: IMG_0410.mov, block: {block}}}\n" in ran.err
