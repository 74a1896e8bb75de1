"""Builds forked from a process that has read the program once, and killed where they are told to.

A build of its own would take seconds to begin; a fork takes none.
"""

import multiprocessing
import os
import random
import signal
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from recapgen.__main__ import main
from recapgen.tools.apart import end_all

_WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC
_EVENTS = frozenset(
    {"os.rename", "os.remove", "os.rmdir", "os.mkdir", "os.link", "os.chmod", "os.utime"}
    | {"os.truncate", "shutil.rmtree", "shutil.copyfile", "shutil.move", "tempfile.mkdtemp"}
    | {"tempfile.mkstemp", "subprocess.Popen", "ctypes.dlsym"}  # the last: two folders exchanged
)


@dataclass(frozen=True, slots=True)
class Blow:
    """A signal at the ``event``-th change of a file, or after some time of the processor."""

    signal: int
    event: int | None = None
    after_s: float | None = None


@dataclass(frozen=True, slots=True)
class Ended:
    """How a build ended: its code or minus its signal, and what it said.

    ``events`` and ``took_s`` are of a build that ran to its end.
    """

    code: int
    err: str
    events: int
    took_s: float


class Builds:
    """The process that forks builds of ``lessons``."""

    def __init__(self, pipe: Connection, folder: Path) -> None:
        self._pipe, self._folder = pipe, folder

    def warm(self, *told: str | Path) -> Ended:
        """A build in the process that the others are forked from, which keeps what it has read."""
        return self._ask(None, told, forked=False)

    def run(self, blow: Blow | None, *told: str | Path) -> Ended:
        """One build, struck by ``blow``."""
        return self._ask(blow, told, forked=True)

    def _ask(self, blow: Blow | None, told: tuple[str | Path, ...], *, forked: bool) -> Ended:
        self._pipe.send((blow, [str(word) for word in told], forked))
        code: int = self._pipe.recv()
        err = (self._folder / "err").read_text("utf-8")
        count = self._folder / "count"
        events, took = count.read_text("utf-8").split() if count.exists() else ("0", "0")
        return Ended(code, err, int(events), float(took))


@contextmanager
def builds(folder: Path) -> Iterator[Builds]:
    """For as long as it is needed; ``folder`` is for what builds say and for temporary files."""
    (folder / "tmp").mkdir(parents=True)
    here, there = multiprocessing.Pipe()
    server = multiprocessing.get_context("spawn").Process(
        target=_serve, args=(there, folder), daemon=True
    )
    server.start()
    there.close()
    try:
        yield Builds(here, folder)
    finally:
        here.close()
        server.join(10)


def _serve(pipe: Connection, folder: Path) -> None:
    os.environ["TMPDIR"] = str(folder / "tmp")
    for stream, name in ((1, "out"), (2, "err")):
        os.dup2(os.open(folder / name, os.O_WRONLY | os.O_CREAT | os.O_APPEND), stream)
    while True:
        try:
            blow, told, forked = pipe.recv()
        except EOFError:
            return
        os.truncate(2, 0)
        (folder / "count").unlink(missing_ok=True)
        if not forked:
            pipe.send(_build(told))
            end_all()  # a fork would share the pipes to who reads clips
            continue
        child = os.fork()
        if child == 0:
            _struck(blow, told, folder)
        _, status = os.waitpid(child, 0)
        pipe.send(os.waitstatus_to_exitcode(status))


def _build(told: list[str]) -> int:
    sys.argv = ["recapgen", "build", *told]
    try:
        main()
    except SystemExit as ended:
        return int(ended.code or 0)
    return 0


def _struck(blow: Blow | None, told: list[str], folder: Path) -> None:
    began, events, code = time.process_time(), _strike_at(blow), 99
    try:
        code = _build(told)
    finally:
        sys.stderr.flush()
        (folder / "count").write_text(f"{events[0]} {time.process_time() - began}", "utf-8")
        os._exit(code)


def _strike_at(blow: Blow | None) -> list[int]:
    """Set the blow up; the count of events goes on in what it gives."""
    events = [0]

    def count(event: str, args: tuple[Any, ...]) -> None:
        writes = event == "open" and isinstance(args[2], int) and args[2] & _WRITES
        if writes or event in _EVENTS:
            events[0] += 1
            if blow is not None and events[0] == blow.event:
                os.kill(os.getpid(), blow.signal)

    sys.addaudithook(count)
    if blow is not None and blow.after_s is not None:
        threading.Thread(
            target=_strike_after, args=(blow.after_s, blow.signal), daemon=True
        ).start()
    return events


def _strike_after(seconds: float, number: int) -> None:
    until = time.process_time() + seconds
    while time.process_time() < until:
        time.sleep(0.001)
    os.kill(os.getpid(), number)


def a_blow(draw: random.Random, events: int, took_s: float) -> Blow:
    """One in five is an interrupt; two in three come at a change of a file."""
    number = signal.SIGINT if draw.random() < 0.2 else signal.SIGKILL
    if draw.random() < 2 / 3:
        return Blow(number, event=draw.randrange(1, events + 1))
    return Blow(number, after_s=draw.uniform(0.0, took_s))
