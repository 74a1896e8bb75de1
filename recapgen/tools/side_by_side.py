"""The same work for many, in processes side by side that end with this one.

A helper is a plain interpreter with our own path, for the reasons of D-063, and without limits:
what it reads of nobody's files goes to a process of its own there as it does here.
"""

import ctypes
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from types import TracebackType
from typing import Any, Self, TypeVar

from msgspec import Struct, field

from recapgen.tools.apart import end_all, receive, send

T = TypeVar("T")
R = TypeVar("R")

_PARENT_DEATH_SIGNAL = 1  # PR_SET_PDEATHSIG of prctl(2)
_LOOK_S = 0.2


class Threads:
    """Threads of a process, begun when first needed; a copy sent to another process has its own."""

    def __init__(self, most: int) -> None:
        self.most = most
        self._pool: ThreadPoolExecutor | None = None

    def __reduce__(self) -> tuple[type["Threads"], tuple[int]]:
        return Threads, (self.most,)

    def map(self, work: Callable[[T], R], each: Sequence[T]) -> Iterator[R]:
        """What ``work`` gives for each, in order; all are under way at once."""
        if self._pool is None:
            self._pool = ThreadPoolExecutor(self.most)
        return self._pool.map(work, each)

    def shutdown(self) -> None:
        """Wait for what has begun; what has not is never begun."""
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)


class Crew(Struct):
    """Up to ``most`` helpers, begun when there is work for two of them."""

    most: int
    _helpers: list[subprocess.Popen[bytes]] = field(default_factory=list)
    _idle: list[subprocess.Popen[bytes]] = field(default_factory=list)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        for helper in self._helpers:
            helper.terminate()
        for helper in self._helpers:
            for pipe in (helper.stdin, helper.stdout):
                with suppress(OSError):
                    if pipe is not None:
                        pipe.close()
            helper.wait()

    def each(self, work: Callable[[T], R], given: Sequence[T]) -> Iterator[R | None]:
        """What ``work``, a function of a module, gives for each, in order.

        None where it raised something or its helper was lost: the caller does that one again.
        """
        with ThreadPoolExecutor(self.most) as pool:
            try:
                yield from pool.map(lambda one: self._ask(work, one), given)
            except BaseException:
                self.__exit__(None, None, None)  # so that nobody waits for an answer
                pool.shutdown(wait=False, cancel_futures=True)
                raise

    def _ask(self, work: Callable[[T], R], one: T) -> R | None:
        with self._lock:
            helper = self._idle.pop() if self._idle else self._start()
        try:
            send(_open(helper.stdin), (work, one))
            done, answer = receive(_open(helper.stdout))
        except (OSError, EOFError, ValueError):
            return None
        with self._lock:
            self._idle.append(helper)
        return answer if done else None

    def _start(self) -> subprocess.Popen[bytes]:
        begin = (
            f"import sys; sys.path[:] = {sys.path!r}; import recapgen.tools.side_by_side as crew"
        )
        helper = subprocess.Popen(  # noqa: S603 - this interpreter and our own words
            [sys.executable, "-I", "-S", "-X", f"utf8={sys.flags.utf8_mode}", "-c",
             f"{begin}; crew.serve({os.getpid()})"],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        self._helpers.append(helper)
        return helper


def serve(parent: int) -> None:
    """The life of a helper: task after task, until nobody asks or ``parent`` is no more."""
    _end_with(parent)
    tasks, answers = os.fdopen(os.dup(0), "rb"), os.fdopen(os.dup(1), "wb")
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1):  # whatever a library reads or prints
        os.dup2(nothing, stream)
    while True:
        try:
            work, one = receive(tasks)
        except EOFError:
            end_all()
            return
        try:
            told: tuple[bool, Any] = True, work(one)
        except Exception:  # noqa: BLE001 - it is done over by who asked, and told of there
            told = False, None
        send(answers, told)


def _end_with(parent: int) -> None:
    """Whatever becomes of the parent, this process and what it began end with it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # it is for the parent, which ends its helpers
    signal.signal(signal.SIGTERM, _end)
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(_PARENT_DEATH_SIGNAL, signal.SIGTERM)
    threading.Thread(target=_watch, args=(parent,), daemon=True).start()


def _watch(parent: int) -> None:
    while sys.platform == "win32" or os.getppid() == parent:
        time.sleep(_LOOK_S)
    _end()


def _end(*_: object) -> None:
    end_all()
    os._exit(1)


def _open(pipe: Any) -> Any:  # noqa: ANN401 - a pipe that subprocess may not have made
    assert pipe is not None  # noqa: S101 - both are pipes
    return pipe
