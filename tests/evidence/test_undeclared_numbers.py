"""The numbers that were looked at beside the declared one."""

import numpy as np
import pytest
from msgspec.structs import replace
from scipy.stats import norm

from recapgen.evidence.undeclared_numbers import holm, resembling, undeclared_numbers
from recapgen.model.quantity import Quantity
from recapgen.model.shots import SortedShot
from tests.benchmarks.many_lessons import correlated
from tests.evidence.made_shots import NUMBER, lesson


def with_numbers(n: int, moved: dict[Quantity, float]) -> tuple[SortedShot, ...]:
    rng = np.random.default_rng(7)
    shots = lesson([0.0] * n, [0.0] * n)
    for quantity, by in moved.items():
        values = rng.normal(0, 1, 2 * n) + np.repeat([0.0, by], n)
        shots = tuple(
            replace(s, shot=replace(s.shot, readings={**s.shot.readings, quantity: value}))
            for s, value in zip(shots, values.tolist(), strict=True)
        )
    return shots


def test_all_but_the_declared_number_in_the_trades_order() -> None:
    shots = with_numbers(10, {Quantity.TOTAL: 5.0, Quantity.CLUB_SPEED: 0.0})
    found = undeclared_numbers(shots, NUMBER)
    assert [o.quantity for o in found] == [Quantity.CLUB_SPEED, Quantity.TOTAL]
    assert [o.dot for o in found] == [False, True]
    assert all(o.low90 <= o.estimate <= o.high90 for o in found)
    assert found[1].after_median - found[1].before_median == pytest.approx(5, abs=1)


def test_small_blocks_are_not_looked_at() -> None:
    assert undeclared_numbers(with_numbers(2, {Quantity.TOTAL: 5.0}), NUMBER) == ()


def test_what_was_moved_widens_them_and_may_take_the_dot() -> None:
    shots = with_numbers(10, {Quantity.TOTAL: 5.0, Quantity.CLUB_SPEED: 0.0})
    still, moved, badly = (
        undeclared_numbers(shots, NUMBER, accuracy)[1]
        for accuracy in (None, {}, {Quantity.TOTAL: 4.0})
    )
    assert still.estimate == moved.estimate == badly.estimate
    widths = [other.high90 - other.low90 for other in (still, moved, badly)]
    assert widths == sorted(set(widths))
    assert [other.dot for other in (still, moved, badly)] == [True, True, False]


def test_the_more_numbers_the_harder_a_dot() -> None:
    """The same shots lose their dot where many quiet numbers stand beside them."""
    one = undeclared_numbers(with_numbers(5, {Quantity.TOTAL: 9.0}), NUMBER)
    assert [o.dot for o in one] == [True]  # 5 against 5, all apart: 2 / 252
    beside: dict[Quantity, float] = {q: 0.0 for q in Quantity if q is not NUMBER}
    many = undeclared_numbers(with_numbers(5, {**beside, Quantity.TOTAL: 9.0}), NUMBER)
    assert not any(o.dot for o in many)


def test_a_chance_allows_for_shots_that_resemble_each_other() -> None:
    """By hand: 1.96 sd of shots that do not is 1.96 / 1.3628 of those that do."""
    assert resembling(0.05) == pytest.approx(2 * norm.sf(1.959964 / np.sqrt(1.3 / 0.7)))
    assert resembling(1.0) == 1.0
    assert resembling(0.0) == 0.0


@pytest.mark.parametrize("alike", [0.0, 0.5])
def test_among_thirteen_numbers_one_seldom_stands_out_by_chance(alike: float) -> None:
    """Nothing changed, each shot resembles the last by .3, and the numbers one another."""
    rng = np.random.default_rng([13, round(10 * alike)])
    n, lessons = 15, 150
    numbers = [q for q in Quantity if q is not NUMBER][:13]
    found = 0
    for _ in range(lessons):
        each = correlated(0.3)(rng, len(numbers), 2 * n)
        readings = np.sqrt(1 - alike) * each + np.sqrt(alike) * correlated(0.3)(rng, 1, 2 * n)
        shots = tuple(
            replace(s, shot=replace(s.shot, readings=dict(zip(numbers, row, strict=True))))
            for s, row in zip(lesson([0.0] * n, [0.0] * n), readings.T.tolist(), strict=True)
        )
        found += any(o.dot for o in undeclared_numbers(shots, NUMBER))
    assert found / lessons <= 0.10 + 2 * np.sqrt(0.1 * 0.9 / lessons)


def test_holm_by_hand() -> None:
    assert holm([0.04, 0.01, 0.03]) == pytest.approx([0.06, 0.03, 0.06])
    assert holm([]) == []
    assert holm([0.9, 0.8]) == [1.0, 1.0]
