"""Recordings of other people's, of anything but golf, dropped into a lesson.

``make recordings`` puts them beside the tests' own packages; none is kept with the code.
"""

import json
import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.end_to_end.small_lessons import TODAY, add_student, recapgen

pytestmark = [pytest.mark.campaign, pytest.mark.ffmpeg]

FOLDER = Path(sys.prefix) / "recordings"
ENDINGS = (".mp4", ".avi", ".mpg", ".ogv", ".mov", ".mkv", ".webm")
RECORDINGS = sorted(file for file in FOLDER.rglob("*") if file.suffix in ENDINGS)
FEWEST = 15
HOW = "- {file: %s, view: face on, block: after, impact: 0.6}"


def as_dropped(lesson: Path, recording: Path) -> str:
    """By its name alone: the coach is asked, or the strike is believed."""
    name = f"face on after{recording.suffix}"
    shutil.copy(recording, lesson / name)
    return name


def as_listed(lesson: Path, recording: Path) -> str:
    """With everything said that can be said."""
    name = f"recording{recording.suffix}"
    shutil.copy(recording, lesson / name)
    notes = lesson / "notes.md"
    head = notes.read_text(encoding="utf-8").removeprefix("---\n")
    notes.write_text(f"---\nclips:\n  {HOW % name}\n{head}", encoding="utf-8")
    return name


def test_there_are_enough_recordings() -> None:
    if not FOLDER.exists():
        pytest.skip("no recordings of other packages here: make recordings")
    assert len(RECORDINGS) >= FEWEST


@pytest.mark.parametrize("put", [as_dropped, as_listed])
@pytest.mark.parametrize("recording", RECORDINGS, ids=lambda path: path.name)
def test_a_recording_is_shown_or_its_coach_is_told(
    recording: Path, put: Callable[[Path, Path], str], tmp_path: Path
) -> None:
    root, out = tmp_path / "lessons", tmp_path / "out"
    lesson = add_student(root, "Brida")
    (root / "coach.yml").write_text("coach: Ada Quill\n", encoding="utf-8")
    name = put(lesson, recording)
    ran = recapgen("build", root, "--out", out, "--today", TODAY)
    assert ran.code == (1 if ": held back [" in ran.err else 0), ran.err
    assert "Traceback" not in ran.out + ran.err
    record = out / "coach_book/data/brida-folder/2027-04-11.json"
    films = json.loads(record.read_text(encoding="utf-8"))["clips"]
    shown = name in [side["file"] for film in films for side in film["sides"]]
    print(recording.name, put.__name__, "shown" if shown else "not shown", ran.err)  # noqa: T201 - the campaign's table
    assert shown or name in ran.err
    assert list((out / "site").glob("*/films/*.mp4")) or not shown
    assert list((out / "site").glob("*/2027-04-11-*.html")), "the lesson itself is not shown"
