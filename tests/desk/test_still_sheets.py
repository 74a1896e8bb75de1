"""The sheets of ``recapgen stills``: outside the site and the lessons, one for each clip."""

import shutil
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from recapgen.desk.still_sheets import FONT, lay_out_stills
from recapgen.model.problem import Code
from recapgen.tools.media.contact_sheet import make_sheet
from recapgen.tools.media.recording import Recording, look
from recapgen.tools.template_folder import template_folder
from tests.clips.phone_clips import ffmpeg, film, strike_sound
from tests.end_to_end.small_lessons import ROOT, recapgen

pytestmark = pytest.mark.ffmpeg


def test_a_sheet_for_each_clip_and_the_lessons_untouched(tmp_path: Path) -> None:
    lessons = tmp_path / "lessons"
    lesson = lessons / "jonas" / "2027-01-30"
    lesson.mkdir(parents=True)
    (lessons / "coach.yml").write_text("coach: Ines\n", encoding="utf-8")
    (lesson / "notes.md").write_text("---\n---\nWell done.\n", encoding="utf-8")
    source = ROOT / "sample_lessons" / "jonas" / "2027-01-30"
    shutil.copy(source / "lefty 8 line.mp4", lesson)
    (lesson / "empty.mp4").write_bytes(b"")
    before = sorted(lessons.rglob("*"))
    ran = recapgen("stills", lesson)
    sheet = tmp_path / "lessons_out" / "stills" / "jonas" / "2027-01-30" / "lefty 8 line.mp4.webp"
    assert str(sheet) in ran.out
    assert "clip-empty" in ran.err
    assert ran.code == 1
    with Image.open(sheet) as made:
        assert made.format == "WEBP"
        assert made.height > 1500
    assert sorted(lessons.rglob("*")) == before


def test_a_folder_that_is_no_lesson_is_said_to_be_none(tmp_path: Path) -> None:
    told = lay_out_stills(tmp_path / "nothing", None)
    assert told.value is None
    assert [p.code for p in told.problems] == [Code.LESSON_NOT_HERE]
    assert list(tmp_path.iterdir()) == []


def test_a_long_recording_is_laid_out_around_the_strike_that_is_heard(tmp_path: Path) -> None:
    lesson = tmp_path / "lessons" / "jonas" / "2027-01-30"
    lesson.mkdir(parents=True)
    (lesson / "notes.md").write_text("---\n---\nWell done.\n", encoding="utf-8")
    film(lesson / "whole hour.mov", range(62), rate="1", sound=strike_sound(62, 41.3))
    (lesson / "whole hour.wav").unlink()
    made = lay_out_stills(lesson, tmp_path / "out")
    assert made.problems == ()
    assert made.value is not None
    (sheet,) = made.value
    with Image.open(sheet) as laid:
        assert laid.height > 1200  # 12 all along and 24 around it, few of them the same


def test_the_times_need_no_font_of_the_system(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The clip is black, so whatever is bright on its sheet is a time."""
    clip, sheet, nothing = tmp_path / "black.mp4", tmp_path / "sheet.webp", tmp_path / "fonts.conf"
    nothing.write_text('<?xml version="1.0"?><fontconfig></fontconfig>', encoding="utf-8")
    monkeypatch.setenv("FONTCONFIG_FILE", str(nothing))
    ffmpeg("-f", "lavfi", "-i", "color=black:s=270x480:r=30:d=1", "-pix_fmt", "yuv420p", str(clip))
    recording = look(clip)
    assert isinstance(recording, Recording)
    make_sheet(clip, recording, range(0, 30, 6), template_folder() / FONT, sheet)
    with Image.open(sheet) as made:
        row = np.asarray(made.convert("L"))[:40]
    pictures = np.array_split(row, 6, axis=1)[:5]  # the sixth place of the row stays empty
    assert all((picture[8:36, 8:90] > 200).sum() > 60 for picture in pictures)
