"""What the commands say, what they refuse, and how they end."""

import json
import shlex
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.end_to_end.small_lessons import TODAY, Ran, recapgen, tree

Build = Callable[..., Ran]


def test_help_shows_examples_and_exit_codes() -> None:
    assert "recapgen check my_lessons" in recapgen("--help").out
    told = recapgen("build", "--help").out
    assert "recapgen build my_lessons" in told
    assert all(code in told for code in ("0 ", "1 ", "2 ", "130"))


def test_the_version_is_told() -> None:
    ran = recapgen("--version")
    assert ran.code == 0
    assert ran.out.startswith("recapgen ")


def test_a_good_folder_is_published_quietly(build: Build, out: Path) -> None:
    ran = build()
    assert ran.code == 0, ran.err
    assert str(out / "site" / "index.html") in ran.out
    assert str(out / "coach_book" / "index.html") in ran.out
    totals, *public = ran.err.strip().splitlines()  # no progress off a terminal
    assert "2 students' sites" in totals
    assert [line.partition(" (")[0] for line in public[:-1]] == ["New: Brida", "New: Corvin"]
    assert public[-1].startswith("Upload site/ now")
    assert "\x1b" not in ran.err + ran.out


def test_check_writes_nothing_and_lists_problems_as_data(lessons: Path) -> None:
    notes = lessons / "brida-folder" / "2027-04-11" / "notes.md"
    notes.write_text(notes.read_text(encoding="utf-8").replace("matters:", "maters:"), "utf-8")
    before = tree(lessons.parent)
    ran = recapgen("check", lessons, "--json", "--today", TODAY)
    assert tree(lessons.parent) == before
    (problem,) = json.loads(ran.out)
    assert list(problem) == [
        "code", "severity", "file", "sheet", "line", "column", "found", "expected", "fix", "fixes",
    ]  # fmt: skip
    assert problem["file"] == "brida-folder/2027-04-11/notes.md"
    assert (problem["line"], problem["column"]) == (7, 1)
    assert "matters" in problem["expected"] + problem["fix"]


def test_strict_ends_with_one_for_a_warning(lessons: Path, build: Build) -> None:
    (lessons / "brida-folder" / "student.yml").unlink()
    assert build().code == 0
    assert build("--strict").code == 1


def test_a_missing_folder_cannot_be_run(tmp_path: Path) -> None:
    ran = recapgen("build", tmp_path / "nowhere")
    assert ran.code == 2
    assert "folder-missing" in ran.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", ["build", "check"])
@pytest.mark.parametrize("given", ["brida-folder", "brida-folder/2027-04-11"])
def test_a_part_of_the_lessons_is_refused_with_the_line_that_works(
    lessons: Path, command: str, given: str
) -> None:
    before = tree(lessons.parent)
    ran = recapgen(command, lessons / given, "--today", TODAY)
    assert ran.code == 2
    assert tree(lessons.parent) == before
    line = next(line for line in ran.err.splitlines() if "recapgen " in line)
    assert shlex.split(line.partition("recapgen ")[2]) == [command, str(lessons)]


@pytest.mark.parametrize("place", ["my lessons/out", "my lessons"])
def test_an_output_inside_the_lessons_is_refused(lessons: Path, place: str) -> None:
    before = tree(lessons)
    ran = recapgen("build", lessons, "--out", lessons.parent / place)
    assert ran.code == 2
    assert tree(lessons) == before


def test_a_folder_of_somebody_elses_is_refused(build: Build, out: Path) -> None:
    out.mkdir()
    (out / "taxes.txt").write_text("mine", encoding="utf-8")
    ran = build()
    assert ran.code == 2
    assert tree(out) == {"taxes.txt": b"mine"}


def test_a_bad_day_is_refused(build: Build) -> None:
    ran = build("--today", "11.4.2027")
    assert ran.code == 2
    assert "2027-04-11" in ran.err


def test_an_output_that_cannot_be_written_is_said_in_words(build: Build, out: Path) -> None:
    out.write_text("a file where the folder should be", encoding="utf-8")
    ran = build()
    assert ran.code == 2
    assert "Traceback" not in ran.err


INTERRUPTED = """
import signal
from recapgen.app import site_publisher as publishing
from recapgen.__main__ import main

publishing.{stage} = lambda *_, **__: signal.raise_signal(signal.SIGINT)
main()
"""


@pytest.mark.parametrize("stage", [pytest.param("check_site", marks=pytest.mark.campaign), "put"])
def test_an_interrupt_leaves_what_is_up(build: Build, lessons: Path, out: Path, stage: str) -> None:
    """The signal comes when a student's new pages are staged, or checked and all but swapped in."""
    assert build().code == 0
    up = tree(out / "site")
    notes = lessons / "brida-folder" / "2027-04-11" / "notes.md"
    notes.write_text(notes.read_text(encoding="utf-8") + "\nMore words.\n", "utf-8")
    words = [sys.executable, "-c", INTERRUPTED.format(stage=stage), "build", str(lessons)]
    words += ["--out", str(out), "--today", TODAY]
    stopped = subprocess.run(words, capture_output=True, check=False, timeout=300)
    assert stopped.returncode == 130, stopped.stderr
    assert b"Traceback" not in stopped.stderr
    assert tree(out / "site") == up
    assert build().code == 0
    assert tree(out / "site") != up


def test_no_colour_where_none_is_wanted(lessons: Path) -> None:
    (lessons / "brida-folder" / "student.yml").unlink()
    forced = recapgen("check", lessons, env={"FORCE_COLOR": "1"})
    plain = recapgen("check", lessons, env={"FORCE_COLOR": "1", "NO_COLOR": "1"})
    assert "\x1b[" in forced.err
    assert "\x1b[3" not in plain.err


def test_lines_to_write_are_shown_as_lines(lessons: Path) -> None:
    (lessons / "brida-folder" / "student.yml").unlink()
    assert "      hand: right" in recapgen("check", lessons).err.splitlines()
