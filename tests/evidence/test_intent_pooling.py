"""The coach's ledger: pooled, careful, and ranked only from three students up."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from recapgen.evidence.intent_pooling import lesson_gain, pool
from recapgen.model.evidence import LessonGain
from tests.evidence.made_shots import then_and_now

BEFORE = [2.1, 1.4, 2.9, 1.8, 2.4, 1.1, 2.6, 2.0, 1.6, 2.3]
AFTER = [4.3, 3.7, 5.0, 4.1, 3.2, 4.6, 3.9, 4.8, 3.5, 4.4]


def gain(intent: str, student: str, amount: float, se: float = 0.5) -> LessonGain:
    return LessonGain(intent, student, amount, se)


def test_nothing_kept_is_an_empty_ledger() -> None:
    assert pool([]) == ()


def test_a_lesson_counts_changes_that_matter() -> None:
    told = then_and_now(BEFORE, AFTER, smallest_change=0.5)
    found = lesson_gain("hum", "anna", told)
    assert found is not None
    assert told.good is not None
    assert found.gain == pytest.approx(2.1 / 0.5)
    width = told.good.ci90.high - told.good.ci90.low
    assert found.se == pytest.approx(width / (2 * 1.6448536 * 0.5))
    assert lesson_gain("hum", "anna", then_and_now([1.0], [2.0])) is None
    assert (
        lesson_gain("hum", "anna", then_and_now([1.0] * 5, [1.0] * 5, smallest_change=0.0)) is None
    )


def test_ranked_from_three_students() -> None:
    rows = pool(
        [
            *(gain("hum", f"s{i}", 1.0) for i in range(2)),
            *(gain("tall", f"s{i}", 0.5) for i in range(3)),
            *(gain("slow", f"s{i}", 1.5) for i in range(4)),
            gain("calm", "s1", 3.0),
        ]
    )
    assert [(r.intent, r.ranked) for r in rows] == [
        ("slow", True),
        ("tall", True),
        ("calm", False),
        ("hum", False),
    ]
    assert [(r.lessons, r.students) for r in rows] == [(4, 4), (3, 3), (1, 1), (2, 2)]


def test_one_keen_student_is_one_voice() -> None:
    """Nine lessons of one student weigh little more than that student's mean, once."""
    keen = [gain("hum", "anna", 2.0, 0.1) for _ in range(9)]
    once = [gain("hum", "anna", 2.0, 0.1 / 3)]
    undeclared_numbers = [gain("hum", "ben", 0.0), gain("hum", "cleo", 0.2)]
    assert pool([*keen, *undeclared_numbers])[0].gain == pytest.approx(
        pool([*once, *undeclared_numbers])[0].gain
    )
    assert pool([*keen, *undeclared_numbers])[0].lessons == 11
    assert pool([*keen, *undeclared_numbers])[0].students == 3


def test_a_single_lesson_leans_on_the_others() -> None:
    noise = (-0.8, 0.9, -0.6, 0.5)
    quiet = [gain(f"i{i}", f"s{j}", noise[(i + j) % 4]) for i in range(5) for j in range(4)]
    bright = gain("bright", "anna", 1.5)
    alone = pool([bright])[0]
    among = next(r for r in pool([*quiet, bright]) if r.intent == "bright")
    assert among.gain < alone.gain < bright.gain


def test_the_grid_agrees_with_drawing_from_the_model() -> None:
    """Weighted draws of tau, omega, mu and theta give the same mean and interval."""
    told = {
        "hum": [(1.2, 0.5), (0.4, 0.6), (0.9, 0.4)],
        "slow": [(-0.3, 0.5), (0.1, 0.5), (0.2, 0.7)],
    }
    rows = {
        r.intent: r
        for r in pool(
            [gain(i, f"s{k}", y, se) for i, ys in told.items() for k, (y, se) in enumerate(ys)]
        )
    }
    rng = np.random.default_rng(8)
    draws = 400_000
    tau, omega = np.abs(rng.normal(0, 0.75, draws)), np.abs(rng.normal(0, 1, draws))
    mu = rng.normal(0, 1, draws)
    theta = {intent: mu + omega * rng.normal(0, 1, draws) for intent in told}
    fit = np.zeros(draws)
    for intent, lessons in told.items():
        for y, se in lessons:
            fit += norm.logpdf(y, theta[intent], np.hypot(se, tau))
    weight = np.exp(fit - fit.max())
    weight /= weight.sum()
    for intent, row in rows.items():
        order = np.argsort(theta[intent])
        below = np.cumsum(weight[order])
        assert row.gain == pytest.approx(float(weight @ theta[intent]), abs=0.02)
        assert row.p_positive == pytest.approx(float(weight @ (theta[intent] > 0)), abs=0.01)
        assert row.ci90 is not None
        low, high = theta[intent][order][np.searchsorted(below, [0.05, 0.95])]
        assert (row.ci90.low, row.ci90.high) == pytest.approx((low, high), abs=0.06)


intents = st.sampled_from(["hum", "tall", "slow"])
gains = st.lists(
    st.builds(
        LessonGain,
        intent=intents,
        student=st.sampled_from(["anna", "ben", "cleo", "dora"]),
        gain=st.floats(-5, 5),
        se=st.floats(0.05, 3),
    ),
    min_size=1,
    max_size=15,
)


@given(gains, st.randoms(use_true_random=False))
def test_the_order_of_lessons_is_nothing(kept: list[LessonGain], random: object) -> None:
    del random
    forwards, backwards = pool(kept), pool(list(reversed(kept)))
    assert [r.intent for r in forwards] == [r.intent for r in backwards]
    for one, other in zip(forwards, backwards, strict=True):
        assert one.gain == pytest.approx(other.gain)
        assert one.ranked is other.ranked
        if one.ci90 is not None and one.p_positive is not None:
            assert one.ci90.low <= one.gain <= one.ci90.high
            assert 0 <= one.p_positive <= 1
