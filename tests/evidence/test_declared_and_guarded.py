"""When the number was chosen, what it may not cost, how close the shots lie, and what to advise."""

from datetime import datetime, timedelta

import numpy as np
import pytest
from msgspec.structs import replace

from recapgen.evidence.phases import BEFORE, phase
from recapgen.model.evidence import (
    Declared,
    GuardFinding,
    SpreadFinding,
    Verdict,
)
from recapgen.model.lesson import Guard, GuardKind, Seal, Want
from recapgen.model.quantity import Quantity
from tests.evidence.made_shots import (
    AFTER_10,
    BEFORE_10,
    HIGHER,
    LOWER,
    NINE,
    NOTES,
    NUMBER,
    compared,
    lesson,
    then_and_now,
    window,
    with_reading,
)

# when it was declared


def seal(at: datetime, want: Want = HIGHER, smallest_change: float | None = 0.5) -> Seal:
    return Seal(NUMBER, want, smallest_change, None, 10, 10, at, NOTES)


def test_a_seal_older_than_the_first_after_shot() -> None:
    shots = lesson(BEFORE_10, AFTER_10)  # the first after-shot is the eleventh, at 9:11
    told = compared(shots, stated=False, seal=seal(NINE + timedelta(minutes=10)))
    assert (told.declared, told.verdict) == (Declared.SEALED, Verdict.CHANGED)
    assert (told.planned_before, told.planned_after) == (10, 10)
    late = seal(NINE + timedelta(minutes=12))
    assert compared(shots, stated=False, seal=late).declared is Declared.AFTERWARDS
    assert compared(shots, stated=True, seal=late).declared is Declared.STATED


def test_a_seal_without_shot_times_is_taken_at_its_word() -> None:
    shots = tuple(replace(s, shot=replace(s.shot, time=None)) for s in lesson(BEFORE_10, AFTER_10))
    told = compared(shots, stated=False, seal=seal(NINE + timedelta(days=1)))
    assert told.declared is Declared.SEALED


def test_a_clock_without_a_zone_is_read_off_the_wall() -> None:
    here = datetime(2027, 4, 11, 9, 10)  # noqa: DTZ001 (a device's clock knows no zone)
    told = compared(lesson(BEFORE_10, AFTER_10), stated=False, seal=seal(here))
    assert told.declared is Declared.SEALED


def test_without_shot_times_a_seal_must_be_of_the_day_or_before() -> None:
    shots = [replace(s, shot=replace(s.shot, time=None)) for s in lesson(BEFORE_10, AFTER_10)]
    for days, declared in ((-1, Declared.SEALED), (0, Declared.SEALED), (1, Declared.AFTERWARDS)):
        at = seal(NINE + timedelta(days=days))
        assert compared(shots, stated=False, seal=at, on=NINE.date()).declared is declared


@pytest.mark.parametrize(
    "other",
    [
        seal(NINE, want=LOWER),
        seal(NINE, want=window(0, 1)),
        seal(NINE, smallest_change=0.1),
        seal(NINE, smallest_change=None),
        replace(seal(NINE), quantity=Quantity.BALL_SPEED),
        replace(seal(NINE), guard=Guard(Quantity.BALL_SPEED, GuardKind.LEVEL, 1.0, NOTES)),
    ],
)
def test_a_number_changed_after_the_seal_was_chosen_afterwards(other: Seal) -> None:
    told = compared(lesson(BEFORE_10, AFTER_10), stated=True, seal=other)
    assert told.declared is Declared.AFTERWARDS
    assert (told.verdict, told.verdict_uncapped) == (Verdict.PROBABLY, Verdict.CHANGED)


def test_units_in_the_seal_may_round() -> None:
    told = compared(
        lesson(BEFORE_10, AFTER_10),
        window(137.16, 146.304),
        0.9144,
        stated=False,
        seal=seal(NINE, window(137.16000000000003, 146.304), 0.91440000001),
    )
    assert told.declared is Declared.SEALED


# what it may not cost


SPEED_GUARD = Guard(Quantity.BALL_SPEED, GuardKind.LEVEL, 1.0, NOTES)


@pytest.mark.parametrize(
    ("now", "finding"),
    [
        (0.0, GuardFinding.HELD),
        (2.0, GuardFinding.HELD),
        (-3.0, GuardFinding.LOST),
        (-1.0, GuardFinding.LOST),
        (-0.8, GuardFinding.CANNOT_TELL),
    ],
)
def test_a_level_is_guarded(now: float, finding: GuardFinding) -> None:
    speeds = [50 + x / 2 for x in BEFORE_10]
    shots = with_reading(
        lesson(BEFORE_10, AFTER_10),
        Quantity.BALL_SPEED,
        speeds + [x + now for x in reversed(speeds)],
    )
    (result,) = compared(shots, guard=SPEED_GUARD).guards
    assert result.finding is finding
    assert result.shift is not None
    assert result.shift.estimate == pytest.approx(now)


