"""What is the coach's alone is readable to nobody else, and what is published to everybody."""

import os
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.end_to_end.small_lessons import Ran, sites

Build = Callable[..., Ran]

pytestmark = pytest.mark.skipif(os.name != "posix", reason="no such rights here")


def rights(folder: Path) -> set[tuple[bool, int]]:
    """Whether it is a folder, and its rights, of everything in ``folder`` and of itself."""
    every = (folder, *folder.rglob("*"))
    return {(path.is_dir(), stat.S_IMODE(path.lstat().st_mode)) for path in every}


@pytest.fixture
def dead() -> str:
    """The number of a process that has ended."""
    ended = subprocess.run(
        [sys.executable, "-c", "import os; print(os.getpid())"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    return ended.stdout.strip()


@pytest.fixture
def temporary(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "temporary"
    folder.mkdir()
    monkeypatch.setenv("TMPDIR", str(folder))
    return folder


def test_book_cache_and_data_are_the_coach_s_alone_and_the_site_is_open(
    build: Build, out: Path, lessons: Path
) -> None:
    for umask, shown in (
        (0o022, {(True, 0o755), (False, 0o644)}),
        (0o027, {(True, 0o750), (False, 0o640)}),
    ):
        before = os.umask(umask)
        try:
            assert build().code == 0
        finally:
            os.umask(before)
        assert rights(out / "coach_book") == {(True, 0o700), (False, 0o600)}
        assert not [path for path in (out / ".recapgen").rglob("*") if path.stat().st_mode & 0o077]
        assert set().union(*(rights(site) for site in sites(out).values())) == shown
        for notes in lessons.glob("*-folder/2027-04-11/notes.md"):
            notes.write_text(notes.read_text("utf-8") + "More.\n", "utf-8")
    assert stat.S_IMODE((out / "site").stat().st_mode) == 0o755


def test_what_killed_runs_left_is_gone_after_the_next(
    build: Build, out: Path, lessons: Path, temporary: Path, dead: str
) -> None:
    assert build().code == 0
    living = temporary / f"recapgen-{os.getpid()}-abc"
    living.mkdir()
    (temporary / f"recapgen-{dead}-abc").mkdir()
    (temporary / f"recapgen-{dead}-abc" / "entry.json").write_text("{}", "utf-8")
    left = [
        out / ".recapgen" / f".ledger.json.{dead}-abc.tmp",
        lessons / ".recapgen" / f".secret.{dead}-abc.tmp",
        lessons / "brida-folder" / "2027-04-11" / f".seal.json.{dead}-abc.tmp",
        out / ".recapgen" / "cache" / "making-abc" / "film.mp4",
        out / ".recapgen" / "staging" / "tmpabc" / "new" / "index.html",
    ]
    for file in left:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text("half", "utf-8")
    theirs = lessons / "brida-folder" / ".shots.tmp"
    theirs.write_text("an editor's", "utf-8")
    assert build().code == 0
    assert not [file for file in left if file.exists()]
    assert not (out / ".recapgen" / "cache" / "making-abc").exists()
    assert [entry.name for entry in temporary.glob("recapgen-*")] == [living.name]
    assert theirs.exists()
