"""Small lessons folders made for a test, and the command line run on them as a coach does."""

import multiprocessing
import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from recapgen.__main__ import main

ROOT = Path(__file__).parents[2]
SAMPLES = ROOT / "sample_lessons"
TODAY = "2027-06-01"

NOTES = """---
intent: {intent}
club: driver
number: club path
chosen: before the after-shots
want: 2 left to 2 right
matters: 1 deg
---
Keep the wall behind you.
"""
STUDENT = """name: {name}
hand: right
agreed: {{page: yes, clips: yes, body: yes, cases: {cases}}}
"""
BEFORE = (6.3, 5.8, 7.1, 6.0, 6.6, 5.5, 6.9, 6.2, 7.4, 5.9)
AFTER = (0.8, 1.2, 0.3, -0.4, 1.6, 0.9, 0.1, 1.1, 0.6, 1.9)


@dataclass(frozen=True, slots=True)
class Ran:
    """A finished run of the command line."""

    code: int
    out: str
    err: str


# Runs are forked from a process that has read the modules once: most of a small build is that.
_WARM = multiprocessing.get_context("forkserver")
_WARM.set_forkserver_preload(["tests.end_to_end.warm"])


def recapgen(*words: str | Path, env: dict[str, str] | None = None) -> Ran:
    """Run the tool in a process of its own; with ``env`` in one that is wholly new."""
    if env is not None:
        return _started(words, env)
    with TemporaryDirectory() as folder:
        told = Path(folder)
        running = _WARM.Process(
            target=_forked,
            args=([*map(str, words)], told, dict(os.environ), Path.cwd(), _umask()),
        )
        running.start()
        running.join()
        code = running.exitcode
        running.close()
        assert code is not None
        out, err = ((told / name).read_text(encoding="utf-8") for name in ("out", "err"))
    return Ran(code, out, err)


def _umask() -> int:
    usual = os.umask(0o022)
    os.umask(usual)
    return usual


def _forked(words: Sequence[str], told: Path, env: dict[str, str], here: Path, umask: int) -> None:
    for stream, name in ((1, "out"), (2, "err")):
        os.dup2(os.open(told / name, os.O_WRONLY | os.O_CREAT), stream)
    os.environ.clear()
    os.environ.update(env)
    os.chdir(here)
    os.umask(umask)
    sys.argv = ["recapgen", *words]
    main()


def _started(words: Sequence[str | Path], env: dict[str, str]) -> Ran:
    done = subprocess.run(
        [sys.executable, "-m", "recapgen", *map(str, words)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
        env={**os.environ, **env},
    )
    return Ran(done.returncode, done.stdout, done.stderr)


def add_student(root: Path, name: str, cases: str = "no") -> Path:
    """A student's folder with one lesson in it; the lesson's folder."""
    lesson = root / f"{name.lower()}-folder" / "2027-04-11"
    lesson.mkdir(parents=True)
    (lesson.parent / "student.yml").write_text(
        STUDENT.format(name=name, cases=cases), encoding="utf-8"
    )
    notes = NOTES.format(intent=f"Slide along the wall until you count {len(name)}")
    (lesson / "notes.md").write_text(notes, encoding="utf-8")
    (lesson / "shots.csv").write_text(shots_csv(), encoding="utf-8")
    return lesson


def shots_csv() -> str:
    """A table of two blocks of one number."""
    rows = ["Shot,Phase,Club Path [deg; + right]"]
    for block, values in (("before", BEFORE), ("after", AFTER)):
        rows += [f"{len(rows) + i},{block},{value}" for i, value in enumerate(values)]
    return "\n".join(rows) + "\n"


def sites(out: Path) -> dict[str, Path]:
    """Each published student's folder, by the shown name on its home page."""
    found = {}
    for home in sorted((out / "site").glob("*/index.html")):
        text = home.read_text(encoding="utf-8")
        for name in ("Brida", "Corvin", "Dorn"):
            if name in text:
                found[name] = home.parent
    return found


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below ``folder``, by its path."""
    return {
        file.relative_to(folder).as_posix(): file.read_bytes()
        for file in sorted(folder.rglob("*"))
        if file.is_file()
    }
