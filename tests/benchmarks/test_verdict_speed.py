"""What a verdict costs beside the bare differences it is made of, and a coach's whole career."""

import time
from collections.abc import Callable, Sequence

import numpy as np
import pytest

from recapgen.model.shots import SortedShot
from tests.benchmarks.many_lessons import mishits
from tests.evidence.made_shots import compared, lesson

pytestmark = pytest.mark.campaign

BALLS = 30
LESSONS = 2000
RUNS = 7
MOST = 80.0
"""Two intervals, drift, mishits, shares, spread and finish, where the bare work is one sort."""
MOST_OF_ONE = 1.2
"""Lessons cost the same however many there are."""


def lessons(how_many: int) -> list[tuple[SortedShot, ...]]:
    rng = np.random.default_rng(20270411)
    return [
        lesson(before.tolist(), (after + 1).tolist())
        for before, after in mishits(rng, 2 * how_many, BALLS).reshape(how_many, 2, BALLS)
    ]


def bare(shots: Sequence[SortedShot]) -> float:
    """The middle of all differences, and nothing else."""
    values = np.array([next(iter(s.shot.readings.values())) for s in shots])
    before, after = values[:BALLS], values[BALLS:]
    return float(np.sort((after[:, None] - before[None, :]).ravel())[BALLS * BALLS // 2])


def seconds(work: Callable[[tuple[SortedShot, ...]], object],
            told: Sequence[tuple[SortedShot, ...]]) -> float:  # fmt: skip
    """Of this process alone for each lesson, the quickest of some runs."""
    took = []
    for _ in range(RUNS):
        began = time.process_time()
        for shots in told:
            work(shots)
        took.append((time.process_time() - began) / len(told))
    return min(took)


def test_a_verdict_beside_its_bare_differences(
    record_property: Callable[[str, object], None],
) -> None:
    few, all_of_them = lessons(50), lessons(LESSONS)
    compared(few[0])  # the counts of each size are kept from the first time on
    whole, plain = seconds(compared, few), seconds(bare, few)
    began = time.process_time()
    for shots in all_of_them:
        compared(shots)
    career = time.process_time() - began
    record_property("ratio", round(whole / plain, 1))
    print(  # noqa: T201 - the figure is what a campaign is for
        f"one verdict, {BALLS} v {BALLS}: {1000 * whole:.2f} ms, {whole / plain:.1f} x the bare "
        f"differences; {LESSONS} lessons {career:.1f} s, {career / LESSONS / whole:.2f} x one each"
    )
    assert whole <= MOST * plain
    assert career <= MOST_OF_ONE * LESSONS * whole
