"""A smaller run of the simulation, held to what the recipe promises.

Each bound allows for the run's own sampling error (two standard errors of 1,000 lessons).
"""

import pytest

from tests.benchmarks.simulate_verdicts import (
    SCENARIOS,
    SIZES,
    TENTHS,
    ledger_false_works,
    newcombe_coverage,
    rates,
    retention_coverage,
)

pytestmark = pytest.mark.campaign

LESSONS = 1000
NOISE = 0.014


@pytest.mark.parametrize("n", SIZES)
@pytest.mark.parametrize("scenario", SCENARIOS)
def test_nothing_changed(scenario: str, n: int) -> None:
    allowed = 0.12 if scenario.startswith("drift") else 0.05
    found = rates(SCENARIOS[scenario], n, 0.0, LESSONS)
    assert found.changed <= allowed + NOISE


def test_a_change_of_one_sd_is_seen_through_mishits() -> None:
    assert rates(SCENARIOS["20% mishits"], 20, 1.0, LESSONS).changed >= 0.40 - NOISE


@pytest.mark.parametrize("n", SIZES)
def test_a_loss_is_never_sold_as_a_gain(n: int) -> None:
    found = rates(SCENARIOS["20% mishits"], n, -1.0, LESSONS)
    assert found.at_least_probably <= 0.01


@pytest.mark.parametrize("kept", [0.0, 0.5, 1.0])
def test_what_stuck_is_covered(kept: float) -> None:
    held, _ = retention_coverage(10, kept, 2 * LESSONS)
    assert held >= 0.90


def test_the_ledger_seldom_praises_what_does_nothing() -> None:
    assert ledger_false_works(LESSONS // 4) <= 0.03


def test_shares_are_covered_as_published() -> None:
    mean, least = newcombe_coverage(10, TENTHS)
    assert mean >= 0.90
    assert least >= 0.874
