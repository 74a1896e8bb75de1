"""What whole books of invented lessons cost, in processor seconds of the program's own process.

Cold, with nothing changed, with one word changed in one note, and a check. Seconds go with the
machine and with what else it does, so what is held here are shares of one and the same run.
"""

import os
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from resource import RUSAGE_CHILDREN, getrusage

import pytest

from tests.benchmarks.whole_books import AFTER_ALL, lay_out
from tests.end_to_end.small_lessons import ROOT

pytestmark = pytest.mark.campaign

LESSONS_EACH = 10
# Runs the command line, and says at its end how much of it went into drawing.
TIMED = """
import sys, time
from recapgen.render.charts import drawing
spent = 0.0
def timed(work):
    def call(*given):
        global spent
        began = time.process_time()
        done = work(*given)
        spent += time.process_time() - began
        return done
    return call
for name in ("filling", "_converted", "tidy", "_with_shots"):
    setattr(drawing, name, timed(getattr(drawing, name)))
from recapgen.cli import main
try:
    main()
finally:
    print("drawing took", spent, file=sys.stderr)
"""


@dataclass(frozen=True, slots=True)
class Cost:
    """Processor seconds of one run, and those of them that went into drawing."""

    whole_s: float
    charts_s: float


def run(*words: str | Path) -> Cost:
    before = getrusage(RUSAGE_CHILDREN)
    done = subprocess.run(
        [sys.executable, "-c", TIMED, *map(str, words), "--today", AFTER_ALL.isoformat()],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    after = getrusage(RUSAGE_CHILDREN)
    assert done.returncode == 0, done.stderr
    drawing = re.search(r"drawing took ([\d.e-]+)", done.stderr)
    assert drawing is not None
    whole = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return Cost(whole, float(drawing[1]))


def measured(folder: Path, students: int) -> dict[str, Cost]:
    lessons, out = folder / "lessons", folder / "out"
    lay_out(lessons, students, LESSONS_EACH)
    build = ("build", lessons, "--out", out)
    costs = {"cold": run(*build), "nothing changed": run(*build), "check": run("check", lessons)}
    note = min(lessons.glob("*/*/notes.md"))
    note.write_text(note.read_text("utf-8").replace("grip", "stance"), encoding="utf-8")
    costs["one word changed"] = run(*build)
    return costs


def tell(students: int, costs: dict[str, Cost]) -> None:
    lessons = students * LESSONS_EACH
    for name, cost in costs.items():
        each = f", {cost.whole_s / lessons:.3f} s a lesson" if name in ("cold", "check") else ""
        print(f"\n{lessons} lessons, {name}: {cost.whole_s:.2f} s{each}", end="")  # noqa: T201 - the figure is the result
    charts = costs["cold"].charts_s
    print(f"\nof the cold build, charts: {charts:.2f} s, {charts / lessons:.3f} s a lesson")  # noqa: T201


def held(costs: dict[str, Cost]) -> None:
    cold = costs["cold"]
    assert cold.charts_s <= 0.5 * cold.whole_s
    assert costs["one word changed"].charts_s <= 0.2 * cold.charts_s
    assert costs["one word changed"].whole_s <= 0.6 * cold.whole_s
    assert costs["check"].whole_s <= 0.6 * cold.whole_s
    assert costs["nothing changed"].charts_s == 0


def test_two_hundred_lessons(
    tmp_path: Path, record_property: Callable[[str, object], None]
) -> None:
    costs = measured(tmp_path, 20)
    for name, cost in costs.items():
        record_property(name, round(cost.whole_s, 2))
    tell(20, costs)
    held(costs)


def test_two_thousand_lessons(
    tmp_path: Path, record_property: Callable[[str, object], None]
) -> None:
    costs = measured(tmp_path, 200)
    for name, cost in costs.items():
        record_property(name, round(cost.whole_s, 2))
    tell(200, costs)
    held(costs)