@pytest.mark.parametrize(
    ("times", "finding"),
    [(0.5, GuardFinding.HELD), (8.0, GuardFinding.LOST), (2.5, GuardFinding.CANNOT_TELL)],
)
def test_a_spread_is_guarded(times: float, finding: GuardFinding) -> None:
    sides = [x - 2 for x in BEFORE_10]
    shots = with_reading(
        lesson(BEFORE_10, AFTER_10), Quantity.CARRY_SIDE, sides + [x * times for x in sides]
    )
    guard = Guard(Quantity.CARRY_SIDE, GuardKind.SPREAD, 0.8, NOTES)
    (result,) = compared(shots, guard=guard).guards
    assert result.finding is finding


def test_a_guard_without_readings_cannot_be_told() -> None:
    (result,) = compared(lesson(BEFORE_10, AFTER_10), guard=SPEED_GUARD).guards
    assert (result.finding, result.shift) == (GuardFinding.CANNOT_TELL, None)
    assert (result.before_median, result.after_median) == (None, None)


# spread and where the balls finished


def test_half_the_spread_is_tighter() -> None:
    rng = np.random.default_rng(3)
    wide = rng.normal(0, 1, 20).tolist()
    told = then_and_now(wide, [x / 3 for x in wide])
    assert told.spread is not None
    assert told.spread.finding is SpreadFinding.TIGHTER
    back = then_and_now([x / 3 for x in wide], wide)
    assert back.spread is not None
    assert back.spread.finding is SpreadFinding.WIDER
    few = then_and_now(wide[:9], [x / 9 for x in wide[:9]])
    assert few.spread is not None
    assert few.spread.finding is SpreadFinding.CANNOT_TELL


def test_balls_that_never_vary_have_no_ratio() -> None:
    assert then_and_now([7.0] * 6, [7.0] * 6).spread is None


def test_the_circle_holds_half_the_balls() -> None:
    shots = with_reading(lesson(BEFORE_10, AFTER_10), Quantity.CARRY_SIDE, [0.0] * 10 + [1.0] * 10)
    told = compared(shots)
    assert told.dispersion is not None
    before = told.dispersion.before
    assert before.distance_m == pytest.approx(2.05)
    assert before.side_m == 0.0
    away = sorted(abs(x - 2.05) for x in BEFORE_10)
    assert before.radius_m == pytest.approx((away[4] + away[5]) / 2)
    assert before.radius90_m is not None
    # ten shots: P(Binomial(10, 1/2) <= 1) = 11/1024 <= .05 < 56/1024, so the second from each end
    assert before.radius90_m.low == pytest.approx(away[1])
    assert before.radius90_m.high == pytest.approx(away[8])
    assert told.dispersion.after.side_m == 1.0


def test_a_small_block_has_a_circle_without_an_interval() -> None:
    shots = with_reading(lesson(BEFORE_10[:4], AFTER_10[:4]), Quantity.CARRY_SIDE, [0.0] * 8)
    told = compared(shots)
    assert told.dispersion is not None
    assert told.dispersion.before.radius90_m is None


# advice


def test_advised_balls_grow_with_the_scatter() -> None:
    quiet = then_and_now(BEFORE_10, [x + 0.2 for x in reversed(BEFORE_10)], smallest_change=0.5)
    loud = then_and_now(
        [2 * x for x in BEFORE_10], [2 * x + 0.2 for x in reversed(BEFORE_10)], smallest_change=0.5
    )
    assert quiet.balls_needed is not None
    assert loud.balls_needed is None or loud.balls_needed > quiet.balls_needed


def test_leaning_is_told_only_where_the_interval_leans() -> None:
    up = then_and_now(BEFORE_10, [x + 0.45 for x in BEFORE_10], smallest_change=3.0)
    assert then_and_now(BEFORE_10[:3], AFTER_10[:3]).leaning == 1
    assert then_and_now(AFTER_10[:3], BEFORE_10[:3]).leaning == -1
    assert then_and_now(BEFORE_10, list(reversed(BEFORE_10))).leaning == 0
    assert up.verdict is Verdict.NO_CHANGE
    assert up.leaning == 0


def test_pairs_won() -> None:
    assert then_and_now([1, 2, 3], [2, 3, 4]).pairs_won == pytest.approx((6 + 2 / 2) / 9)
    assert then_and_now([1, 2, 3], [2, 3, 4], LOWER).pairs_won == pytest.approx(2 / 9)


def test_a_phase_reads_what_was_used_or_lacks_only_the_headline() -> None:
    shots = lesson([1.0, None, 3.0], [])
    speeds = with_reading(shots, Quantity.BALL_SPEED, [10.0, 11.0, 12.0])
    assert phase(speeds, BEFORE, NUMBER).numbers == (1, 3)
    assert phase(speeds, BEFORE, Quantity.BALL_SPEED).numbers == (1, 2, 3)


def test_the_notes_word_is_what_is_stated() -> None:
    assert compared(lesson(BEFORE_10, AFTER_10)).declared is Declared.STATED
