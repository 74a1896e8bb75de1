"""Since when a folder is gone, as it is kept between builds."""

from datetime import date
from pathlib import Path

import pytest

from recapgen.publish.gone import Since, read_gone, write_gone


def test_what_is_written_is_read_and_nothing_is_no_file(tmp_path: Path) -> None:
    file = tmp_path / "gone.json"
    gone = {"Ann": Since(date(2027, 6, 1), 5.5), "Bo/2027-04-11": Since(date(2027, 6, 2), 6.0)}
    write_gone(file, gone)
    assert read_gone(file) == gone
    write_gone(file, {})
    assert not file.exists()


@pytest.mark.parametrize("folder", ["..", "../taxes", "Ann/../..", "/", "/home", "Ann//x", "."])
def test_a_folder_outside_the_lessons_is_none_of_ours_to_clear(tmp_path: Path, folder: str) -> None:
    file = tmp_path / "gone.json"
    write_gone(file, {folder: Since(date(2027, 6, 1), 0.0)})
    assert read_gone(file) == {}


@pytest.mark.parametrize("text", ["", "[]", '{"Ann": 3}', '{"Ann": ["soon", 1]}', '{"Ann": [1]}'])
def test_what_cannot_be_read_begins_anew(tmp_path: Path, text: str) -> None:
    (tmp_path / "gone.json").write_text(text, "utf-8")
    assert read_gone(tmp_path / "gone.json") == {}


@pytest.mark.parametrize(("day", "left"), [((5, 31), 30), ((6, 1), 30), ((6, 30), 1), ((7, 1), 0)])
def test_thirty_days_are_counted_from_the_day_it_was_missed(
    day: tuple[int, int], left: int
) -> None:
    assert Since(date(2027, 6, 1), 0.0).days_left(date(2027, *day)) == left
