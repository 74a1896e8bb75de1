"""The exact interval against scipy's test inverted, and against every arrangement counted."""

from itertools import combinations, pairwise
from math import comb, inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import kendalltau, mannwhitneyu

from recapgen.evidence.ranks import chance_of_so_few, chance_of_trend, interval_rank
from recapgen.evidence.shift import chance_of_such_a_shift, shift_between, widened

SIZES = [(n, m) for n in range(2, 7) for m in range(2, 7)]


def counted_by_hand(n: int, m: int) -> list[int]:
    """U of every way to deal n + m places to the two blocks, sorted."""
    found = []
    for mine in combinations(range(n + m), n):
        theirs = [place for place in range(n + m) if place not in mine]
        found.append(sum(place > other for place in mine for other in theirs))
    return sorted(found)


@pytest.mark.parametrize(("n", "m"), SIZES)
@pytest.mark.parametrize("one_in", [10, 20])
def test_rank_is_the_largest_allowed(n: int, m: int, one_in: int) -> None:
    us = counted_by_hand(n, m)
    allowed = [k for k in range(1, n * m + 1) if one_in * sum(u < k for u in us) <= len(us)]
    assert interval_rank(n, m, one_in) == max(allowed, default=0)
    assert interval_rank(m, n, one_in) == interval_rank(n, m, one_in)


@pytest.mark.parametrize(("n", "m"), SIZES)
def test_chance_of_so_few(n: int, m: int) -> None:
    us = counted_by_hand(n, m)
    for wins in range(n * m // 2 + 1):
        assert chance_of_so_few(wins, n, m) == sum(u <= wins for u in us) / comb(n + m, n)


@pytest.mark.parametrize(("n", "m"), [(3, 3), (4, 7), (5, 5), (8, 6), (10, 12)])
def test_interval_is_the_inverted_test(n: int, m: int) -> None:
    """A shift lies inside the 90% interval just where scipy's exact test keeps it at .10."""
    rng = np.random.default_rng(n * 100 + m)
    before, after = rng.normal(0, 1, n), rng.normal(0.7, 1.4, m)
    shift = shift_between(before, after)
    differences = np.sort((after[:, None] - before).ravel())
    for gap_low, gap_high in pairwise(differences):
        candidate = (gap_low + gap_high) / 2
        chance = float(mannwhitneyu(after - candidate, before, method="exact").pvalue)
        kept = shift.ci90.low < candidate < shift.ci90.high
        assert kept == (chance > 0.10 + 1e-12)


def test_large_blocks_agree_with_counting() -> None:
    """Beyond the counted sizes the normal curve gives the same rank within one in a hundred."""
    counted, curve = interval_rank(100, 100, 20), interval_rank(100, 101, 20)
    assert curve == pytest.approx(counted * 101 / 100, rel=0.01)
    assert chance_of_so_few(4000, 100, 101) == pytest.approx(
        float(mannwhitneyu(np.arange(100), np.arange(100, 201) - 59.5).pvalue) / 2, abs=0.01
    )


def test_nothing_far_enough_out_has_no_bound() -> None:
    assert interval_rank(0, 5, 20) == 0
    assert shift_between(np.array([1.0]), np.array([2.0, 3.0])).ci90.high == inf


@given(st.permutations(range(8)))
def test_trend_is_kendalls(order: list[int]) -> None:
    values = np.array(order, dtype=np.float64)
    expected = kendalltau(np.arange(8), values, method="exact", alternative="greater").pvalue
    assert chance_of_trend(values) == pytest.approx(float(expected))


def test_trend_of_long_blocks() -> None:
    rng = np.random.default_rng(4)
    values = rng.normal(0, 1, 70) + np.arange(70) * 0.01
    expected = kendalltau(np.arange(70), values, alternative="greater", method="exact").pvalue
    assert chance_of_trend(values) == pytest.approx(float(expected), abs=0.005)


def test_a_trend_of_ties_is_none() -> None:
    assert chance_of_trend(np.full(9, 3.0)) > 0.5


@pytest.mark.parametrize("seed", range(5))
def test_chance_is_scipys_without_ties(seed: int) -> None:
    rng = np.random.default_rng(seed)
    before, after = rng.normal(0, 1, 7), rng.normal(0.5, 1, 9)
    expected = mannwhitneyu(after, before, method="exact").pvalue
    assert chance_of_such_a_shift(before, after) == pytest.approx(float(expected))


def test_widening_adds_the_setup_in_quadrature() -> None:
    """By hand: est 2, half-width 1, set-up .3: hypot(1.15, 1.6449 x 1.4142 x .3)."""
    shift = shift_between(np.array([0.0, 1, 2, 3]), np.array([2.0, 3, 4, 5]))
    plain, moved = widened(shift, 0.0), widened(shift, 0.3)
    half = shift.ci90.high - shift.estimate
    assert plain.ci90.high - shift.estimate == pytest.approx(1.15 * half)
    assert (moved.ci90.high - shift.estimate) ** 2 == pytest.approx(
        (1.15 * half) ** 2 + (1.6448536 * 0.3) ** 2 * 2
    )
    assert (moved.ci80.high - shift.estimate) ** 2 == pytest.approx(
        (1.15 * (shift.ci80.high - shift.estimate)) ** 2 + (1.2815516 * 0.3) ** 2 * 2
    )
