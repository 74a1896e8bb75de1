"""Folders of lessons, ready to be built."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.end_to_end.small_lessons import TODAY, Ran, add_student, recapgen


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    """Two students with one lesson each, who agreed to a page."""
    root = tmp_path / "my lessons"
    root.mkdir()
    (root / "coach.yml").write_text("coach: Ada Quill\n", encoding="utf-8")
    for name in ("Brida", "Corvin"):
        add_student(root, name)
    return root


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """Where ``build`` puts the pages."""
    return tmp_path / "out"


@pytest.fixture
def build(lessons: Path, out: Path) -> Callable[..., Ran]:
    """Build ``lessons`` into ``out``, as on one day unless told otherwise."""

    def run(*more: str) -> Ran:
        day = () if "--today" in more else ("--today", TODAY)
        return recapgen("build", lessons, "--out", out, *day, *more)

    return run
