"""How often the verdicts are wrong, and how often they see a change: simulated lessons.

Run ``python tests/benchmarks/simulate_verdicts.py`` from the checkout for all tables; seeds are
fixed, so two runs print the same. One standard deviation of a good strike is the unit.
"""

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from math import comb
from pathlib import Path
from statistics import NormalDist

import numpy as np

if __name__ == "__main__":  # started as a script: the checkout is two folders up
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from recapgen.evidence.intent_pooling import pool
from recapgen.evidence.ranks import chance_of_so_few
from recapgen.evidence.retention import kept_share
from recapgen.evidence.share import MATTERS as SHARE_MATTERS
from recapgen.evidence.share import newcombe, share, share_change
from recapgen.evidence.shift import Z90, shift_between, widened
from recapgen.evidence.undeclared_numbers import resembling
from recapgen.evidence.verdict import SHARES, read_verdict
from recapgen.model.evidence import LessonGain, Shift, Verdict
from tests.benchmarks.many_lessons import (
    BUILT,
    MATTERS,
    ORDER,
    SCENARIOS,
    Lessons,
    correlated,
    judged,
    lessons_of,
    mishits,
    moved,
)

SIZES = (5, 6, 8, 10, 12, 15, 20, 30)
DRILLS = (0, 9, 20)
MOVES = (0.0, 1.0, 1.5, 2.0, 3.0, -1.0)
SEED = 20270411
NUMBERS, DOT_AT = 13, 0.10


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


def drawn(scenario: str, n: int, drill: int, lessons: int) -> Lessons:
    """``lessons`` in which nothing changed: n before, ``drill`` of practice, n after."""
    seed = [SEED, list(SCENARIOS).index(scenario), n, drill]
    return lessons_of(SCENARIOS[scenario], seed, lessons, n, drill)


def rates(lessons: Lessons, moved_by: float) -> Rates:
    """What is said of them once the after-balls are moved, every guard on."""
    found = judged(moved(lessons, moved_by), BUILT)
    return Rates(
        *(
            float(np.mean(found == ORDER.index(v)))
            for v in (Verdict.CHANGED, Verdict.PROBABLY, Verdict.NO_CHANGE, Verdict.OTHER_WAY)
        )
    )


def shares_false(n: int, resemble: float, lessons: int) -> float:
    """Most that any true share inside is called changed, n against n, where nothing changed.

    Of lessons whose middles lie inside both times, since only these are judged by the share.
    """
    rng = np.random.default_rng([SEED, n, round(10 * resemble)])
    balls = correlated(resemble)(rng, lessons, 2 * n)
    counts = range(n + 1)
    changed = np.array(
        [[_shares_say(was, now, n) is Verdict.CHANGED for now in counts] for was in counts]
    )
    worst = 0.0
    for inside_share in (0.5, 0.6, 0.7, 0.8, 0.85, 0.9, 0.95):
        end = NormalDist().inv_cdf((1 + inside_share) / 2)
        before, after = balls[:, :n], balls[:, n:]
        judged_so = np.all(
            [np.abs(np.median(block, axis=1)) < end for block in (before, after)], axis=0
        )
        was, now = ((np.abs(block) < end).sum(axis=1) for block in (before, after))
        worst = max(worst, float(changed[was, now][judged_so].mean()))
    return worst


def _shares_say(was: int, now: int, n: int) -> Verdict:
    change = share_change(share(was, n), share(now, n))
    seen = widened(Shift(change.difference, change.newcombe90, change.newcombe80), 0.0)
    return read_verdict(seen, SHARE_MATTERS, n, SHARES)


