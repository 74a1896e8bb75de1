"""The book read back as data frames."""

from pathlib import Path

import pandas as pd
import pytest

from recapgen import frames

pytestmark = pytest.mark.ffmpeg


def test_a_lesson_a_row_and_a_shot_a_row(sample_out: Path) -> None:
    lessons = frames.lessons(sample_out / "coach_book")
    shots = frames.shots(sample_out / "coach_book")
    assert len(lessons) == 17
    assert lessons["date"].is_monotonic_increasing
    told = lessons.dropna(subset=["verdict"])
    counted = told["n_before"].sum() + told["n_after"].sum()
    assert len(shots) == counted > 200
    medians = shots.groupby(["student", "lesson", "block"])["value"].median().to_dict()
    for row in told.itertuples():
        for block in ("before", "after"):
            seen = medians[(row.student, row.lesson, block)]
            assert seen == pytest.approx(getattr(row, block), abs=1e-3)  # files round


def test_a_folder_that_is_no_book_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match="coach_book"):
        frames.lessons(tmp_path)


def test_an_empty_book_gives_empty_frames(tmp_path: Path) -> None:
    (tmp_path / "data").mkdir()
    assert frames.lessons(tmp_path).empty
    assert isinstance(frames.shots(tmp_path), pd.DataFrame)
