"""Rows that cannot be, and rows that want a second look."""

import math
from collections.abc import Mapping

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.golf.flight import Launch, Weather, fly
from recapgen.golf.quantity_facts import FACTS
from recapgen.golf.row_checks import Findings, check_rows
from recapgen.model.quantity import Quantity as Q  # noqa: N817 - a column of names
from recapgen.model.row_rules import Check, RowRule

SOUND: Mapping[Q, float] = {
    Q.CLUB_SPEED: 38.0,
    Q.BALL_SPEED: 52.8,
    Q.SMASH_FACTOR: 1.39,
    Q.ATTACK_ANGLE: -3.5,
    Q.DYNAMIC_LOFT: 24.0,
    Q.LAUNCH_ANGLE: 17.5,
    Q.CLUB_PATH: 3.0,
    Q.FACE_ANGLE: 1.0,
    Q.FACE_TO_PATH: -2.0,
    Q.LAUNCH_DIRECTION: 1.5,
    Q.SPIN_RATE: 6500.0,
    Q.CARRY: 140.0,
}


def judged(
    changes: Mapping[str, float], club: str | None = "7 iron"
) -> tuple[str | None, tuple[str, ...]]:
    row = {**SOUND, **{Q[name]: value for name, value in changes.items()}}
    return named(check_rows({q: [value] for q, value in row.items()}, [club]))


def named(findings: Findings) -> tuple[str | None, tuple[str, ...]]:
    """What is said of the first row."""
    broken = findings.impossible.get(0)
    doubts = tuple(rule.name for rule in findings.doubts.get(0, ()))
    return broken.name if broken is not None else None, doubts


def test_a_sound_row_passes() -> None:
    assert judged({}) == (None, ())


@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"CLUB_SPEED": 76.0}, "impossible-club-speed"),
        ({"BALL_SPEED": 113.0}, "impossible-ball-speed"),
        ({"ATTACK_ANGLE": -26.0}, "impossible-attack-angle"),
        ({"CLUB_PATH": 36.0}, "impossible-club-path"),
        ({"SPIN_RATE": -1.0}, "impossible-spin-rate"),
        ({"SPIN_RATE": 18_001.0}, "impossible-spin-rate"),
        ({"CARRY": 421.0}, "impossible-carry"),
        ({"SMASH_FACTOR": 1.57}, "smash-over-ceiling"),
        ({"SPIN_LOFT": 45.0}, "smash-over-ceiling"),
        ({"TOTAL": 130.0}, "carry-beyond-total"),
        ({"APEX": 90.0}, "apex-not-of-launch"),
        ({"APEX": 3.0}, "apex-not-of-launch"),
        ({"DESCENT_ANGLE": 12.0}, "descent-not-of-launch"),
        ({"DESCENT_ANGLE": 84.0}, "descent-not-of-launch"),
        ({"SPIN_RATE": 9000.0, "BALL_SPEED": 13.0}, "spin-over-speed"),
    ],
)
def test_impossible_rows(changes: dict[str, float], rule: str) -> None:
    assert judged(changes) == (rule, ())


@pytest.mark.parametrize(
    ("changes", "rules"),
    [
        ({"CLUB_PATH": 16.0, "FACE_TO_PATH": -15.0}, ("unusual-club-path",)),
        ({"SMASH_FACTOR": 1.51, "BALL_SPEED": 57.4}, ("smash-high",)),
        ({"SMASH_FACTOR": 1.45}, ("smash-disagrees",)),
        ({"LAUNCH_ANGLE": 26.5}, ("launch-outside-attack-and-loft",)),
        ({"LAUNCH_DIRECTION": -1.5}, ("direction-outside-path-and-face",)),
        ({"FACE_TO_PATH": 2.0}, ("face-to-path-disagrees",)),
        ({"SPIN_LOFT": 45.0, "SMASH_FACTOR": 1.19, "BALL_SPEED": 45.2}, ("smash-high",)),
    ],
)
def test_doubtful_rows(changes: dict[str, float], rules: tuple[str, ...]) -> None:
    assert judged(changes) == (None, rules)


@pytest.mark.parametrize(
    ("smash", "club"),
    [(0.26, "7 iron"), (0.22, "sand wedge"), (0.05, "7 iron"), (0.05, "driver")],
)
def test_a_chunk_a_blast_and_a_graze_are_real_and_count(smash: float, club: str) -> None:
    """Told all the same, whether the device gives the smash factor or the two speeds."""
    given = {Q.CLUB_SPEED: [36.0], Q.BALL_SPEED: [36.0 * smash]}
    for row in (given, {**given, Q.SMASH_FACTOR: [smash]}):
        findings = check_rows(row, [club])
        assert not findings.impossible
        assert RowRule(Check.SMASH_LOW) in findings.doubts[0]


def test_a_putt_is_not_told_as_a_chunk() -> None:
    findings = check_rows({Q.CLUB_SPEED: [2.0], Q.BALL_SPEED: [0.5]}, ["putter"])
    assert (findings.impossible, findings.doubts) == ({}, {})


