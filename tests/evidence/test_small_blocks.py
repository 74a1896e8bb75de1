"""Five balls a block, where drift cannot be looked for: "changed" asks for more."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.evidence.verdict import SHIFTS, read_verdict
from recapgen.model.evidence import Interval, Shift, Verdict
from tests.evidence.made_shots import then_and_now

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


@pytest.mark.parametrize(("n", "verdict"), [(5, Verdict.PROBABLY), (6, Verdict.CHANGED)])
def test_from_six_balls_on_the_usual_range_decides(n: int, verdict: Verdict) -> None:
    just_clear = Shift(1.0, Interval(0.01, 2.0), Interval(0.3, 1.7))
    assert read_verdict(just_clear, 0.5, n, SHIFTS) is verdict


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
