"""The old file or the new one, never half of one."""

import os
import stat
from datetime import date
from pathlib import Path

import pytest

from recapgen.tools.atomic import write_bytes, write_text
from recapgen.tools.clock import today


def test_a_file_is_replaced_as_a_whole(tmp_path: Path) -> None:
    file = tmp_path / "it's 100% #1.json"
    for text in ("first and longer", "ö\n"):
        write_text(file, text)
        assert file.read_bytes() == text.encode()
    assert list(tmp_path.iterdir()) == [file]


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failing_disk_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    file = tmp_path / "kept"
    file.write_bytes(b"old")

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os if step == "fsync" else Path, step, refuse)
    with pytest.raises(OSError, match="No space"):
        write_bytes(file, b"new")
    assert file.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [file]


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such permissions")
@pytest.mark.parametrize(("mode", "umask", "expected"), [(0o600, 0, 0o600), (0o644, 0o077, 0o600)])
def test_permissions_are_those_asked_for_less_the_umask(
    tmp_path: Path, mode: int, umask: int, expected: int
) -> None:
    before = os.umask(umask)
    try:
        write_bytes(tmp_path / "file", b"", mode)
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "file").stat().st_mode) == expected


def test_the_day_is_the_one_given_else_the_calendars() -> None:
    assert today(date(2027, 4, 11)) == date(2027, 4, 11)
    assert abs((today(None) - date.today()).days) <= 1  # noqa: DTZ011  (what is compared with)
