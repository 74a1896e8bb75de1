"""A command reads only the libraries that it needs: most runs find nothing new."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.end_to_end.small_lessons import ROOT, TODAY, add_student, recapgen

HEAVY = ("altair", "av", "jinja2", "mkdocs", "openpyxl", "pandas", "scipy", "vl_convert")
SEEN = f"""
import sys
from recapgen.cli import main
try:
    main()
finally:
    print("read:", *sorted(set({HEAVY!r}) & set(sys.modules)), file=sys.stderr)
"""


def read_by(*words: str | Path) -> set[str]:
    """The heavy libraries that a command has read by its end."""
    done = subprocess.run(
        [sys.executable, "-c", SEEN, *map(str, words)],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
    )
    _, said, read = done.stderr.rpartition("read:")
    assert said, done.stderr
    return set(read.split())


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    lessons = tmp_path_factory.mktemp("quick") / "lessons"
    add_student(lessons, "Brida")
    (lessons / "coach.yml").write_text("coach: Ines Falk\n", encoding="utf-8")
    assert recapgen("build", lessons, "--today", TODAY).code == 0
    return lessons


@pytest.mark.parametrize(
    "words",
    [
        ("--help",),
        ("build", "--help"),
        ("seal", "nowhere"),
        ("check", "nowhere"),
    ],
)
def test_what_only_answers_reads_nothing_heavy(words: tuple[str, ...]) -> None:
    assert read_by(*words) == set()


def test_a_run_with_nothing_new_reads_nothing_heavy(built: Path) -> None:
    assert read_by("build", built, "--today", TODAY) == set()


def test_a_check_reads_nothing_that_draws_or_builds_a_site(built: Path) -> None:
    drawing = {"altair", "jinja2", "mkdocs", "openpyxl", "pandas", "vl_convert"}
    assert not read_by("check", built, "--today", TODAY) & drawing


def test_a_changed_word_reads_nothing_that_draws(built: Path) -> None:
    notes = next(built.glob("*/*/notes.md"))
    told = notes.read_text(encoding="utf-8").replace("Keep the wall", "Feel the wall")
    notes.write_text(told, encoding="utf-8")
    assert not read_by("build", built, "--today", TODAY) & {"altair", "pandas", "vl_convert"}
