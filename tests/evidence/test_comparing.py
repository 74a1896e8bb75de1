"""Each guard around the verdict, one lesson at a time."""

import numpy as np
import pytest
from msgspec.structs import replace

from recapgen.evidence.compare import compare
from recapgen.evidence.phases import robust_sd
from recapgen.model.evidence import (
    DriftFinding,
    Hidden,
    MishitKind,
    SmallestChangeFrom,
    Verdict,
)
from recapgen.model.lesson import Direction, Want
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import Check, RowRule
from recapgen.model.shots import ShotStatus
from tests.evidence.made_shots import (
    AFTER_10,
    BEFORE_10,
    RISING,
    compared,
    declaration,
    lesson,
    sample_of,
    then_and_now,
    window,
    with_drill,
)

# sizes


def test_four_against_four_is_probable_at_best() -> None:
    assert then_and_now([1, 1.2, 1.1, 0.9], [5, 5.3, 5.1, 4.8]).verdict is Verdict.PROBABLY


def test_five_against_five_can_change() -> None:
    assert then_and_now([1, 1.2, 1.1, 0.9, 1.3], [5, 5.3, 5.1, 4.8, 5.2]).verdict is (
        Verdict.CHANGED
    )


def test_two_against_many_is_too_early_with_advice() -> None:
    told = then_and_now([1.0, 1.1], [5.0] * 12)
    assert (told.verdict, told.balls_needed) == (Verdict.TOO_EARLY, 10)


def test_no_change_needs_eight() -> None:
    seven = then_and_now(BEFORE_10[:7], BEFORE_10[:7], smallest_change=3.0)
    eight = then_and_now(BEFORE_10[:8], BEFORE_10[:8], smallest_change=3.0)
    assert seven.verdict is Verdict.TOO_EARLY
    assert eight.verdict is Verdict.NO_CHANGE


def test_nothing_read_is_no_comparison() -> None:
    nothing = compare(
        lesson([None, None], [None]),
        declaration(),
        None,
        moved=False,
        accuracy=None,
        resolution=0.1,
        earlier_before=(),
    )
    assert nothing is None
    half = compared(lesson([], [1.0, 2.0, 3.0]))
    assert (half.before.median, half.after.median, half.mishits) == (None, 2.0, None)


# drift


def test_a_clear_trend_before_takes_the_change_away() -> None:
    told = then_and_now(RISING, [x + 5 for x in RISING])
    assert told.verdict is Verdict.TOO_EARLY
    assert told.drift is DriftFinding.CLEARLY_MOVING
    assert told.balls_needed is None  # more balls do not help against drift


def test_an_unclear_trend_takes_one_level() -> None:
    before = [1.0, 2.3, 1.4, 2.1, 2.6, 1.7, 2.2, 2.5]
    after = [x + 1.4 for x in (1.9, 2.2, 2.0, 2.4, 1.8, 2.3, 2.1, 1.7)]
    told = then_and_now(before, after, smallest_change=1.0)
    assert told.drift is DriftFinding.MOVING
    assert told.verdict is Verdict.PROBABLY


def test_balls_of_a_drill_between_change_nothing() -> None:
    """A noisy slope from eight balls, drawn out over thirty more, would explain anything."""
    before = [1.0, 1.4, 0.9, 1.5, 1.1, 1.6, 1.2, 1.7]
    after = [3.0, 2.6, 3.1, 2.7, 3.2, 2.8, 2.9, 3.3]
    at_once = lesson(before, after)
    assert compared(with_drill(at_once, 8, 30)) == compared(at_once)
    assert compared(at_once).drift is DriftFinding.STEADY


def test_drift_also_guards_against_the_other_way() -> None:
    falling = [-x for x in RISING]
    told = then_and_now(falling, [x - 5 for x in falling])
    assert told.verdict is Verdict.TOO_EARLY
    assert told.drift is DriftFinding.CLEARLY_MOVING


def test_drift_never_touches_no_change() -> None:
    told = then_and_now(RISING, RISING, smallest_change=6.0)
    assert told.verdict is Verdict.NO_CHANGE


def test_a_closing_block_takes_the_place_of_the_drift_guard() -> None:
    told = compared(lesson(RISING[:5], [x + 8 for x in BEFORE_10], [1.2, 2.2, 1.7, 2.9, 3.0]))
    assert told.verdict is Verdict.CHANGED
    assert told.drift is DriftFinding.STEADY
    assert (told.before.n, told.closing_n) == (10, 5)


def test_a_closing_block_that_moved_is_told() -> None:
    told = compared(lesson(BEFORE_10[:5], AFTER_10, [x + 1 for x in BEFORE_10[:5]]))
    assert told.drift is DriftFinding.MOVING
    assert told.closing_shift == pytest.approx(1.0)
    assert told.verdict in (Verdict.CHANGED, Verdict.PROBABLY)


def test_one_closing_ball_does_not_switch_the_guard_off() -> None:
    told = compared(lesson(RISING, [x + 5 for x in RISING], [3.0]))
    assert told.closing_shift is None
    assert told.verdict is Verdict.TOO_EARLY


# mishits


