"""What whole books of invented lessons cost, in processor seconds of the program's own process.

Cold, with nothing changed, with one word changed in one note, and a check; what memory the
largest process took; what wrapping the pages costs beside MkDocs as it comes, and what a second
process brings. Seconds go with the machine and with what else it does, so what is held here are
shares of one and the same run.
"""

import os
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from resource import RUSAGE_CHILDREN, getrusage
from statistics import median
from time import monotonic

import pytest

from recapgen.model.page import SiteKind
from tests.benchmarks.plain_mkdocs import built_by_us_s, site_in, wrapped_s
from tests.benchmarks.whole_books import AFTER_ALL, lay_out
from tests.end_to_end.small_lessons import ROOT

pytestmark = pytest.mark.campaign

LESSONS_EACH = 10
KIB = 1024
LEAST_OF_TWO = 1.2  # on two quiet cores more; they are seldom quiet
PAIRS = 3
# Runs the command line, and says at its end how much of it went into drawing, and the memory of
# the largest of its processes.
TIMED = """
import resource, sys, time
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
from recapgen.__main__ import main
try:
    main()
finally:
    whose = resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN
    most = max(resource.getrusage(who).ru_maxrss for who in whose)
    print("drawing took", spent, "memory", most, file=sys.stderr)
"""


@dataclass(frozen=True, slots=True)
class Cost:
    """Processor seconds of one run, those of them that went into drawing, and the clock's.

    ``memory_mb`` is that of the largest process.
    """

    whole_s: float
    charts_s: float
    clock_s: float
    memory_mb: float


@dataclass(frozen=True, slots=True)
class Measured:
    """A folder of ``lessons`` lessons, built into ``out``, and what each run of it cost."""

    lessons: int
    out: Path
    costs: dict[str, Cost]


def run(*words: str | Path) -> Cost:
    before, began = getrusage(RUSAGE_CHILDREN), monotonic()
    done = subprocess.run(
        [sys.executable, "-c", TIMED, *map(str, words), "--today", AFTER_ALL.isoformat()],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    after, clock_s = getrusage(RUSAGE_CHILDREN), monotonic() - began
    assert done.returncode == 0, done.stderr
    told = re.search(r"drawing took ([\d.e-]+) memory (\d+)", done.stderr)
    assert told is not None
    whole_s = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return Cost(whole_s, float(told[1]), clock_s, int(told[2]) * KIB / 1e6)


def measured(folder: Path, students: int) -> Measured:
    lessons, out = folder / "lessons", folder / "out"
    lay_out(lessons, students, LESSONS_EACH)
    build = ("build", lessons, "--out", out)
    alone = ("--jobs", "1")  # so that all drawing is done where it is timed
    costs = {"cold": run(*build, *alone), "nothing changed": run(*build)}
    costs["check"] = run("check", lessons)
    note = min(lessons.glob("*/*/notes.md"))
    note.write_text(note.read_text("utf-8").replace("grip", "stance"), encoding="utf-8")
    costs["one word changed"] = run(*build)
    tell(students * LESSONS_EACH, costs)
    return Measured(students * LESSONS_EACH, out, costs)


def tell(lessons: int, costs: dict[str, Cost]) -> None:
    for name, cost in costs.items():
        each = f", {cost.whole_s / lessons:.3f} s a lesson" if name in ("cold", "check") else ""
        memory = f", {cost.memory_mb:.0f} MB"
        print(f"\n{lessons} lessons, {name}: {cost.whole_s:.2f} s{each}{memory}", end="")  # noqa: T201 - the figure is the result
    charts = costs["cold"].charts_s
    print(f"\nof the cold build, charts: {charts:.2f} s, {charts / lessons:.3f} s a lesson")  # noqa: T201


def held(costs: dict[str, Cost]) -> None:
    cold = costs["cold"]
    assert cold.charts_s <= 0.5 * cold.whole_s
    assert costs["one word changed"].charts_s <= 0.2 * cold.charts_s
    assert costs["one word changed"].whole_s <= 0.6 * cold.whole_s
    assert costs["check"].whole_s <= 0.6 * cold.whole_s
    assert costs["nothing changed"].charts_s == 0


@pytest.fixture(scope="module")
def two_hundred(tmp_path_factory: pytest.TempPathFactory) -> Measured:
    return measured(tmp_path_factory.mktemp("two hundred"), 20)


def test_two_hundred_lessons(
    two_hundred: Measured, record_property: Callable[[str, object], None]
) -> None:
    for name, cost in two_hundred.costs.items():
        record_property(name, round(cost.whole_s, 2))
    held(two_hundred.costs)


def test_wrapping_costs_hardly_more_than_by_mkdocs_alone(
    two_hundred: Measured, tmp_path: Path
) -> None:
    """The book and three students: the same bodies, the same theme."""
    homes = sorted(home.parent for home in two_hundred.out.glob("site/*/practice.html"))[:3]
    folders = [(SiteKind.BOOK, two_hundred.out / "coach_book")]
    folders += [(SiteKind.STUDENT, home) for home in homes]
    ours_s = theirs_s = 0.0
    for number, (kind, folder) in enumerate(folders):
        site, into = site_in(folder, kind), tmp_path / str(number)
        ours_s += built_by_us_s(site, into)
        theirs_s += wrapped_s(site, into, tmp_path / f"{number} by mkdocs")
    told = f"{ours_s:.2f} s by our builder, {theirs_s:.2f} by MkDocs alone"
    print(f"\nwrapping: {told}, {ours_s / theirs_s:.2f} times")  # noqa: T201
    assert ours_s <= 1.2 * theirs_s


def test_two_processes_against_one(tmp_path: Path) -> None:
    """The clock of cold builds in turn; on a machine with one core there is nothing to win."""
    lessons = tmp_path / "lessons"
    lay_out(lessons, 8, 5)
    times = []
    for pair in range(PAIRS):
        clocks = [
            run("build", lessons, "--out", tmp_path / f"{pair} {jobs}", "--jobs", jobs).clock_s
            for jobs in ("1", "2")
        ]
        times.append(clocks[0] / clocks[1])
    print(f"\none process takes {median(times):.2f} times as long as two, of {sorted(times)}")  # noqa: T201
    assert median(times) >= LEAST_OF_TWO


def test_two_thousand_lessons(
    two_hundred: Measured, tmp_path: Path, record_property: Callable[[str, object], None]
) -> None:
    many = measured(tmp_path, 200)
    for name, cost in many.costs.items():
        record_property(name, round(cost.whole_s, 2))
    held(many.costs)
    for name, few in two_hundred.costs.items():
        now = many.costs[name]
        seconds, memory = now.whole_s / few.whole_s, now.memory_mb / few.memory_mb
        print(f"\n2,000 lessons to 200, {name}: {seconds:.2f} times, memory {memory:.2f} times")  # noqa: T201
    for name in ("one word changed", "nothing changed", "check"):
        assert many.costs[name].whole_s <= 10 * two_hundred.costs[name].whole_s
