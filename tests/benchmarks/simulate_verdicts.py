"""How often the verdicts are wrong, and how often they see a change: simulated lessons.

Run ``python tests/benchmarks/simulate_verdicts.py`` from the checkout; seeds are fixed, so
two runs print the same. One standard deviation of a good strike is the unit.
"""

import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product
from math import comb
from pathlib import Path

import numpy as np
import numpy.typing as npt

if __name__ == "__main__":  # started as a script: the checkout is two folders up
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from recapgen.evidence.ledger import pool
from recapgen.evidence.retention import kept_share
from recapgen.evidence.share import newcombe, share
from recapgen.evidence.shift import Z90
from recapgen.model.evidence import LessonGain, Verdict
from tests.evidence.made_shots import compared, lesson

Floats = npt.NDArray[np.float64]
Draw = Callable[[np.random.Generator, int], Floats]

SIZES = (5, 8, 10, 15, 20, 30)
MATTERS = 0.5
SEED = 20270411


def clean(rng: np.random.Generator, n: int) -> Floats:
    return rng.normal(0, 1, n)


def mishits(rng: np.random.Generator, n: int) -> Floats:
    """A fifth of the shots 3 SD short, with twice the scatter."""
    return clean(rng, n) + (rng.random(n) < 0.2) * rng.normal(-3, np.sqrt(3), n)


def correlated(rng: np.random.Generator, n: int) -> Floats:
    """Each shot resembles the last by 0.3."""
    steps = rng.normal(0, np.sqrt(1 - 0.3**2), n)
    steps[0] /= np.sqrt(1 - 0.3**2)
    for i in range(1, n):
        steps[i] += 0.3 * steps[i - 1]
    return steps


def correlated_mishits(rng: np.random.Generator, n: int) -> Floats:
    return correlated(rng, n) + (rng.random(n) < 0.2) * rng.normal(-3, np.sqrt(3), n)


def drifting(rng: np.random.Generator, n: int) -> Floats:
    """Cold for six shots, a slow rise of a quarter SD, correlated, a fifth mishit."""
    shot = np.arange(n)
    warming = -0.8 * np.exp(-shot / 6)
    return correlated_mishits(rng, n) + warming + 0.25 * shot / n


SCENARIOS: dict[str, Draw] = {
    "clean": clean,
    "20% mishits": mishits,
    "correlation .3": correlated,
    "correlation, mishits": correlated_mishits,
    "drift, correlation, mishits": drifting,
}


@dataclass(frozen=True, slots=True)
class Rates:
    """Shares of simulated lessons by verdict."""

    changed: float
    probably: float
    no_change: float
    other_way: float

    @property
    def at_least_probably(self) -> float:
        return self.changed + self.probably


def rates(draw: Draw, n: int, moved_by: float, lessons: int) -> Rates:
    """``lessons`` of n before- and n after-shots drawn as one run, every guard on."""
    rng = np.random.default_rng([SEED, n, round(100 * (moved_by + 10))])
    found = []
    for _ in range(lessons):
        shots = draw(rng, 2 * n)
        shots[n:] += moved_by
        told = compared(lesson(shots[:n].tolist(), shots[n:].tolist()), matters=MATTERS)
        found.append(told.verdict)
    return Rates(
        *(
            found.count(v) / lessons
            for v in (Verdict.CHANGED, Verdict.PROBABLY, Verdict.NO_CHANGE, Verdict.OTHER_WAY)
        )
    )


def retention_coverage(n: int, kept: float, lessons: int, gain: float = 2.0) -> tuple[float, float]:
    """Share of bounded 90% sets that hold the truth, and the share of lessons with such a set.

    The student's level moves by 0.3 SD from day to day, and the set allows for it.
    """
    rng = np.random.default_rng([SEED, n, round(100 * kept)])
    day_sd = 0.3
    bounded = held = 0
    for _ in range(lessons):
        first, second = rng.normal(0, day_sd, 2)
        before = first + mishits(rng, n)
        after = first + gain + mishits(rng, n)
        later = second + kept * gain + mishits(rng, n)
        found = kept_share(before, after, later, day_sd, 0.90)
        if found is not None:
            bounded += 1
            held += found.low <= kept <= found.high
    return held / bounded, bounded / lessons


def ledger_false_works(ledgers: int, intents: int = 8) -> float:
    """Share of intents shown as working (90% interval above nothing) where none works."""
    rng = np.random.default_rng([SEED, 9])
    wrong = 0
    for _ in range(ledgers):
        gains = [
            LessonGain(f"intent {i}", f"student {s}", *_nothing_gained(rng))
            for i in range(intents)
            for s in range(int(rng.integers(1, 9)))
        ]
        wrong += sum(row.ci90.low > 0 for row in pool(gains))
    return wrong / (ledgers * intents)


def _nothing_gained(rng: np.random.Generator) -> tuple[float, float]:
    """A lesson's gain with its stated error; lessons differ by half a change that matters."""
    se = float(rng.uniform(0.4, 1.2))
    return float(rng.normal(0, np.hypot(se, 0.5))), se


def newcombe_coverage(n: int, grid: Sequence[float]) -> tuple[float, float]:
    """Mean and least exact coverage of the 90% interval, n against n, shares on ``grid``."""
    intervals = [
        [newcombe(share(x, n), share(y, n), Z90) for y in range(n + 1)] for x in range(n + 1)
    ]

    def chances(p: float) -> list[float]:
        return [comb(n, x) * p**x * (1 - p) ** (n - x) for x in range(n + 1)]

    coverage = []
    for was, now in product(grid, grid):
        before, after = chances(was), chances(now)
        coverage.append(
            sum(
                before[x] * after[y]
                for x, y in product(range(n + 1), repeat=2)
                if intervals[x][y].low <= now - was <= intervals[x][y].high
            )
        )
    return float(np.mean(coverage)), min(coverage)


TENTHS = tuple(tenths / 10 for tenths in range(1, 10))


def main(lessons: int) -> None:
    """Print every figure; ``lessons`` simulated for each cell."""
    say = sys.stdout.write
    for moved_by in (0.0, 1.0, 1.5, -1.0):
        say(f"\ntrue shift {moved_by:+} SD, smallest change {MATTERS} SD, {lessons} lessons each\n")
        say("changed / at least probably / no change / other way\n")
        say(f"{'n a block':>28}" + "".join(f"{n:>21}" for n in SIZES) + "\n")
        for name, draw in SCENARIOS.items():
            cells = [rates(draw, n, moved_by, lessons) for n in SIZES]
            row = "".join(
                f"   {c.changed:.3f} {c.at_least_probably:.3f} {c.no_change:.2f} {c.other_way:.2f}"
                for c in cells
            )
            say(f"{name:>28}{row}\n")
    say("\nwhat stuck: coverage of the 90% set, day to day .3 SD, gain 2 SD, 20% mishits\n")
    for n, kept in product((8, 10, 15, 20), (0.0, 0.5, 1.0)):
        held, bounded = retention_coverage(n, kept, 4 * lessons)
        say(f"  n {n:>2}, kept {kept:.1f}: {held:.3f} of the {bounded:.2f} that are bounded\n")
    say(f"\nledger, nothing works: {ledger_false_works(lessons // 2):.4f} shown as working\n")
    for n in (5, 10, 20):
        mean, least = newcombe_coverage(n, TENTHS)
        say(
            f"share inside, {n} against {n}: coverage {mean:.3f} on average, {least:.3f} at least\n"
        )


if __name__ == "__main__":
    main(lessons=int(sys.argv[1]) if len(sys.argv) > 1 else 2000)
