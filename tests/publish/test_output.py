"""Whose folder is it, and who is writing to it?"""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from recapgen.model.problem import Code, Cost
from recapgen.publish.output import Output, check_secret, claim


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    folder = tmp_path / "my lessons"
    folder.mkdir()
    return folder


def claimed(out: Path, lessons: Path) -> Output:
    output = claim(out, lessons).value
    assert output is not None
    return output


def refusal(out: Path, lessons: Path) -> Code:
    found = claim(out, lessons)
    assert found.value is None
    (problem,) = found.problems
    assert problem.cost is Cost.RUN
    return problem.code


@pytest.mark.parametrize("name", ["out", "my lessons_out", "50% #1 'ö\" out"])
def test_a_new_folder_is_made_and_known_again(tmp_path: Path, lessons: Path, name: str) -> None:
    out = tmp_path / "deep" / name
    output = claimed(out, lessons)
    assert output.site == out.resolve() / "site"
    assert output.site.is_dir()
    output.release()
    claimed(out, lessons).release()


def test_an_empty_folder_and_its_litter_are_taken(tmp_path: Path, lessons: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / ".DS_Store").touch()
    claimed(out, lessons).release()


def test_a_folder_with_anything_else_is_refused_and_left(tmp_path: Path, lessons: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "thesis.txt").write_text("mine")
    assert refusal(out, lessons) is Code.OUTPUT_NOT_OURS
    assert [path.name for path in out.rglob("*")] == ["thesis.txt"]


@pytest.mark.parametrize("marker", ["", "[]", "{}", '{"made by": "somebody", "format": 1}'])
def test_a_marker_that_is_not_ours_does_not_open_the_door(
    tmp_path: Path, lessons: Path, marker: str
) -> None:
    out = tmp_path / "out"
    (out / ".recapgen").mkdir(parents=True)
    (out / ".recapgen" / "output.json").write_text(marker)
    (out / "thesis.txt").write_text("mine")
    assert refusal(out, lessons) is Code.OUTPUT_NOT_OURS


def test_a_run_killed_before_it_wrote_its_marker_is_forgiven(tmp_path: Path, lessons: Path) -> None:
    out = tmp_path / "out"
    (out / ".recapgen").mkdir(parents=True)
    (out / ".recapgen" / ".output.json.x.tmp").touch()
    claimed(out, lessons).release()


def test_a_file_is_no_folder(tmp_path: Path, lessons: Path) -> None:
    (tmp_path / "out").write_text("a file")
    assert refusal(tmp_path / "out", lessons) is Code.OUTPUT_NOT_OURS


def test_a_newer_version_is_not_written_over(tmp_path: Path, lessons: Path) -> None:
    out = tmp_path / "out"
    claimed(out, lessons).release()
    marker = out / ".recapgen" / "output.json"
    marker.write_text(json.dumps(json.loads(marker.read_text()) | {"format": 99}))
    assert refusal(out, lessons) is Code.OUTPUT_NEWER


def test_input_and_output_may_not_lie_in_each_other(tmp_path: Path, lessons: Path) -> None:
    assert refusal(lessons / "out", lessons) is Code.OUTPUT_IN_LESSONS
    assert refusal(lessons, lessons) is Code.OUTPUT_IN_LESSONS
    assert refusal(tmp_path, lessons) is Code.LESSONS_IN_OUTPUT
    assert refusal(lessons / ".." / lessons.name / "out", lessons) is Code.OUTPUT_IN_LESSONS
    assert list(lessons.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="links need a privilege on Windows")
def test_a_link_does_not_hide_that(tmp_path: Path, lessons: Path) -> None:
    (tmp_path / "link").symlink_to(lessons)
    assert refusal(tmp_path / "link" / "out", lessons) is Code.OUTPUT_IN_LESSONS
    assert refusal(lessons / "out", tmp_path / "link") is Code.OUTPUT_IN_LESSONS


@pytest.mark.skipif(os.name == "nt", reason="links need a privilege on Windows")
def test_a_site_that_is_a_link_is_refused(tmp_path: Path, lessons: Path) -> None:
    out = tmp_path / "out"
    claimed(out, lessons).release()
    (out / "site").rmdir()
    (tmp_path / "elsewhere").mkdir()
    (out / "site").symlink_to(tmp_path / "elsewhere")
    assert refusal(out, lessons) is Code.OUTPUT_ELSEWHERE
    assert refusal(out, lessons) is Code.OUTPUT_ELSEWHERE  # and the lock was given back


def test_one_run_at_a_time(tmp_path: Path, lessons: Path) -> None:
    first = claimed(tmp_path / "out", lessons)
    assert refusal(tmp_path / "out", lessons) is Code.OUTPUT_BUSY
    first.release()
    first.release()
    claimed(tmp_path / "out", lessons).release()


def test_the_lock_of_a_killed_run_does_not_stay(tmp_path: Path, lessons: Path) -> None:
    hold = (
        "import sys, time; from pathlib import Path; from recapgen.publish.output import claim;"
        "held = claim(Path(sys.argv[1]), Path(sys.argv[2]));"
        "print(held.value is not None, flush=True); time.sleep(60)"
    )
    out = tmp_path / "out"
    with subprocess.Popen(
        [sys.executable, "-c", hold, out, lessons], stdout=subprocess.PIPE, text=True
    ) as other:
        assert other.stdout is not None
        assert other.stdout.readline().strip() == "True"
        assert refusal(out, lessons) is Code.OUTPUT_BUSY
        other.kill()
    claimed(out, lessons).release()


@pytest.mark.skipif(sys.platform != "linux", reason="needs a place where nobody may write")
def test_a_place_that_cannot_be_written_is_named(lessons: Path) -> None:
    assert refusal(Path("/proc/recapgen out"), lessons) is Code.OUTPUT_UNWRITABLE


def test_a_full_or_read_only_disk_is_named(
    tmp_path: Path, lessons: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("recapgen.publish.output.write_text", refuse)
    found = claim(tmp_path / "out", lessons)
    assert found.problems[0].code is Code.OUTPUT_UNWRITABLE
    assert found.problems[0].facts["fault"] == "Permission denied"


def test_the_secret_an_output_was_made_with_is_remembered(tmp_path: Path, lessons: Path) -> None:
    output = claimed(tmp_path / "out", lessons)
    assert check_secret(output, "one") == ()
    assert check_secret(output, "one") == ()
    (problem,) = check_secret(output, "another")
    assert problem.code is Code.SECRET_CHANGED
    output.release()
    claimed(tmp_path / "out", lessons).release()
