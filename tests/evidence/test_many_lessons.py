"""Lessons simulated by the thousand are judged as single ones are, and hold what was found."""

import numpy as np
import pytest

from recapgen.model.evidence import Verdict
from tests.benchmarks.many_lessons import (
    BUILT,
    ORDER,
    SCENARIOS,
    Lessons,
    Seen,
    judged,
    lessons_of,
    moved,
    read_into,
)
from tests.evidence.made_shots import compared, lesson, with_drill

CHANGED = ORDER.index(Verdict.CHANGED)


@pytest.mark.parametrize(
    ("scenario", "n", "moved_by"),
    [
        ("drift, correlation, mishits", 10, 1.0),
        ("20% mishits", 8, -1.5),
        ("clean", 6, 1.5),
        ("clean", 15, 0.0),
        ("correlation .3", 5, 2.0),
    ],
)
def test_many_lessons_are_judged_as_one_is(scenario: str, n: int, moved_by: float) -> None:
    """The thousands that rules are chosen by rest on a second writing: here both must agree."""
    rng = np.random.default_rng([20270411, n])
    balls = SCENARIOS[scenario](rng, 60, 2 * n + 9)
    before, after = balls[:, :n], balls[:, n + 9 :]
    whole, without, flagged = Seen.nothing(60), Seen.nothing(60), np.zeros(60, dtype=np.bool_)
    read_into(before, after, 9, whole, without, flagged, np.arange(60))
    told = [
        compared(with_drill(lesson(then.tolist(), (now + moved_by).tolist()), n, 9)).verdict
        for then, now in zip(before, after, strict=True)
    ]
    found = judged(moved(Lessons(whole, without, flagged), moved_by), BUILT)
    assert [ORDER[i] for i in found] == told
    assert len(set(told)) > 1


@pytest.mark.parametrize("drill", [0, 20])
def test_drill_balls_do_not_hide_a_plain_change(drill: int) -> None:
    """Three SD, 10 before and 10 after: .98 of lessons, .755 of them when the drill counted."""
    seen = lessons_of(SCENARIOS["clean"], [1, drill], 500, 10, drill)
    found = judged(moved(seen, 3.0), BUILT)
    assert np.mean(found == CHANGED) > 0.96


@pytest.mark.parametrize("n", [5, 6, 12, 20])
def test_nothing_changed_is_seldom_called_a_change(n: int) -> None:
    """Either way, with shots that resemble each other; the campaign holds all of the tables."""
    found = judged(lessons_of(SCENARIOS["correlation .3"], [2, n], 2000, n, 9), BUILT)
    assert np.mean(found == CHANGED) < 0.06
    assert np.mean(found == ORDER.index(Verdict.OTHER_WAY)) < 0.06
