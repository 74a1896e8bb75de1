"""Retention between lessons: gates, words and the day's own part."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from scipy.optimize import brentq
from scipy.stats import t

from recapgen.evidence.retention import baseline, day_to_day_sd, kept_share, retained, student_t
from recapgen.evidence.shift import shift_between
from recapgen.model.evidence import Kept, Retention, Sample, Verdict
from recapgen.model.lesson import Want
from recapgen.model.shots import Block
from tests.evidence.made_shots import (
    HIGHER,
    LOWER,
    NUMBER,
    compared,
    lesson,
    one_block,
    sample_of,
    then_and_now,
)

BEFORE = [2.1, 1.4, 2.9, 1.8, 2.4, 1.1, 2.6, 2.0, 1.6, 2.3]
AFTER = [4.3, 3.7, 5.0, 4.1, 3.2, 4.6, 3.9, 4.8, 3.5, 4.4]
FIRST, NEXT = date(2027, 4, 11), date(2027, 4, 25)


def kept_of(now: list[float], day_sd: float = 0.2, want: Want = HIGHER) -> Retention:
    earlier = then_and_now(BEFORE, AFTER, want)
    found = retained(earlier, sample_of(now), day_sd, FIRST, NEXT)
    assert found is not None
    return found


def test_all_still_there() -> None:
    found = kept_of(AFTER)
    assert found.kept is Kept.MOSTLY
    assert found.gained == pytest.approx(2.1)
    assert found.still_there == pytest.approx(found.gained)


def test_gone_again() -> None:
    found = kept_of(BEFORE)
    assert found.kept is Kept.FADED
    assert found.still_there == pytest.approx(0.0)


def test_some_of_it() -> None:
    assert kept_of([x + 1.0 for x in BEFORE], day_sd=0.1).kept is Kept.SOME


def test_a_changeable_student_needs_more() -> None:
    assert kept_of([x + 1.0 for x in BEFORE], day_sd=1.5).kept is Kept.TOO_EARLY


def test_without_a_gain_there_is_no_share() -> None:
    earlier = then_and_now(BEFORE, [x + 0.1 for x in BEFORE])
    found = retained(earlier, sample_of(AFTER), 0.2, FIRST, NEXT)
    assert found is not None
    assert (found.kept, found.share80) == (Kept.NO_GAIN, None)


def test_a_gain_under_what_matters_is_none() -> None:
    earlier = then_and_now(BEFORE, AFTER, smallest_change=3.0)
    found = retained(earlier, sample_of(AFTER), 0.2, FIRST, NEXT)
    assert found is not None
    assert found.kept is Kept.NO_GAIN


def test_only_what_its_own_lesson_called_a_gain_can_be_kept() -> None:
    """The exact range is clear of nothing, but that lesson's page said too early."""
    told = then_and_now(BEFORE, AFTER)
    assert told.verdict is Verdict.CHANGED
    for verdict, kept in (
        (Verdict.PROBABLY, Kept.MOSTLY),
        (Verdict.TOO_EARLY, Kept.NO_GAIN),
        (Verdict.NO_CHANGE, Kept.NO_GAIN),
    ):
        found = retained(replace(told, verdict=verdict), sample_of(AFTER), 0.2, FIRST, NEXT)
        assert found is not None
        assert found.kept is kept
        assert (found.share80 is None) is (kept is Kept.NO_GAIN)


def test_lower_is_kept_as_well_as_higher() -> None:
    down = then_and_now([-x for x in BEFORE], [-x for x in AFTER], LOWER)
    found = retained(down, sample_of([-x for x in AFTER]), 0.2, FIRST, NEXT)
    assert found == kept_of(AFTER)


def test_a_day_must_lie_between_and_three_balls_in_each_block() -> None:
    earlier = then_and_now(BEFORE, AFTER)
    assert retained(earlier, sample_of(AFTER), 0.2, FIRST, FIRST) is None
    assert retained(earlier, sample_of([4.0, 4.1]), 0.2, FIRST, NEXT) is None


def test_the_baseline_is_the_opening_block_alone() -> None:
    shots = lesson(BEFORE, AFTER, [9.0, 9.0, 9.0])
    assert baseline(shots, NUMBER).values == tuple(BEFORE)
    assert compared(shots).before.n == 13


def test_the_set_is_fiellers() -> None:
    """Its ends solve |N - x D| = t sd(N - x D), found here by search."""
    before, after = np.array(BEFORE), np.array(AFTER)
    later = after - 0.6
    shifts = {
        "gained": shift_between(before, after),
        "still": shift_between(before, later),
        "since": shift_between(after, later),
    }
    found = kept_share(**shifts, day_sd=0.3, n=min(len(before), len(after)), level=0.90)
    assert found is not None
    v = {
        name: ((s.ci90.high - s.ci90.low) / (2 * 1.6448536269514722)) ** 2
        for name, s in shifts.items()
    }
    shared = max((v["still"] + v["gained"] - v["since"]) / 2, min(v["still"], v["gained"]) / 4)
    gained, still = shifts["gained"].estimate, shifts["still"].estimate

    def beyond(x: float) -> float:
        spread = v["still"] + 2 * 0.3**2 - 2 * x * shared + x * x * v["gained"]
        return float((still - x * gained) ** 2 - t.ppf(0.95, 18) ** 2 * spread)

    middle = still / gained
    assert found.low == pytest.approx(brentq(beyond, middle - 5, middle))
    assert found.high == pytest.approx(brentq(beyond, middle, middle + 5))


def samples(levels: list[float]) -> list[Sample]:
    return [sample_of([x + level for x in BEFORE]) for level in levels]


def test_day_to_day_is_a_convention_until_three_baselines() -> None:
    assert day_to_day_sd(samples([0.0, 5.0]), 2.0) == pytest.approx(0.6)


def test_day_to_day_is_then_the_students_own() -> None:
    levels = [0.0, 2.0, 4.0]
    steady = sample_of(BEFORE)
    assert steady.robust_sd is not None
    part = np.pi / 2 * steady.robust_sd**2 / 10
    expected = np.sqrt(np.var(levels, ddof=1) - part)
    assert day_to_day_sd(samples(levels), 0.1) == pytest.approx(expected)


def test_day_to_day_is_never_nothing() -> None:
    assert day_to_day_sd(samples([0.0, 0.0, 0.0]), 2.0) == pytest.approx(0.3)


@given(
    st.lists(st.integers(-50, 50).map(lambda n: n / 10), min_size=3, max_size=12),
    st.floats(0.0, 2.0),
)
def test_the_words_follow_the_set(now: list[float], day_sd: float) -> None:
    found = kept_of(now, day_sd)
    if found.share80 is None:
        assert found.kept is Kept.TOO_EARLY
        return
    low, high = found.share80.low, found.share80.high
    assert low <= found.still_there / found.gained <= high
    assert (found.kept is Kept.MOSTLY) == (low >= 0.5)
    assert (found.kept is Kept.SOME) == (0 < low < 0.5)
    assert (found.kept is Kept.FADED) == (low <= 0 and high < 0.5)


def test_an_uncued_block_is_read_from_the_shots() -> None:
    assert baseline(one_block(Block.BEFORE, [1.0, None, 3.0]), NUMBER).values == (1.0, 3.0)


@pytest.mark.parametrize("freedom", [2, 4, 10, 38, 998])
@pytest.mark.parametrize("level", [0.5, 0.8, 0.95])
def test_students_t_is_the_librarys(freedom: int, level: float) -> None:
    assert student_t(freedom, level) == pytest.approx(t.ppf((1 + level) / 2, freedom), rel=1e-9)
