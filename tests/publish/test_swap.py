"""What is up is whole, whatever happens in between."""

import random
import subprocess
import sys
import time
from collections.abc import Iterable
from pathlib import Path

import pytest

from recapgen.publish import swap
from recapgen.publish.swap import drop, put, put_among, recover, stage, take_down

FILES = 12


def filled(staging: Path, word: str, files: Iterable[str] = ("index.html",)) -> Path:
    new = stage(staging)
    for name in files:
        (new / name).write_text(word)
    return new


@pytest.fixture
def root(tmp_path: Path) -> Path:
    (tmp_path / "staging").mkdir()
    (tmp_path / "site").mkdir()
    return tmp_path


@pytest.fixture(params=["one step", "two renames"])
def any_system(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.param == "two renames":
        monkeypatch.setattr(swap, "_exchange", lambda _new, _goal: False)


@pytest.mark.usefixtures("any_system")
@pytest.mark.parametrize("name", ["bcdf", "with space", "100% #1", 'it\'s "Zoë"', "ёлка"])
def test_a_new_folder_takes_the_place_of_the_old(root: Path, name: str) -> None:
    goal = root / "site" / name
    for word in ("first", "second", "third"):
        put(filled(root / "staging", word, ("index.html", f"{word}.html")), goal, root)
        assert {f.name for f in goal.iterdir()} == {"index.html", f"{word}.html"}
        assert (goal / "index.html").read_text() == word
    assert list((root / "staging").iterdir()) == []


@pytest.mark.usefixtures("any_system")
def test_a_part_among_others_leaves_the_others(root: Path) -> None:
    (root / "site" / "student").mkdir()
    for word in ("old", "new"):
        new = filled(root / "staging", word)
        (new / "assets").mkdir()
        (new / "assets" / "card.css").write_text(word)
        put_among(new, root / "site", root)
        assert (root / "site" / "index.html").read_text() == word
        assert (root / "site" / "assets" / "card.css").read_text() == word
    assert (root / "site" / "student").is_dir()
    assert list((root / "staging").iterdir()) == []


def test_taking_down_and_giving_up_leave_nothing(root: Path) -> None:
    goal = root / "site" / "bcdf"
    put(filled(root / "staging", "x"), goal, root)
    take_down(goal, root / "staging")
    take_down(goal, root / "staging")
    drop(stage(root / "staging"))
    assert not goal.exists()
    assert list((root / "staging").iterdir()) == []


def test_a_swap_that_fails_half_way_is_undone(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    goal = root / "site" / "bcdf"
    put(filled(root / "staging", "old"), goal, root)
    monkeypatch.setattr(swap, "_exchange", lambda _new, _goal: False)
    rename = Path.rename

    def fail_for_new(self: Path, target: Path) -> Path:
        if self.name == "new":
            raise PermissionError(13, "somebody looks at it")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", fail_for_new)
    with pytest.raises(PermissionError):
        put(filled(root / "staging", "new"), goal, root)
    assert (goal / "index.html").read_text() == "old"


@pytest.mark.parametrize(
    ("left", "expected"),
    [
        (("new",), None),  # still building
        (("new", "goal"), None),  # built, not yet put: whatever is up stays
        (("new", "goal", "old"), "new"),  # between the two renames
        (("old", "goal"), "old"),  # new lost
        (("gone",), None),  # being taken down
    ],
)
def test_a_killed_run_is_put_right(root: Path, left: tuple[str, ...], expected: str | None) -> None:
    work = stage(root / "staging").parent
    (work / "new").rmdir()
    for name in left:
        if name == "goal":
            (work / "goal").write_text("site/bcdf")
        else:
            (work / name).mkdir()
            (work / name / "index.html").write_text(name)
    recover(root / "staging", root)
    up = root / "site" / "bcdf" / "index.html"
    assert (up.read_text() if up.exists() else None) == expected
    assert list((root / "staging").iterdir()) == []


def test_recovery_does_not_touch_what_is_up(root: Path) -> None:
    goal = root / "site" / "bcdf"
    put(filled(root / "staging", "up"), goal, root)
    work = filled(root / "staging", "left").parent
    (work / "goal").write_text("site/bcdf")
    (work / "new").rename(work / "old")
    recover(root / "staging", root)
    assert (goal / "index.html").read_text() == "up"


LOOP = """
import sys
from pathlib import Path
from recapgen.publish import swap
root, exchange = Path(sys.argv[1]), sys.argv[2] == "True"
swap.recover(root / "staging", root)
if not exchange:
    swap._exchange = lambda new, goal: False
print("ready", flush=True)
turn = 0
while True:
    turn += 1
    new = swap.stage(root / "staging")
    for n in range(12):
        (new / f"{n}.html").write_text(str(turn))
    swap.put(new, root / "site" / "bcdf", root)
"""


def kill_while_swapping(root: Path, times: int, *, exchange: bool) -> None:
    choice = random.Random(7)  # noqa: S311  (when to pull the plug)
    goal = root / "site" / "bcdf"
    for _ in range(times):
        with subprocess.Popen(
            [sys.executable, "-c", LOOP, root, str(exchange)], stdout=subprocess.PIPE
        ) as writer:
            assert writer.stdout is not None
            writer.stdout.readline()
            while not goal.exists():
                time.sleep(0.001)
            time.sleep(choice.uniform(0, 0.03))
            writer.kill()
        if exchange:  # one step: whole even before anybody puts it right
            assert whole(goal)
        recover(root / "staging", root)
        assert whole(goal)
        assert list((root / "staging").iterdir()) == []


def whole(goal: Path) -> bool:
    texts = {file.read_text() for file in goal.iterdir()}
    return len(texts) == 1 and len(list(goal.iterdir())) == FILES


@pytest.mark.parametrize("exchange", [True, False])
def test_a_kill_leaves_a_whole_site(root: Path, *, exchange: bool) -> None:
    if exchange and sys.platform != "linux":
        pytest.skip("only Linux exchanges two folders in one step")
    kill_while_swapping(root, 4, exchange=exchange)


@pytest.mark.campaign
@pytest.mark.parametrize("exchange", [True, False])
def test_sixty_kills_leave_a_whole_site(root: Path, *, exchange: bool) -> None:
    kill_while_swapping(root, 60, exchange=exchange)


def test_what_a_file_manager_leaves_in_staging_is_cleared(root: Path) -> None:
    (root / "staging" / ".DS_Store").write_text("icons")
    (root / "staging" / "link").symlink_to(root / "site")
    recover(root / "staging", root)
    assert list((root / "staging").iterdir()) == []
    assert (root / "site").is_dir()


class Killed(BaseException):
    """No fault that anything catches."""


def test_a_run_killed_between_two_renames_leaves_what_the_next_one_needs(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    goal = root / "site" / "bcdf"
    put(filled(root / "staging", "old"), goal, root)
    monkeypatch.setattr(swap, "_exchange", lambda _new, _goal: False)

    def killed(_new: Path, goal: Path, old: Path) -> None:
        goal.rename(old)
        raise Killed

    monkeypatch.setattr(swap, "_rename_twice", killed)
    with pytest.raises(Killed):
        put(filled(root / "staging", "new"), goal, root)
    assert not goal.exists()
    recover(root / "staging", root)
    assert (goal / "index.html").read_text() == "new"
    assert list((root / "staging").iterdir()) == []