def test_a_change_that_only_mishits_make_is_lowered() -> None:
    """Five thin balls before, none after: a better strike, hardly a longer one."""
    before = [41.0, 30.0, 41.5, 29.5, 40.2, 31.0, 40.5, 29.0, 30.5, 40.0]
    after = [42.1, 41.8, 42.6, 42.4, 41.6, 42.9, 42.7, 41.9, 42.4, 42.3]
    shots = lesson(before, after, tags_before=(1, 3, 5, 7, 8))
    told = compared(shots, smallest_change=2.5)
    assert compared(lesson(before, after), smallest_change=2.5).verdict is Verdict.CHANGED
    assert told.verdict is Verdict.TOO_EARLY
    assert told.lowered_by_mishits
    assert told.mishits is not None
    assert (told.mishits.before.count, told.mishits.after.count) == (5, 0)
    assert told.mishit_kinds == (MishitKind("thin", 5, 0),)


def test_flags_need_eight_shots_and_some_scatter() -> None:
    far = [1.0, 1.1, 0.9, 1.2, 0.8, 1.05, 9.0]
    assert not any(then_and_now(far, BEFORE_10).before.mishit)
    assert then_and_now([*far, 0.95], BEFORE_10).before.mishit == (False,) * 6 + (True, False)
    assert not any(then_and_now([1.0] * 9 + [50.0], BEFORE_10).before.mishit)


def test_a_tag_flags_in_any_block() -> None:
    told = compared(lesson([1.0, 2.0, 3.0], [4.0, 5.0, 6.0], tags_after=[1]))
    assert told.after.mishit == (False, True, False)


def test_no_clean_ball_left_is_too_early() -> None:
    told = compared(lesson(BEFORE_10, AFTER_10, tags_before=range(10)))
    assert (told.verdict, told.lowered_by_mishits) == (Verdict.TOO_EARLY, True)


# what the coach left out


def test_shots_left_out_are_put_back_when_that_differs() -> None:
    shots = list(lesson(BEFORE_10, [*AFTER_10, 0.1, 0.2, 0.3, 0.1, 0.2, 0.1]))
    for i in range(20, 26):
        shots[i] = replace(
            shots[i], status=ShotStatus.LEFT_OUT, reason="a dog ran across", left_out_by_coach=True
        )
    told = compared(shots)
    assert told.verdict is Verdict.CHANGED
    assert told.verdict_put_back is not None
    assert told.verdict_put_back is not Verdict.CHANGED
    assert compared(shots[:20]).verdict_put_back is None


def test_an_impossible_row_is_not_put_back() -> None:
    shots = list(lesson(BEFORE_10, [*AFTER_10, -500.0]))
    shots[-1] = replace(shots[-1], status=ShotStatus.LEFT_OUT, reason="carry-range")
    told = compared(shots)
    assert told.after.n == 10
    assert told.verdict_put_back is None


@pytest.mark.parametrize(
    ("club", "impossible"), [("driver", None), (None, RowRule(Check.IMPOSSIBLE, Quantity.CARRY))]
)
def test_another_club_or_an_impossible_row_is_not_put_back(
    club: str | None, impossible: RowRule | None
) -> None:
    bad = [0.1, 0.2, 0.3, 0.1, 0.2, 0.1]
    shots = list(lesson(BEFORE_10, [*AFTER_10, *bad]))
    for i in range(20, 26):
        shot = replace(shots[i].shot, club=club, impossible=impossible)
        shots[i] = replace(
            shots[i],
            shot=shot,
            status=ShotStatus.LEFT_OUT,
            reason="wrong bag",
            left_out_by_coach=True,
        )
    assert compared(shots).verdict_put_back is None


# windows


def test_overshot_is_told() -> None:
    told = then_and_now([-5.0, -4.8, -5.2, -4.9, -5.1], [3, 2.8, 3.2, 2.9, 3.1], window(-2, 2))
    assert told.overshot
    assert not then_and_now([-5.0] * 5, [1.0] * 5, window(-2, 2)).overshot
    assert not then_and_now([-5.0] * 5, [-3.0] * 5, window(-2, 2)).overshot


TO_ZERO = Want(Direction.ZERO)


def test_what_went_past_square_is_as_far_from_it_on_the_other_side() -> None:
    opened = [6.0, 5.4, 6.6, 5.8, 6.2, 5.6, 6.4, 5.9, 6.1, 6.3]
    assert then_and_now(opened, [v - 5.5 for v in opened], TO_ZERO).verdict is Verdict.CHANGED
    other_side = then_and_now(opened, [v - 12.0 for v in opened], TO_ZERO)
    assert other_side.verdict is Verdict.NO_CHANGE
    assert other_side.overshot
    beyond = then_and_now(opened, [v - 15.0 for v in opened], TO_ZERO)
    assert beyond.verdict is Verdict.OTHER_WAY
    assert beyond.inside is None


def test_past_square_by_less_than_matters_is_not_past_it() -> None:
    opened = [6.0, 5.4, 6.6, 5.8, 6.2]
    assert not then_and_now(opened, [v - 6.1 for v in opened], TO_ZERO).overshot


