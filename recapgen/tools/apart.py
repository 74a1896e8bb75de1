"""Work on untrusted files, in a process of its own with limits.

Whatever happens there, a crash of a decoder, a hang, too much memory, comes back as a loss.
How much time work may take holds on every system; on Linux it is the processor's time, so that a
busy machine costs nobody a clip, elsewhere the clock's. How much memory holds on Linux alone, since
macOS and Windows have no such limit for one process.
"""

import atexit
import os
import pickle
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from enum import StrEnum
from pathlib import Path
from typing import IO, Any, TypeVar

from msgspec import Struct

if sys.platform != "win32":
    import resource

T = TypeVar("T")

MOST_MEMORY_BYTES = 1 << 30
_LENGTH_BYTES = 8
_DYING_S = 5.0
_MOST_TURNS = 20  # how many times as long as it may work it may wait for the processor
_AT_WORK = 0.01  # of a turn: with less it hangs, and is not only kept waiting
# 1 is what Windows gives a process that is ended, and Python one that could not begin.
_FROM_OUTSIDE = (1, -signal.SIGINT, -signal.SIGTERM, -9)
_ONE_THREAD = dict.fromkeys(("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"), "1")


class Loss(StrEnum):
    """How work ended without a result."""

    TIME = "time"
    MEMORY = "memory"
    CRASH = "crash"
    KILLED = "killed"  # from outside: by the system, or by an interrupt
    FAULT = "fault"


class LostError(Exception):
    """The work gave nothing; ``loss`` says why, ``kind`` what was raised there, if anything."""

    def __init__(self, loss: Loss, kind: str = "") -> None:
        super().__init__(f"{loss} {kind}".strip())
        self.loss = loss


def apart(work: Callable[..., T], *arguments: object, seconds: float) -> T:
    """What ``work(*arguments)`` returns, worked out in another process within ``seconds`` of work.

    ``work`` is a function of a module; it, its arguments and its result are pickled. Raises
    OSError where it does, and LostError for everything else. Processes are used again, one for
    each thread that asks at a time.
    """
    worker = _bench.take()
    try:
        good, given = worker.ask((work, arguments), seconds)
    except BaseException:
        _bench.dismiss(worker)
        raise
    _bench.give_back(worker)
    if good:
        return given  # type: ignore[no-any-return]  # what came out of ``work``
    if isinstance(given, OSError):
        raise given
    raise LostError(*given)


@contextmanager
def watched(process: subprocess.Popen[bytes], most_memory_bytes: int) -> Iterator[None]:
    """A program of another's, limited in memory where the system can, for as long as it runs.

    It ends with the rest where this run is interrupted.
    """
    if sys.platform == "linux":
        with suppress(ProcessLookupError):  # it has ended already
            resource.prlimit(process.pid, resource.RLIMIT_DATA, (most_memory_bytes,) * 2)
    _bench.busy(process)
    try:
        yield
    finally:
        _bench.done(process)


@contextmanager
def interruptible() -> Iterator[None]:
    """Where this is interrupted, everything that runs for it ends, and nothing more begins."""
    _bench.closed = False
    try:
        yield
    except KeyboardInterrupt:
        _bench.closed = True
        end_all()
        raise


def end_all() -> None:
    """End every process at once, whatever it is working on: no result is waited for."""
    _bench.end_all()


class _Worker(Struct):
    process: subprocess.Popen[bytes]
    late: bool = False

    @classmethod
    def start(cls) -> "_Worker":
        """With the modules of this process, wherever the coach's folder would offer others."""
        begin = f"import sys; sys.path[:] = {sys.path!r}; from recapgen.tools.apart import serve"
        process = subprocess.Popen(  # noqa: S603 - this interpreter and our own words
            [sys.executable, "-I", "-S", "-X", f"utf8={sys.flags.utf8_mode}", "-c",
             f"{begin}; serve()"],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
            env={**os.environ, **_ONE_THREAD},
        )  # fmt: skip
        return cls(process)

    def ask(self, work: object, seconds: float) -> tuple[bool, Any]:
        """Whether it was done, with what it gave or why it gave nothing."""
        assert self.process.stdin is not None  # noqa: S101 - both are pipes
        assert self.process.stdout is not None  # noqa: S101
        clock = _Clock(self, seconds)
        clock.begin()
        try:
            send(self.process.stdin, work)
            answer: tuple[bool, Any] = receive(self.process.stdout)
        except (OSError, EOFError, pickle.UnpicklingError):
            raise LostError(Loss.TIME if self.late else self._how_it_ended()) from None
        finally:
            clock.stop()
        return answer

    def _how_it_ended(self) -> Loss:
        try:
            ended = self.process.wait(_DYING_S)
        except subprocess.TimeoutExpired:
            return Loss.CRASH  # it lives and makes no sense
        return Loss.KILLED if ended in _FROM_OUTSIDE else Loss.CRASH

    def too_late(self) -> None:
        self.late = True
        self.process.kill()

    def end(self) -> None:
        self.process.kill()
        for pipe in (self.process.stdin, self.process.stdout):
            if pipe is not None:
                try:
                    pipe.close()
                except OSError:
                    continue  # what was not sent yet
        self.process.wait()


