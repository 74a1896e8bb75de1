"""Helpers do the same as this process, in order, and none is left behind."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from recapgen.tools.side_by_side import Crew, Threads
from tests.end_to_end.small_lessons import ROOT

ENDING = """
import os, sys, time
from recapgen.tools.side_by_side import Crew
from tests.tools.test_side_by_side import sleep_long
with Crew(2) as crew:
    print(os.getpid(), flush=True)
    list(crew.each(sleep_long, [1, 2]))
"""


def squared(number: int) -> int:
    if number == 3:
        raise ValueError(number)
    return number * number


def lost(number: int) -> int:
    if number == 2:
        os._exit(1)
    return number


def whose(_: int) -> int:
    return os.getpid()


def sleep_long(_: int) -> None:
    time.sleep(60)


def doubled(number: int) -> int:
    return 2 * number


def sends_threads(threads: Threads) -> list[int]:
    return list(threads.map(doubled, [1, 2, 3]))


def test_each_in_order_and_what_raises_is_left_to_who_asked() -> None:
    with Crew(2) as crew:
        assert list(crew.each(squared, range(6))) == [0, 1, 4, None, 16, 25]
        assert os.getpid() not in crew.each(whose, range(4))


def test_a_helper_that_is_lost_costs_its_work_alone() -> None:
    with Crew(2) as crew:
        assert list(crew.each(lost, range(6))) == [0, 1, None, 3, 4, 5]


def test_threads_are_sent_along_as_a_number() -> None:
    threads = Threads(2)
    assert list(threads.map(doubled, [1, 2])) == [2, 4]
    with Crew(1) as crew:
        assert list(crew.each(sends_threads, [threads])) == [[2, 4, 6]]
    threads.shutdown()


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere nobody lists who is whose child")
@pytest.mark.parametrize("signal", ["KILL", "INT"])
def test_helpers_end_with_their_parent(signal: str) -> None:
    running = subprocess.Popen(
        [sys.executable, "-c", ENDING],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert running.stdout is not None
    parent = int(running.stdout.readline())
    while len(helpers := children(parent)) < 2:
        time.sleep(0.05)
    subprocess.run(["kill", f"-{signal}", str(parent)], check=True)
    running.wait(20)
    running.stdout.close()
    patience = 100
    while patience and any(map(alive, helpers)):
        time.sleep(0.1)
        patience -= 1
    assert not [each for each in helpers if alive(each)]


def children(parent: int) -> list[int]:
    told = Path(f"/proc/{parent}/task/{parent}/children").read_text("ascii").split()
    others = [
        int(each)
        for task in Path(f"/proc/{parent}/task").iterdir()
        for each in (task / "children").read_text("ascii").split()
    ]
    return sorted({*map(int, told), *others})


def alive(process: int) -> bool:
    try:
        state = Path(f"/proc/{process}/stat").read_text("ascii", "replace").rpartition(")")[2]
    except OSError:
        return False
    return state.split()[0] != "Z"