@pytest.mark.parametrize(
    ("smash", "club", "rule", "doubts"),
    [
        (1.45, "sand wedge", "smash-over-ceiling", ()),
        (1.38, "pitching wedge", None, ("smash-high",)),
        (1.30, "pitching wedge", None, ()),
        (1.45, "7 iron", None, ()),
        (1.45, None, None, ()),
    ],
)
def test_without_a_spin_loft_the_club_says_what_is_too_much(
    smash: float, club: str | None, rule: str | None, doubts: tuple[str, ...]
) -> None:
    findings = check_rows({Q.CLUB_SPEED: [34.0], Q.BALL_SPEED: [34.0 * smash]}, [club])
    assert named(findings) == (rule, doubts)


@pytest.mark.parametrize(
    ("total", "club", "rule", "doubts"),
    [
        (85.0, "sand wedge", None, ()),
        (79.1, "sand wedge", None, ()),  # both in whole metres or yards
        (76.0, "sand wedge", None, ("spun-back",)),
        (66.0, "sand wedge", "carry-beyond-total", ()),
        (77.0, "8 iron", None, ("spun-back",)),
        (77.0, None, None, ("spun-back",)),
        (74.0, "8 iron", "carry-beyond-total", ()),
        (77.0, "driver", "carry-beyond-total", ()),
        (79.1, "driver", None, ()),
    ],
)
def test_a_ball_may_spin_back_and_none_stops_far_short_of_its_carry(
    total: float, club: str | None, rule: str | None, doubts: tuple[str, ...]
) -> None:
    findings = check_rows({Q.CARRY: [80.0], Q.TOTAL: [total]}, [club])
    assert named(findings) == (rule, doubts)


@pytest.mark.parametrize(
    ("speed", "angle", "spin", "wind"),
    [
        (67.0, 12.0, 2700.0, 0.0),
        (73.0, 8.0, 4000.0, -8.0),
        (51.0, 17.0, 6200.0, 8.0),
        (38.0, 30.0, 9000.0, -8.0),
        (20.0, 50.0, 7000.0, 0.0),
        (45.0, 4.0, 1500.0, 0.0),
    ],
)
def test_what_a_ball_flew_is_not_called_impossible(
    speed: float, angle: float, spin: float, wind: float
) -> None:
    """Flown in any usual wind, from a tee 5 m above the landing as well, with or without spin."""
    launch = Launch(*(np.array([value]) for value in (speed, angle, 0.0, spin, 0.0)))
    for landing_m in (0.0, -5.0):
        flight = fly(launch, Weather(along_mps=wind, quoted_at_m=10.0), landing_m)
        row = {
            Q.BALL_SPEED: [speed],
            Q.LAUNCH_ANGLE: [angle],
            Q.APEX: flight.apex_m.tolist(),
            Q.DESCENT_ANGLE: flight.descent_deg.tolist(),
        }
        for spinning in ({}, {Q.SPIN_RATE: [spin]}):
            assert not check_rows({**row, **spinning}, [None]).impossible


def test_a_putter_has_a_ceiling_of_its_own() -> None:
    assert judged({"SMASH_FACTOR": 1.7}, "putter")[0] is None
    assert judged({"SMASH_FACTOR": 1.7}, "driver")[0] == "smash-over-ceiling"
    assert judged({"SMASH_FACTOR": 1.76}, "putter")[0] == "smash-over-ceiling"


def test_smash_is_worked_out_where_it_is_not_given() -> None:
    findings = check_rows({Q.CLUB_SPEED: [38.0, 38.0], Q.BALL_SPEED: [60.0, 52.0]}, [None, None])
    assert findings.impossible == {0: RowRule(Check.SMASH_OVER_CEILING)}


@given(st.sampled_from(list(Q)), st.integers(0, 4))
def test_a_missing_reading_breaks_no_rule(quantity: Q, row: int) -> None:
    columns = {q: [value] * 5 for q, value in SOUND.items()}
    columns.setdefault(quantity, [math.nan] * 5)[row] = math.nan
    findings = check_rows(columns, ["7 iron"] * 5)
    assert not findings.impossible
    assert not findings.doubts


@given(st.data())
def test_a_rule_looks_at_its_own_row_only(data: st.DataObject) -> None:
    """Rows may stand in any order: what is said of each stays the same."""
    values = data.draw(st.lists(st.floats(-200, 200), min_size=2, max_size=12))
    order = data.draw(st.permutations(range(len(values))))
    for quantity in (Q.CLUB_PATH, Q.CARRY, Q.SMASH_FACTOR):
        straight = check_rows({quantity: values}, [None] * len(values))
        turned = check_rows({quantity: [values[i] for i in order]}, [None] * len(values))
        assert {order[i]: rule for i, rule in turned.impossible.items()} == straight.impossible
        low, high = FACTS[quantity].impossible
        for row, value in enumerate(values):
            if quantity is not Q.SMASH_FACTOR:
                assert (row in straight.impossible) == (not low <= value <= high)
