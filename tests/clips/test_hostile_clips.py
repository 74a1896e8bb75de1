"""A clip that its reader was never meant for costs that clip, with one problem."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.clips.demonstration import show_drill
from recapgen.clips.footage import Footage, inspect
from recapgen.model.problem import Checked, Code, Cost
from recapgen.tools.apart import apart
from recapgen.tools.cache import Cache
from recapgen.tools.media.recording import Flaw, Unusable, look
from tests.clips.conftest import Clip
from tests.clips.hostile import CLIPS

pytestmark = pytest.mark.ffmpeg

MOST_BYTES = 1_000_000_000
MOST_S = 30.0


def unknown_codec(whole: bytes) -> bytes:
    """The sample entry of a codec that ffmpeg does not know."""
    return whole.replace(b"avc1", b"zzzz").replace(b"avcC", b"zzzC")


def endless_box(whole: bytes) -> bytes:
    """A box of 2^64 - 1 bytes before the index."""
    return whole[:32] + b"\0\0\0\1free" + b"\xff" * 8 + whole[32:]


@pytest.mark.parametrize("damage", [unknown_codec, endless_box])
def test_a_clip_that_made_the_reader_stumble_costs_itself(
    clip: Clip, cache: Cache, tmp_path: Path, damage: Callable[[bytes], bytes]
) -> None:
    file = clip("plain.mp4", None)
    bad = tmp_path / "bad.mp4"
    bad.write_bytes(damage(file.path.read_bytes()))
    footage, problems = inspect(replace(file, path=bad), cache)
    assert footage is None
    (problem,) = problems
    assert problem.cost is Cost.CLIP
    assert show_drill(tmp_path, bad.name, cache).problems[0].code is Code.DRILL_NOT_SHOWN


def hang(_path: Path) -> Unusable:
    """As a decoder that goes round in a circle does."""
    time.sleep(60)
    return Unusable(Flaw.EMPTY)


def crash(_path: Path) -> Unusable:
    """As a decoder with a fault in it does."""
    os.abort()


def killed(_path: Path) -> Unusable:
    """As when the system needs the memory for somebody else."""
    signal.raise_signal(9)
    return Unusable(Flaw.EMPTY)


Reader = Callable[[Callable[[Path], object]], list[object]]
Looked = Callable[[str], Checked[Footage]]


@pytest.fixture
def looked(clip: Clip, cache: Cache) -> Looked:
    """Look into one of the clips under the same name, as a build does."""
    return lambda name: inspect(clip(name, 0.8), cache)


@pytest.fixture
def reader(monkeypatch: pytest.MonkeyPatch) -> Reader:
    """Put another in the decoder's place; a list grows with everything it is asked."""

    def put(reads: Callable[[Path], object]) -> list[object]:
        asked: list[object] = []

        def counted(work: Callable[..., object], *told: object, seconds: float) -> object:
            asked.append(told)
            return apart(reads if work is look else work, *told, seconds=seconds)

        monkeypatch.setattr("recapgen.clips.footage.apart", counted)
        monkeypatch.setattr(
            "recapgen.clips.footage.to_look_s", lambda _: 1.0 if reads is hang else 60
        )
        return asked

    return put


@pytest.mark.parametrize(
    ("fault", "builds", "tries"), [(hang, 3, 2), (crash, 2, 1), (killed, 2, 2)]
)
def test_a_decoder_that_hangs_or_crashes_costs_the_clip_and_no_time_again(
    reader: Reader, looked: Looked, fault: Callable[[Path], object], builds: int, tries: int
) -> None:
    """What hung has a second try, as the machine may have been busy; a kill is not the file's."""
    asked = reader(fault)
    for _ in range(builds):
        footage, problems = looked("plain.mp4")
        assert footage is None
        (problem,) = problems
        assert (problem.code, problem.cost) == (Code.CLIP_NOT_READ, Cost.CLIP)
    assert len(asked) == tries


@pytest.mark.parametrize("changed", ["the file", "the recipe"])
def test_a_clip_that_was_lost_is_tried_again_where_it_or_its_reader_changed(
    reader: Reader, looked: Looked, monkeypatch: pytest.MonkeyPatch, changed: str
) -> None:
    reader(crash)
    assert looked("plain.mp4").value is None
    asked = reader(look)
    assert looked("plain.mp4").value is None
    assert asked == []
    if changed == "the recipe":
        monkeypatch.setattr("recapgen.clips.remembering.READER", "another release")
    assert looked("slow.mp4" if changed == "the file" else "plain.mp4").value is not None


@pytest.mark.parametrize("most", ["MOST_PIXELS", "MOST_PICTURES"])
def test_a_clip_beyond_what_can_be_worked_on_is_told_by_its_size(
    clip: Clip, monkeypatch: pytest.MonkeyPatch, most: str
) -> None:
    monkeypatch.setattr(f"recapgen.tools.media.recording.{most}", 60)
    seen = look(clip("plain.mp4", None).path)
    assert isinstance(seen, Unusable)
    assert seen.flaw is Flaw.TOO_LARGE
    assert seen.detail.startswith("270 x 480")


_LOOKING = """
import sys
from pathlib import Path
from recapgen.clips.footage import inspect
from recapgen.model.lesson import ClipFile
from recapgen.model.source import SourceRef
from recapgen.tools.apart import end_all
from recapgen.tools.cache import Cache
path, at = Path(sys.argv[1]), SourceRef("notes.md", 1, 1)
footage, problems = inspect(ClipFile(path, at, None, None, None, 0.3, at), Cache(path.parent / "c"))
end_all()
print("shown" if footage else problems[0].code.slug)
"""


@pytest.mark.campaign
@pytest.mark.parametrize("name", CLIPS)
def test_a_hostile_clip_needs_neither_much_memory_nor_long(tmp_path: Path, name: str) -> None:
    """Both of the reader in its own process, and of who asks it."""
    (tmp_path / "made").mkdir()
    path = tmp_path / name
    path.write_bytes(CLIPS[name](tmp_path / "made" / name))
    words = [sys.executable, "-c", _LOOKING, str(path)]
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        told = running.stdout.read().strip()
        _, ended, used = os.wait4(running.pid, 0)  # the most of it and of who read for it
        running.returncode = os.waitstatus_to_exitcode(ended)
    took = used.ru_utime + used.ru_stime
    sys.stderr.write(f"{name}: {told}, {took:.1f} s, {used.ru_maxrss / 1024:.0f} MB\n")
    assert running.returncode == 0
    assert told
    assert took < MOST_S
    assert used.ru_maxrss * 1024 < MOST_BYTES