def test_both_medians_inside_are_judged_by_the_share() -> None:
    before = [-1.8, -1.4, -1.2, -0.8, -0.5, -0.2, 0.0, 0.3, 0.6, 0.9, 1.2, 1.5, 1.9]
    told = then_and_now(before, [x / 2 for x in before], window(-1.0, 1.0))
    assert told.by_share
    assert told.inside is not None
    assert (told.inside.before.count, told.inside.after.count) == (7, 13)
    assert told.verdict is Verdict.CHANGED
    back = then_and_now([x / 2 for x in before], before, window(-1.0, 1.0))
    assert back.verdict is Verdict.OTHER_WAY


def test_a_share_needs_eight() -> None:
    told = then_and_now([0.1, 3, 0.2, -3, 0, 3, -0.1], [0.0] * 7, window(-1, 1))
    assert told.by_share
    assert told.verdict is Verdict.TOO_EARLY


def test_the_ends_belong_to_the_window_in_any_unit() -> None:
    yard = 0.9144
    told = then_and_now(
        [150 * yard] * 3, [160 * yard, 150 * yard, 161 * yard], window(150 * yard, 160 * yard)
    )
    assert told.inside is not None
    assert (told.inside.before.count, told.inside.after.count) == (3, 2)


# the smallest change


def test_the_default_is_half_the_usual_spread() -> None:
    told = then_and_now(BEFORE_10, AFTER_10, smallest_change=None)
    assert told.smallest_change_from is SmallestChangeFrom.DEFAULT
    assert told.smallest_change == pytest.approx(0.5 * robust_sd(np.array(BEFORE_10)))


def test_the_default_pools_the_last_three_blocks() -> None:
    wide = [x * 3 for x in BEFORE_10]
    earlier = (sample_of([x * 100 for x in BEFORE_10]), sample_of(wide), sample_of(wide))
    told = compared(lesson(BEFORE_10, AFTER_10), smallest_change=None, earlier_before=earlier)
    pooled = robust_sd(np.array(wide), np.array(wide), np.array(BEFORE_10))
    assert told.smallest_change == pytest.approx(0.5 * pooled)


def test_identical_balls_fall_back_on_the_middle_half() -> None:
    values = np.array([1.0] * 6 + [2.0, 2.0, 2.0, 2.0])
    assert robust_sd(values) == pytest.approx(1 / 1.349)


@pytest.mark.parametrize(
    ("declared", "resolution", "moved", "accuracy", "smallest_change", "source"),
    [
        (0.5, 0.1, False, 9.0, 0.5, SmallestChangeFrom.DECLARED),
        (0.5, 0.8, False, 9.0, 0.8, SmallestChangeFrom.RESOLUTION),
        (0.5, 0.1, True, 9.0, 9.0, SmallestChangeFrom.ACCURACY),
        (0.5, 0.1, True, None, 0.5, SmallestChangeFrom.DECLARED),
        (None, 5.0, False, None, 5.0, SmallestChangeFrom.RESOLUTION),
    ],
)
def test_the_largest_of_what_matters_wins(  # noqa: PLR0917 (the columns of the table)
    declared: float | None,
    resolution: float,
    moved: bool,
    accuracy: float | None,
    smallest_change: float,
    source: SmallestChangeFrom,
) -> None:
    told = compared(
        lesson(BEFORE_10, AFTER_10),
        smallest_change=declared,
        resolution=resolution,
        moved=moved,
        accuracy=accuracy,
    )
    assert (told.smallest_change, told.smallest_change_from) == (smallest_change, source)


def test_a_moved_device_adds_its_error() -> None:
    """By hand: sys = .3 x robust sd; half = hypot(1.15 half, 1.6449 x 1.4142 x sys)."""
    told = compared(lesson(BEFORE_10, AFTER_10), moved=True)
    assert told.good is not None
    assert told.as_read is not None
    sys_sd = 0.3 * robust_sd(np.array(BEFORE_10))
    exact = told.as_read.estimate - told.as_read.ci90.low
    expected = np.hypot(1.15 * exact, 1.6448536 * np.sqrt(2) * sys_sd)
    assert told.good.estimate - told.good.ci90.low == pytest.approx(expected)


def test_a_poor_device_hides_a_change_from_any_number_of_balls() -> None:
    told = compared(lesson(BEFORE_10, AFTER_10), moved=True, accuracy=3.0)
    assert told.verdict is Verdict.TOO_EARLY
    assert (told.balls_needed, told.hidden_by) == (None, Hidden.SETUP)


def test_a_move_is_not_blamed_for_what_scatter_hides() -> None:
    """A difference of .9, of which a move of .05 hides nothing, in shots that vary by 6."""
    wide = [0.0, 9.0, -9.0, 4.0, -4.0, 4.1, -4.1, 8.0, -8.0, 0.1]
    told = compared(
        lesson(wide, [x + 0.9 for x in wide]),
        moved=True,
        accuracy=0.05,
        earlier_before=(sample_of([1.0, 1.1, 0.9, 1.05, 0.95] * 6),) * 3,
    )
    assert told.verdict is Verdict.TOO_EARLY
    assert (told.balls_needed, told.hidden_by) == (None, None)