def dots_false(n: int, alike: float, lessons: int) -> float:
    """Lessons in which one of 13 numbers stands out by chance; shots resemble by .3."""
    rng = np.random.default_rng([SEED, n, round(10 * alike), NUMBERS])
    own = correlated(0.3)(rng, lessons * NUMBERS, 2 * n).reshape(lessons, NUMBERS, -1)
    shared = correlated(0.3)(rng, lessons, 2 * n)[:, None, :]
    readings = np.sqrt(1 - alike) * own + np.sqrt(alike) * shared
    places = readings.argsort(axis=2).argsort(axis=2)
    won = places[:, :, n:].sum(axis=2) - n * (n - 1) // 2
    fewer = np.minimum(won, n * n - won)
    chances = np.array(
        [resembling(min(1.0, 2 * chance_of_so_few(u, n, n))) for u in range(n * n // 2 + 1)]
    )
    return float(np.mean(chances[fewer].min(axis=1) * NUMBERS <= DOT_AT))


def retention_coverage(n: int, kept: float, lessons: int, gain: float = 2.0) -> tuple[float, float]:
    """Share of bounded 90% sets that hold the truth, and the share of lessons with such a set.

    The student's level moves by 0.3 SD from day to day, and the set allows for it.
    """
    rng = np.random.default_rng([SEED, n, round(100 * kept)])
    day_sd = 0.3
    bounded = held = 0
    for _ in range(lessons):
        first, second = rng.normal(0, day_sd, 2)
        before, after, later = mishits(rng, 3, n) + np.array(
            [[first], [first + gain], [second + kept * gain]]
        )
        found = kept_share(
            shift_between(before, after),
            shift_between(before, later),
            shift_between(after, later),
            day_sd=day_sd,
            n=n,
            level=0.90,
        )
        if found is not None:
            bounded += 1
            held += found.low <= kept <= found.high
    return held / bounded, bounded / lessons


def ledger_false_works(ledgers: int, intents: int = 8, best_of: int = 1) -> float:
    """Share of intents shown as working (90% interval above nothing) where none works.

    ``best_of`` numbers were looked at and the best kept: what chosen afterwards would do, if
    such lessons were pooled.
    """
    rng = np.random.default_rng([SEED, 9])
    wrong = shown = 0
    for _ in range(ledgers):
        gains = [
            LessonGain(f"intent {i}", f"student {s}", *_nothing_gained(rng, best_of))
            for i in range(intents)
            for s in range(int(rng.integers(1, 9)))
        ]
        intervals = [row.ci90 for row in pool(gains) if row.ci90 is not None]
        wrong += sum(interval.low > 0 for interval in intervals)
        shown += len(intervals)
    return wrong / shown


def _nothing_gained(rng: np.random.Generator, best_of: int) -> tuple[float, float]:
    """A lesson's gain with its stated error; lessons differ by half a change that matters."""
    se = float(rng.uniform(0.4, 1.2))
    return float(rng.normal(0, np.hypot(se, 0.5), best_of).max()), se


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
    rows: dict[tuple[float, str, int], list[str]] = {}
    for scenario, drill, n in product(SCENARIOS, DRILLS, SIZES):
        seen = drawn(scenario, n, drill, lessons)
        for by in MOVES:
            c = rates(seen, by)
            told = f"{c.changed:.3f} {c.at_least_probably:.3f} {c.no_change:.2f} {c.other_way:.3f}"
            rows.setdefault((by, scenario, drill), []).append(told)
    for by in MOVES:
        say(f"\ntrue shift {by:+} SD, smallest change {MATTERS} SD, {lessons} lessons each\n")
        say("changed / at least probably / no change / other way\n")
        say(f"{'n a block':>28} drill" + "".join(f"{n:>25}" for n in SIZES) + "\n")
        for scenario, drill in product(SCENARIOS, DRILLS):
            cells = "".join(f"{cell:>25}" for cell in rows[by, scenario, drill])
            say(f"{scenario:>28} {drill:>5}{cells}\n")
    say("\nshares inside a window, nothing changed: most often called changed\n")
    for n in (8, 10, 12, 15, 20, 30):
        each = (f"{shares_false(n, by, 4 * lessons):.3f}" for by in (0.0, 0.3, 0.5))
        say(f"  n {n:>2}: correlation 0, .3, .5: {', '.join(each)}\n")
    say("\none of 13 numbers stands out, nothing changed, correlation .3 from shot to shot\n")
    for n in (5, 10, 15, 20, 30):
        each = (f"{dots_false(n, alike, lessons):.3f}" for alike in (0.0, 0.3, 0.5, 0.7))
        say(f"  n {n:>2}: numbers alike by 0, .3, .5, .7: {', '.join(each)}\n")
    say("\nwhat stuck: coverage of the 90% set, day to day .3 SD, gain 2 SD, 20% mishits\n")
    for n, kept in product((8, 10, 15, 20), (0.0, 0.5, 1.0)):
        held, bounded = retention_coverage(n, kept, lessons)
        say(f"  n {n:>2}, kept {kept:.1f}: {held:.3f} of the {bounded:.2f} that are bounded\n")
    ledgers = lessons // 10
    say(f"\nledger, nothing works: {ledger_false_works(ledgers):.4f} shown as working; were the\n")
    say(f"best of four numbers pooled, {ledger_false_works(ledgers // 2, best_of=4):.2f}\n")
    for n in (5, 10, 20):
        mean, least = newcombe_coverage(n, TENTHS)
        say(
            f"share inside, {n} against {n}: coverage {mean:.3f} on average, {least:.3f} at least\n"
        )


if __name__ == "__main__":
    main(lessons=int(sys.argv[1]) if len(sys.argv) > 1 else 4000)
