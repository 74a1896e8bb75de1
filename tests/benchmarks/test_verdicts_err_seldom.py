"""A smaller run of the simulation, held to what the recipe promises.

Each bound allows for the run's own sampling error (two standard errors of 2,000 lessons).
"""

import pytest

from tests.benchmarks.many_lessons import SCENARIOS
from tests.benchmarks.simulate_verdicts import (
    DRILLS,
    SIZES,
    TENTHS,
    dots_false,
    drawn,
    ledger_false_works,
    newcombe_coverage,
    rates,
    retention_coverage,
    shares_false,
)

pytestmark = pytest.mark.campaign

LESSONS = 2000
NOISE = 0.01


@pytest.mark.parametrize("drill", DRILLS)
@pytest.mark.parametrize("n", SIZES)
@pytest.mark.parametrize("scenario", SCENARIOS)
def test_nothing_changed(scenario: str, n: int, drill: int) -> None:
    drifting = scenario.startswith("drift")
    found = rates(drawn(scenario, n, drill, LESSONS), 0.0)
    assert found.changed <= (0.12 if drifting else 0.05) + NOISE + 0.005 * drifting
    assert found.other_way <= 0.05 + NOISE


@pytest.mark.parametrize(
    ("scenario", "moved_by", "n", "least"),
    [
        ("clean", 1.0, 10, 0.40),
        ("clean", 1.0, 20, 0.70),
        ("clean", 2.0, 10, 0.93),
        ("20% mishits", 1.0, 20, 0.42),
        ("20% mishits", 2.0, 10, 0.67),
        ("clean", 3.0, 10, 0.98),
    ],
)
@pytest.mark.parametrize("drill", DRILLS)
def test_a_true_change_is_seen(
    scenario: str, moved_by: float, n: int, least: float, drill: int
) -> None:
    assert rates(drawn(scenario, n, drill, LESSONS), moved_by).changed >= least - 3 * NOISE


@pytest.mark.parametrize("n", SIZES)
def test_a_loss_is_never_sold_as_a_gain(n: int) -> None:
    found = rates(drawn("20% mishits", n, 9, LESSONS), -1.0)
    assert found.at_least_probably <= 0.01


@pytest.mark.parametrize("resemble", [0.0, 0.3, 0.5])
@pytest.mark.parametrize("n", [8, 12, 20, 30])
def test_a_share_is_seldom_called_changed_by_chance(n: int, resemble: float) -> None:
    assert shares_false(n, resemble, 10_000) <= 0.055


@pytest.mark.parametrize("alike", [0.0, 0.3, 0.5, 0.7])
@pytest.mark.parametrize("n", [5, 10, 20, 30])
def test_among_many_numbers_one_seldom_stands_out_by_chance(n: int, alike: float) -> None:
    assert dots_false(n, alike, LESSONS) <= 0.10 + NOISE


@pytest.mark.parametrize("kept", [0.0, 0.5, 1.0])
def test_what_stuck_is_covered(kept: float) -> None:
    held, _ = retention_coverage(10, kept, LESSONS)
    assert held >= 0.90


def test_the_ledger_seldom_praises_what_does_nothing() -> None:
    assert ledger_false_works(250) <= 0.03


def test_shares_are_covered_as_published() -> None:
    mean, least = newcombe_coverage(10, TENTHS)
    assert mean >= 0.90
    assert least >= 0.874
