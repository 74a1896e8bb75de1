"""Seven balls a block or fewer, where drift hardly shows: more is asked, either way."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.evidence.share import share, share_change
from recapgen.evidence.verdict import SHIFTS, read_verdict
from recapgen.model.evidence import Interval, Shift, Verdict
from tests.evidence.made_shots import then_and_now, window

BEFORE = [1.0, 1.4, 2.0, 2.2, 2.6]


def now(moved_by: float) -> list[float]:
    return [value + moved_by + 0.01 * i for i, value in enumerate(BEFORE)]


def test_a_range_that_just_clears_nothing_is_probable_in_five_balls() -> None:
    told = then_and_now(BEFORE, now(1.0))
    assert told.good is not None
    assert told.good.ci90.low > 0
    assert told.verdict is Verdict.PROBABLY


def test_a_clear_change_is_still_seen_in_five_balls() -> None:
    assert then_and_now(BEFORE, now(1.2)).verdict is Verdict.CHANGED


@pytest.mark.parametrize(("n", "asked"), [(5, 1.4), (7, 1.4), (8, 1.3), (30, 1.3)])
def test_the_range_must_hold_wider_than_it_is_printed(n: int, asked: float) -> None:
    """The printed range is 1.15 times as wide as counted."""
    at_the_edge = 1.0 * 1.15 / asked
    for below, verdict in ((0.01, Verdict.CHANGED), (-0.01, Verdict.PROBABLY)):
        low = 1.0 - at_the_edge + below
        seen = Shift(1.0, Interval(low, 2.0), Interval(0.3, 1.7))
        assert read_verdict(seen, 0.5, n, SHIFTS) is verdict


@pytest.mark.parametrize("n", [5, 12])
def test_the_other_way_asks_for_as_much(n: int) -> None:
    for end, verdict in ((-0.01, Verdict.TOO_EARLY), (-0.3, Verdict.OTHER_WAY)):
        seen = Shift(-1.0, Interval(-2.0, end), Interval(-1.7, -0.3))
        assert read_verdict(seen, 0.5, n, SHIFTS) is verdict


def test_shares_must_hold_wider_than_they_are_printed() -> None:
    """7 and 11 of 12: Newcombe's range ends above nothing, made 15 hundredths wider below it."""
    seen = share_change(share(7, 12), share(11, 12))
    assert seen.newcombe90.low > 0
    before = [1.3, -1.3, 1.4, -1.4, 1.5, -0.9, -0.6, -0.3, 0.0, 0.3, 0.6, 0.9]
    after = [-1.2, -0.9, -0.7, -0.5, -0.3, -0.1, 0.1, 0.3, 0.5, 0.7, 0.9, 0.95]
    told = then_and_now(before, after, window(-1.0, 1.0))
    assert told.by_share
    assert told.inside is not None
    assert (told.inside.before.count, told.inside.after.count) == (7, 11)
    assert told.verdict is Verdict.PROBABLY


@given(
    n=st.integers(3, 30),
    estimate=st.floats(-5, 5),
    below=st.floats(0.01, 5),
    above=st.floats(0.01, 5),
)
def test_more_balls_never_lower_what_the_same_range_says(
    n: int, estimate: float, below: float, above: float
) -> None:
    seen = Shift(
        estimate,
        Interval(estimate - below, estimate + above),
        Interval(estimate - below / 2, estimate + above / 2),
    )
    claims = (Verdict.TOO_EARLY, Verdict.PROBABLY, Verdict.CHANGED)
    few, more = (read_verdict(seen, 0.5, size, SHIFTS) for size in (n, n + 1))
    if few in claims and more in claims:
        assert claims.index(more) >= claims.index(few)
