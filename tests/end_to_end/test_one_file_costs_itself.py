"""Whatever lies in the lessons folder, a build ends, and what is nobody's fault costs nobody."""

import importlib
import os
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from recapgen import cli
from recapgen.app import build_run
from tests.end_to_end.small_lessons import ROOT, TODAY, Ran, add_student, recapgen, sites, tree

Build = Callable[..., Ran]

_INTERRUPTED_AT = """
import sys
from importlib.abc import MetaPathFinder

class Interrupt(MetaPathFinder):
    def find_spec(self, name, path=None, target=None):
        if name == {module!r}:
            sys.meta_path.remove(self)
            raise KeyboardInterrupt

sys.meta_path.insert(0, Interrupt())
sys.argv = ["recapgen", "build", {lessons!r}]
from recapgen.__main__ import main
main()
"""


def test_names_that_are_no_text_and_names_too_long_to_add_to(
    lessons: Path, build: Build, out: Path
) -> None:
    long = "L" * 255
    add_student(lessons, "Dorn").parent.rename(lessons / long)
    (lessons / long / "2027-04-11").rename(lessons / long / f"2027-04-11 {long}"[:255])
    for folder in (lessons, lessons / "brida-folder" / "2027-04-11"):
        Path(os.fsdecode(os.fsencode(folder) + b"/caf\xe9.txt")).write_text("x", encoding="utf-8")
    os.mkfifo(lessons / "brida-folder" / "2027-04-11" / "pipe.txt")
    (lessons / "drills").mkdir()
    Path(os.fsdecode(os.fsencode(lessons / "drills") + b"/h\xe9.md")).write_text("", "utf-8")
    ran = build()
    assert ran.code == 0, ran.err
    assert set(sites(out)) == {"Brida", "Corvin", "Dorn"}
    assert "caf\\udce9.txt" in ran.err
    again = build()
    assert again.code == 0
    assert "3 unchanged" in again.err


def test_a_fault_of_our_own_ends_with_three_and_a_file_without_their_words(
    lessons: Path, out: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stumble(*_: object, **__: object) -> None:
        msg = "Brida said her back hurts"
        raise ValueError(msg)

    monkeypatch.setattr(build_run, "_build_into", stumble)
    words = ["recapgen", "build", str(lessons), "--out", str(out), "--today", TODAY]
    monkeypatch.setattr(sys, "argv", words)
    with pytest.raises(SystemExit) as ended:
        cli.main()
    assert ended.value.code == 3
    report = out / ".recapgen" / "fault.txt"
    (line,) = capsys.readouterr().err.splitlines()
    assert str(report) in line
    text = report.read_text(encoding="utf-8")
    assert "ValueError" in text
    assert "recapgen/app/build_run.py" in text
    assert "Brida" not in text
    assert str(lessons) not in text
    assert stat.S_IMODE(report.stat().st_mode) == 0o600


@pytest.mark.parametrize("module", ["click", "babel.core", "recapgen.app.building"])
def test_an_interrupt_while_the_program_is_read_is_one_line(lessons: Path, module: str) -> None:
    program = _INTERRUPTED_AT.format(module=module, lessons=str(lessons))
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=False, cwd=ROOT
    )
    assert done.returncode == 130, done.stderr
    assert done.stderr.splitlines() == ["Interrupted. What was published before is still up."]


def test_a_secret_that_others_can_read_is_told_at_each_build(lessons: Path, build: Build) -> None:
    assert build().code == 0
    (lessons / ".recapgen" / "secret").chmod(0o644)
    for _ in range(2):
        ran = build()
        assert ran.code == 0
        assert "secret-open" in ran.err


def test_a_folder_whose_own_name_is_no_text_is_built(tmp_path: Path) -> None:
    lessons = Path(os.fsdecode(os.fsencode(tmp_path) + b"/le\xe7ons"))
    add_student(lessons, "Brida")
    ran = recapgen("build", lessons, "--today", TODAY)
    assert ran.code == 0, ran.err
    assert set(sites(lessons.with_name(lessons.name + "_out"))) == {"Brida"}


@pytest.mark.parametrize(
    "place",
    [
        "recapgen.app.one_student.read_student_folder",
        "recapgen.app.site_publisher.student_site",
    ],
)
def test_a_fault_of_our_own_costs_the_student_over_whom_it_comes(
    lessons: Path,
    out: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    place: str,
) -> None:
    module, _, name = place.rpartition(".")
    sound = getattr(importlib.import_module(module), name)

    def stumble(*told: object, **named: object) -> object:
        if "brida" in repr(told).lower():
            msg = "Brida said her back hurts"
            raise ValueError(msg)
        return sound(*told, **named)

    def built() -> int:
        words = ["recapgen", "build", str(lessons), "--out", str(out), "--today", TODAY]
        monkeypatch.setattr(sys, "argv", words)
        with pytest.raises(SystemExit) as ended:
            cli.main()
        assert isinstance(ended.value.code, int)
        return ended.value.code

    assert built() == 0
    before = {who: tree(site) for who, site in sites(out).items()}
    for notes in lessons.glob("*-folder/2027-04-11/notes.md"):
        notes.write_text(notes.read_text("utf-8") + "More words.\n", "utf-8")
    with monkeypatch.context() as broken:
        broken.setattr(place, stumble)
        assert built() == 3
        report = out / ".recapgen" / "fault.txt"
        told = capsys.readouterr().err
        assert "brida-folder: held back [fault-of-ours]" in told
        assert str(report) in told.splitlines()[-1]
        text = report.read_text("utf-8")
        assert "ValueError" in text
        assert "Brida" not in text
        now = {who: tree(site) for who, site in sites(out).items()}
        assert now["Brida"] == before["Brida"]
        assert b"More words" in b"".join(now["Corvin"].values())
        told = (out / "coach_book" / "problems.html").read_text("utf-8")
        assert "something went wrong inside recapgen with this student" in told
    assert built() == 0
    assert b"More words" in b"".join(tree(sites(out)["Brida"]).values())
