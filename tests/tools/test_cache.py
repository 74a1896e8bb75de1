"""The cache: found only when whole, made only once, and nothing half-made ever counts."""

import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.tools.cache import Cache, digest_of_file, key_for

KEY = key_for("a recipe", 1)

KILLED_HALF_WAY = """
import sys, time
from pathlib import Path
from recapgen.tools.cache import Cache

def make(into):
    (into / "film.mp4").write_bytes(b"half")
    print("writing", flush=True)
    time.sleep(60)

Cache(Path(sys.argv[1])).find_or_make(sys.argv[2], make)
"""


def write(into: Path) -> None:
    (into / "film.mp4").write_bytes(b"whole")


def test_an_entry_is_made_once_and_found_again(tmp_path: Path) -> None:
    cache = Cache(tmp_path / "cache")
    assert cache.find(KEY) is None
    entry = cache.find_or_make(KEY, write)
    assert (entry / "film.mp4").read_bytes() == b"whole"

    def again(_: Path) -> None:
        pytest.fail("made again")

    assert cache.find_or_make(KEY, again) == entry
    assert [e.name for e in cache.folder.iterdir()] == [KEY]


@pytest.mark.parametrize("content", [b"whol", b"whole!", b"whale", None])
def test_an_entry_that_was_cut_or_changed_is_made_again(
    content: bytes | None, tmp_path: Path
) -> None:
    cache = Cache(tmp_path)
    film = cache.find_or_make(KEY, write) / "film.mp4"
    if content is None:
        film.unlink()
    else:
        film.write_bytes(content)
    assert cache.find(KEY) is None
    assert (cache.find_or_make(KEY, write) / "film.mp4").read_bytes() == b"whole"


@pytest.mark.parametrize("listing", [b"", b"[]", b'{"film.mp4": 3}', b"\xff"])
def test_an_entry_with_a_broken_list_is_made_again(listing: bytes, tmp_path: Path) -> None:
    cache = Cache(tmp_path)
    (cache.find_or_make(KEY, write) / "entry.json").write_bytes(listing)
    assert (cache.find_or_make(KEY, write) / "film.mp4").read_bytes() == b"whole"
    assert cache.find(KEY) is not None


def test_work_that_fails_leaves_nothing(tmp_path: Path) -> None:
    def fail(into: Path) -> None:
        write(into)
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        Cache(tmp_path).find_or_make(KEY, fail)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL")
def test_work_that_is_killed_never_counts_and_is_swept_up(tmp_path: Path) -> None:
    worker = subprocess.Popen(
        [sys.executable, "-c", KILLED_HALF_WAY, str(tmp_path), KEY], stdout=subprocess.PIPE
    )
    assert worker.stdout is not None
    assert worker.stdout.readline() == b"writing\n"
    os.kill(worker.pid, signal.SIGKILL)
    worker.communicate()
    cache = Cache(tmp_path)
    assert list(tmp_path.rglob("film.mp4"))
    assert cache.find(KEY) is None
    assert (cache.find_or_make(KEY, write) / "film.mp4").read_bytes() == b"whole"
    later = time.time() + 60
    os.utime(tmp_path / KEY / "entry.json", (later, later))
    cache.clear_unused(since=later - 1)
    assert [e.name for e in tmp_path.iterdir()] == [KEY]


def test_what_was_not_used_lately_is_cleared(tmp_path: Path) -> None:
    cache = Cache(tmp_path)
    for key in ("old", "new"):
        listing = cache.find_or_make(key, write) / "entry.json"
        os.utime(listing, (1000, 1000))
    cache.find("new")
    cache.clear_unused(since=2000)
    assert cache.find("old") is None
    assert cache.find("new") is not None


def test_a_text_is_made_once_and_again_where_it_is_broken(tmp_path: Path) -> None:
    cache = Cache(tmp_path / "cache")
    made: list[str] = []

    def make() -> str:
        made.append("")
        return "<svg>\n\u5909</svg>"

    assert cache.find_or_make_text(KEY, make) == cache.find_or_make_text(KEY, make)
    assert len(made) == 1
    entry = cache.folder / KEY
    for broken in (b"", b"\xff\n", entry.read_bytes()[:-1], entry.read_bytes() + b" "):
        entry.write_bytes(broken)
        assert cache.find_or_make_text(KEY, make) == "<svg>\n\u5909</svg>"
    assert len(made) == 5
    assert [e.name for e in cache.folder.iterdir()] == [KEY]


def test_texts_that_were_not_used_lately_or_not_finished_are_cleared(tmp_path: Path) -> None:
    cache = Cache(tmp_path)
    for key in ("old", "new"):
        cache.find_or_make_text(key, lambda: "text")
        os.utime(tmp_path / key, (1000, 1000))
    cache.find_or_make_text("new", lambda: "text")
    (tmp_path / "making-x").write_text("half")
    cache.clear_unused(since=2000)
    cache.clear_unfinished()
    assert [e.name for e in tmp_path.iterdir()] == ["new"]


def test_two_workers_with_the_same_work_both_get_it(tmp_path: Path) -> None:
    cache = Cache(tmp_path)
    both_there = threading.Barrier(2)
    found: list[Path] = []

    def slow(into: Path) -> None:
        write(into)
        both_there.wait(timeout=60)

    workers = [
        threading.Thread(target=lambda: found.append(cache.find_or_make(KEY, slow)))
        for _ in range(2)
    ]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert found == [tmp_path / KEY] * 2
    assert [e.name for e in tmp_path.iterdir()] == [KEY]


@given(st.lists(st.text() | st.integers()), st.lists(st.text() | st.integers()))
def test_different_parts_have_different_keys(one: list[str | int], other: list[str | int]) -> None:
    assert (key_for(*one) == key_for(*other)) == (one == other)


def test_a_digest_is_of_the_content_alone(tmp_path: Path) -> None:
    for name, content in (("a", b"same"), ("b", b"same"), ("c", b"other")):
        (tmp_path / name).write_bytes(content)
    a, b, c = (digest_of_file(tmp_path / name) for name in "abc")
    assert a == b != c
    assert len(a) == 32
