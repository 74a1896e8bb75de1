"""Runs forked from a process that has read the program once, and killed where they are told to.

A run of its own would take seconds to begin; a fork takes none.
"""

import multiprocessing
import os
import random
import shutil
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
from recapgen.tools import template_folder
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
    """How a run ended: its code or minus its signal, and what it said.

    ``events`` and ``took_s`` are of a run that went to its end.
    """

    code: int
    err: str
    events: int
    took_s: float


class Runs:
    """The process that forks runs of the command line."""

    def __init__(self, pipe: Connection, folder: Path) -> None:
        self._pipe, self._folder = pipe, folder

    def warm(self, lessons: Path, day: str) -> Path:
        """A build in the process that the others are forked from, which keeps what it has read.

        The converter of drawings starts threads, which a fork would lose: all that this build
        asks for has been drawn by another, and is found. Gives what that other built.
        """
        drawn, warm = self._folder / "drawn", self._folder / "warm"
        self._ask(None, ("build", lessons, "--today", day, "--out", drawn), None, forked=True)
        shutil.copytree(drawn / ".recapgen" / "cache", warm / ".recapgen" / "cache")
        self._ask(None, ("build", lessons, "--today", day, "--out", warm), None, forked=False)
        shutil.rmtree(warm)
        return drawn

    def run(self, blow: Blow | None, *told: str | Path, template: Path | None = None) -> Ended:
        """One run, struck by ``blow``, with the pages' templates of the folder ``template``."""
        return self._ask(blow, told, template, forked=True)

    def _ask(
        self,
        blow: Blow | None,
        told: tuple[str | Path, ...],
        template: Path | None,
        *,
        forked: bool,
    ) -> Ended:
        self._pipe.send((blow, [str(word) for word in told], template, forked))
        code: int = self._pipe.recv()
        err = (self._folder / "err").read_text("utf-8")
        count = self._folder / "count"
        events, took = count.read_text("utf-8").split() if count.exists() else ("0", "0")
        return Ended(code, err, int(events), float(took))


@contextmanager
def runs_in(folder: Path) -> Iterator[Runs]:
    """For as long as it is needed; ``folder`` is for what runs say and for temporary files."""
    (folder / "tmp").mkdir(parents=True)
    here, there = multiprocessing.Pipe()
    server = multiprocessing.get_context("spawn").Process(
        target=_serve, args=(there, folder), daemon=True
    )
    server.start()
    there.close()
    try:
        yield Runs(here, folder)
    finally:
        here.close()
        server.join(10)


def _serve(pipe: Connection, folder: Path) -> None:
    os.environ["TMPDIR"] = str(folder / "tmp")
    for stream, name in ((1, "out"), (2, "err")):
        os.dup2(os.open(folder / name, os.O_WRONLY | os.O_CREAT | os.O_APPEND), stream)
    while True:
        try:
            blow, told, template, forked = pipe.recv()
        except EOFError:
            return
        os.truncate(2, 0)
        (folder / "count").unlink(missing_ok=True)
        if not forked:
            pipe.send(_run(told))
            end_all()  # a fork would share the pipes to who reads clips
            continue
        child = os.fork()
        if child == 0:
            _struck(blow, told, template, folder)
        _, status = os.waitpid(child, 0)
        pipe.send(os.waitstatus_to_exitcode(status))


def _run(told: list[str]) -> int:
    sys.argv = ["recapgen", *told]
    try:
        main()
    except SystemExit as ended:
        return int(ended.code or 0)
    return 0


def _struck(blow: Blow | None, told: list[str], template: Path | None, folder: Path) -> None:
    began, events, code = time.process_time(), _strike_at(blow), 99
    if template is not None:
        _take_templates_from(template)
    try:
        code = _run(told)
    finally:
        sys.stderr.flush()
        (folder / "count").write_text(f"{events[0]} {time.process_time() - began}", "utf-8")
        os._exit(code)


def _take_templates_from(folder: Path) -> None:
    """``folder`` lies where an installed package has its own; nothing read of others is kept."""
    if template_folder.template_folder() == folder:
        return
    template_folder._PACKAGE = folder.parent  # noqa: SLF001 - the one place that knows
    for name, module in list(sys.modules.items()):
        if name.startswith("recapgen."):
            for held in vars(module).values():
                if clear := getattr(held, "cache_clear", None):
                    clear()


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
