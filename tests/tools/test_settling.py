"""A build waits until the files have come to rest, by a clock of the test's own."""

from pathlib import Path

import pytest

from recapgen.tools.settling import QUIET_S, Settling, look_at


@pytest.fixture
def lesson(tmp_path: Path) -> Path:
    """A lesson's folder with notes in it."""
    folder = tmp_path / "brida" / "2027-04-11"
    folder.mkdir(parents=True)
    (folder / "notes.md").write_text("intent: wall\n", encoding="utf-8")
    return folder


def test_a_clip_that_is_still_copied_is_waited_for(lesson: Path, tmp_path: Path) -> None:
    settling, clip = Settling(), lesson / "swing.mp4"
    told = []
    for second in range(8):
        if second < 4:
            with clip.open("ab") as copying:
                copying.write(b"x" * 1000)
        told.append(settling.settled(look_at(tmp_path), float(second)))
    assert told == [False, False, False, False, False, True, True, True]


def test_quiet_is_as_long_as_the_coarsest_disk_needs(lesson: Path, tmp_path: Path) -> None:
    settling, seen = Settling(), look_at(tmp_path)
    assert not settling.settled(seen, 10.0)
    assert not settling.settled(seen, 10.0 + QUIET_S - 0.01)
    assert settling.settled(seen, 10.0 + QUIET_S)
    (lesson / "notes.md").unlink()
    assert not settling.settled(look_at(tmp_path), 20.0)


def test_every_kind_of_change_is_seen(lesson: Path, tmp_path: Path) -> None:
    notes = lesson / "notes.md"
    looks = [look_at(tmp_path)]
    notes.write_text("intent: gate\n", encoding="utf-8")  # as long as before
    looks.append(look_at(tmp_path))
    notes.rename(lesson / "notes.txt")
    looks.append(look_at(tmp_path))
    lesson.rename(lesson.with_name("2027-04-12"))
    looks.append(look_at(tmp_path))
    looks.append(look_at(tmp_path / "nowhere"))
    (tmp_path / "empty").mkdir()
    looks.append(look_at(tmp_path / "empty"))
    assert len(set(looks)) == len(looks)


def test_what_is_hidden_or_leads_in_circles_changes_nothing(lesson: Path, tmp_path: Path) -> None:
    before = look_at(tmp_path)
    (lesson / ".notes.md.swp").write_text("an editor's own", encoding="utf-8")
    (tmp_path / ".recapgen").mkdir()
    (tmp_path / ".recapgen" / "secret").write_text("ours", encoding="utf-8")
    (lesson / "again").symlink_to(tmp_path, target_is_directory=True)
    assert look_at(tmp_path) == before