class _Clock:
    """Ends a worker that works too long or hangs, not one that a busy machine keeps waiting."""

    def __init__(self, worker: _Worker, seconds: float) -> None:
        self._worker = worker
        self._seconds = seconds
        self._turns = 0
        self._from_s = self._last_s = _processor_s(worker.process.pid)
        self._timer = threading.Timer(seconds, self._look)

    def begin(self) -> None:
        self._timer.daemon = True
        self._timer.start()

    def stop(self) -> None:
        self._turns = _MOST_TURNS
        self._timer.cancel()

    def _look(self) -> None:
        now_s = _processor_s(self._worker.process.pid)
        worked_s, lately_s = now_s - self._from_s, now_s - self._last_s
        self._turns += 1
        at_work = lately_s > _AT_WORK * self._seconds
        if worked_s >= self._seconds or not at_work or self._turns >= _MOST_TURNS:
            self._worker.too_late()
            return
        self._last_s = now_s
        self._timer = threading.Timer(self._seconds, self._look)
        self.begin()


def _processor_s(pid: int) -> float:
    """Processor seconds a process has used; 0 where the system does not tell, or it has ended."""
    try:
        fields = Path(f"/proc/{pid}/stat").read_text("ascii", "replace").rpartition(")")[2].split()
    except OSError:
        return 0.0
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


class _Bench:
    """The processes: those that wait for work, and those that have some."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self.forget()

    def forget(self) -> None:
        """In a copy of this process the workers are somebody else's."""
        self._lock = threading.Lock()
        self._idle: list[_Worker] = []
        self._busy: list[subprocess.Popen[bytes]] = []
        self.closed = False

    def take(self) -> _Worker:
        with self._lock:
            worker = self._idle.pop() if self._idle else None
        worker = worker or _Worker.start()
        self.busy(worker.process)
        return worker

    def give_back(self, worker: _Worker) -> None:
        self.done(worker.process)
        with self._lock:
            self._idle.append(worker)

    def dismiss(self, worker: _Worker) -> None:
        self.done(worker.process)
        worker.end()

    def busy(self, process: subprocess.Popen[bytes]) -> None:
        with self._lock:
            self._busy.append(process)
            if self.closed:
                process.kill()

    def done(self, process: subprocess.Popen[bytes]) -> None:
        with self._lock:
            self._busy.remove(process)

    def end_all(self) -> None:
        with self._lock:
            idle, self._idle = self._idle, []
            for process in self._busy:
                process.kill()  # whoever waits for it takes it away
        for worker in idle:
            worker.end()


_bench = _Bench()
atexit.register(end_all)
if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_bench.forget)


def serve() -> None:
    """The life of a process that works for another: task after task, until its pipe is closed."""
    tasks = os.fdopen(os.dup(0), "rb")
    answers = os.fdopen(os.dup(1), "wb")
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1):  # whatever a library reads or prints
        os.dup2(nothing, stream)
    _set_limits()
    while True:
        try:
            work, arguments = receive(tasks)
        except EOFError:
            return
        send(answers, _done(work, arguments))


def _done(work: Callable[..., object], arguments: tuple[object, ...]) -> tuple[bool, object]:
    try:
        return True, work(*arguments)
    except MemoryError:
        return False, (Loss.MEMORY,)
    except OSError as fault:
        if fault.errno is not None and type(fault).__module__ == "builtins":
            return False, type(fault)(fault.errno, fault.strerror)
        return False, (Loss.FAULT, type(fault).__name__)
    except Exception as fault:  # noqa: BLE001 - that is what this process is for
        return False, (Loss.FAULT, type(fault).__name__)


def _set_limits() -> None:
    """Of memory what the system can limit; and no image of the memory on disk after a crash."""
    if sys.platform == "win32":
        return
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    if sys.platform == "linux":
        resource.setrlimit(resource.RLIMIT_DATA, (MOST_MEMORY_BYTES, MOST_MEMORY_BYTES))


def send(pipe: IO[bytes], what: object) -> None:
    """Write ``what`` for the process at the other end. Raises OSError."""
    packed = pickle.dumps(what, pickle.HIGHEST_PROTOCOL)
    pipe.write(len(packed).to_bytes(_LENGTH_BYTES, "big"))
    pipe.write(packed)
    pipe.flush()


def receive(pipe: IO[bytes]) -> Any:  # noqa: ANN401 - whatever was sent
    """What the process at the other end sent. Raises EOFError where that is closed."""
    length = int.from_bytes(_exactly(pipe, _LENGTH_BYTES), "big")
    return pickle.loads(_exactly(pipe, length))  # noqa: S301 - from a process that we started


def _exactly(pipe: IO[bytes], count: int) -> bytes:
    got = pipe.read(count)
    if len(got) < count:
        raise EOFError
    return got
