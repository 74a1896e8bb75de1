"""Whatever changes below a folder is seen without reading it."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from recapgen.tools.stamps import stamps_below

LONG_AGO = 1_600_000_000


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    for name in ("anna/2027-04-11/notes.md", "anna/student.yml", ".recapgen/secret"):
        file = tmp_path / "lessons" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(name, "utf-8")
        os.utime(file, (LONG_AGO, LONG_AGO))
    return tmp_path / "lessons"


def rewrite_at_once(lessons: Path) -> None:
    """Another content of the same size under the same time, as by a coarse disk."""
    file = lessons / "anna" / "student.yml"
    before = file.stat()
    file.write_text("anna/STUDENT.yml", "utf-8")
    os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))


CHANGES: dict[str, Callable[[Path], object]] = {
    "a word": lambda at: (at / "anna/student.yml").write_text("anna/student.yaml", "utf-8"),
    "a new file": lambda at: (at / "anna/new.csv").touch(),
    "a new folder": lambda at: (at / "anna/2027-05-01").mkdir(),
    "a hidden file": lambda at: (at / ".hidden").touch(),
    "a file gone": lambda at: (at / "anna/student.yml").unlink(),
    "a name": lambda at: (at / "anna").rename(at / "Anna"),
    "rights": lambda at: (at / "anna/student.yml").chmod(0o600),
    "a word under the same time": rewrite_at_once,
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_a_change_is_seen(lessons: Path, change: Callable[[Path], object]) -> None:
    stamps = stamps_below(lessons)
    assert stamps is not None
    assert stamps.still_hold(lessons)
    change(lessons)
    assert not stamps.still_hold(lessons)


def test_a_young_file_is_known_by_its_content(
    lessons: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A disk that keeps whole seconds gives a second change no other time."""
    stamps = stamps_below(lessons)
    assert stamps is not None
    assert set(stamps.young) == {"anna/2027-04-11/notes.md", "anna/student.yml", ".recapgen/secret"}
    now = stamps_below(lessons)
    (lessons / "anna/student.yml").write_text("anna/STUDENT.yml", "utf-8")
    monkeypatch.setattr("recapgen.tools.stamps.stamps_below", lambda *_, **__: now)
    assert not stamps.still_hold(lessons)


def test_what_is_left_out_and_what_is_not_there(lessons: Path) -> None:
    stamps = stamps_below(lessons, without=".recapgen")
    assert stamps is not None
    (lessons / ".recapgen/secret").unlink()
    assert stamps.still_hold(lessons, stamps_below(lessons, without=".recapgen"))
    assert not stamps.still_hold(lessons.parent / "nowhere")
    nothing = stamps_below(lessons.parent / "nowhere")
    assert nothing is not None
    assert nothing.young == {}


def test_nobody_can_say_where_a_link_leads_to_a_folder(lessons: Path) -> None:
    (lessons / "elsewhere").symlink_to(lessons / "anna", target_is_directory=True)
    assert stamps_below(lessons) is None


def test_a_link_to_a_file_is_as_its_file(lessons: Path, tmp_path: Path) -> None:
    outside = tmp_path / "shared.csv"
    outside.write_text("1", "utf-8")
    (lessons / "shots.csv").symlink_to(outside)
    stamps = stamps_below(lessons)
    assert stamps is not None
    outside.write_text("2,3", "utf-8")
    assert not stamps.still_hold(lessons)
