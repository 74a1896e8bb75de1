"""Whatever work in a process of its own does, it comes back as a loss, and the next is done."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from recapgen.tools.apart import Loss, LostError, apart, end_all, interruptible, watched

_PATIENT_S = 60.0


def test_what_is_worked_out_comes_back_with_the_machine_s_own_faults() -> None:
    assert apart(sorted, (3, 1, 2), seconds=_PATIENT_S) == [1, 2, 3]
    with pytest.raises(FileNotFoundError, match="No such file"):
        apart(os.stat, "/nowhere/at/all", seconds=_PATIENT_S)


@pytest.mark.parametrize(
    ("loss", "work", "told", "seconds"),
    [
        (Loss.TIME, time.sleep, 60, 0.5),
        (Loss.CRASH, os._exit, 0, _PATIENT_S),
        (Loss.CRASH, os.abort, None, _PATIENT_S),
        pytest.param(
            Loss.KILLED, signal.raise_signal, 9, _PATIENT_S,
            marks=pytest.mark.skipif(sys.platform == "win32", reason="no such signal here"),
        ),
        (Loss.FAULT, int, "no number", _PATIENT_S),
        pytest.param(
            Loss.MEMORY, bytes, 2 << 30, _PATIENT_S,
            marks=pytest.mark.skipif(sys.platform != "linux", reason="no such limit here"),
        ),
    ],
)  # fmt: skip
def test_a_loss_is_told_by_its_kind_and_the_next_work_is_done(
    loss: Loss, work: Callable[..., object], told: object, seconds: float
) -> None:
    with pytest.raises(LostError) as lost:
        apart(work, *(() if told is None else (told,)), seconds=seconds)
    assert lost.value.loss is loss
    assert apart(abs, -4, seconds=_PATIENT_S) == 4


def kept_waiting(work_s: float, of_s: float, turns: int) -> float:
    """As on a busy machine: a little work, and a long wait for the processor."""
    began = time.process_time()
    for turn in range(1, turns + 1):
        while time.process_time() - began < turn * work_s:
            pass
        time.sleep(of_s)
    return time.process_time() - began


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere the clock counts")
def test_what_waits_for_the_processor_is_not_late_and_what_uses_it_too_long_is() -> None:
    assert apart(kept_waiting, 0.05, 0.2, 8, seconds=0.6) >= 0.4
    with pytest.raises(LostError) as lost:
        apart(kept_waiting, 60.0, 0.0, 1, seconds=0.6)
    assert lost.value.loss is Loss.TIME


def test_a_process_is_used_again_and_what_a_library_prints_is_nobody_s_answer() -> None:
    first = apart(os.getpid, seconds=_PATIENT_S)
    assert apart(os.write, 1, b"printed", seconds=_PATIENT_S) == len(b"printed")
    assert apart(os.getpid, seconds=_PATIENT_S) == first
    assert first != os.getpid()


def test_modules_of_the_folder_in_which_it_runs_are_never_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "pickle.py").write_text("raise SystemExit", encoding="utf-8")
    end_all()
    monkeypatch.chdir(tmp_path)
    assert apart(abs, -4, seconds=_PATIENT_S) == 4


def wait_for(program: subprocess.Popen[bytes]) -> None:
    with watched(program, 1 << 30):
        program.wait()


def test_an_interrupt_ends_whatever_works_for_the_run_and_lets_nothing_more_begin() -> None:
    began = time.monotonic()
    with (
        ThreadPoolExecutor(2) as pool,
        subprocess.Popen([sys.executable, "-c", "import time; time.sleep(60)"]) as program,
    ):
        with pytest.raises(KeyboardInterrupt), interruptible():  # noqa: PT012 - work goes on meanwhile
            waiting = pool.submit(apart, time.sleep, 60, seconds=_PATIENT_S)
            pool.submit(wait_for, program)
            assert apart(abs, -4, seconds=_PATIENT_S) == 4
            raise KeyboardInterrupt
        later = pool.submit(apart, time.sleep, 60, seconds=_PATIENT_S)
        for lost in (waiting, later):
            with pytest.raises(LostError):
                lost.result()
        assert program.wait() != 0
    assert time.monotonic() - began < 30
    with interruptible():
        assert apart(abs, -4, seconds=_PATIENT_S) == 4
