"""What is worked out from the rest of a row, and readings that disagree with it."""

from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.golf import impact
from recapgen.golf.clubs import Family
from recapgen.golf.derived import Derived, derive
from recapgen.golf.impact import smash_ceiling
from recapgen.model.people import Hand
from recapgen.model.quantity import Quantity as Q  # noqa: N817 - a column of names
from recapgen.model.row_rules import Check, RowRule
from recapgen.model.shots import WorkedFrom

NAN = float("nan")
IRON: Mapping[Q, float] = {
    Q.CLUB_SPEED: 38.0,
    Q.BALL_SPEED: 51.0,
    Q.ATTACK_ANGLE: -3.5,
    Q.DYNAMIC_LOFT: 22.0,
    Q.CLUB_PATH: 4.0,
    Q.FACE_ANGLE: 1.0,
    Q.LAUNCH_ANGLE: 17.0,
    Q.LAUNCH_DIRECTION: 1.6,
    Q.SPIN_RATE: 6200.0,
    Q.SPIN_AXIS: -6.0,
    Q.CARRY: 143.0,
    Q.CARRY_SIDE: -3.0,
}


def of(row: Mapping[Q, float], club: str | None = "7 iron") -> Derived:
    return derive({q: [value] for q, value in row.items()}, [club])


def found(derived: Derived, row: int = 0) -> dict[Q, Any]:
    """What was worked out for one row: quantity to (value, way)."""
    return {
        worked.quantity: (worked.values[row].item(), worked.way)
        for worked in derived.worked
        if np.isfinite(worked.values[row])
    }


def test_a_row_is_filled_with_what_follows_from_it() -> None:
    values = found(of(IRON))
    assert values[Q.SMASH_FACTOR] == (pytest.approx(1.342, abs=0.001), WorkedFrom.SPEEDS)
    assert values[Q.FACE_TO_PATH] == (pytest.approx(-3.0), WorkedFrom.FACE_AND_PATH)
    assert values[Q.SPIN_LOFT] == (pytest.approx(25.66, abs=0.02), WorkedFrom.STRIKE)
    assert values[Q.LOW_POINT] == (pytest.approx(0.119, abs=0.001), WorkedFrom.ARC)
    along = np.sqrt(143.0**2 - 3.0**2)
    curve = -3 * np.cos(np.radians(1.6)) - along * np.sin(np.radians(1.6))
    assert values[Q.CURVE] == (pytest.approx(curve), WorkedFrom.FINISH)
    assert values[Q.APEX][1] is values[Q.DESCENT_ANGLE][1] is WorkedFrom.FLIGHT
    assert not set(values) & set(IRON)
    assert Q.TOTAL not in values


def test_a_launch_that_was_not_read_is_worked_out_from_the_strike() -> None:
    bare = {q: IRON[q] for q in (Q.CLUB_SPEED, Q.ATTACK_ANGLE, Q.DYNAMIC_LOFT, Q.CLUB_PATH)}
    values = found(of({**bare, Q.FACE_TO_PATH: -3.0}))
    assert values[Q.FACE_ANGLE][0] == pytest.approx(1.0)
    assert values[Q.LAUNCH_ANGLE][0] == pytest.approx(16.65, abs=0.05)  # -3.5 + .79 x 25.5
    assert 1.0 < values[Q.LAUNCH_DIRECTION][0] < 2.5
    assert values[Q.SPIN_AXIS][0] == pytest.approx(-6.6, abs=0.5)
    assert values[Q.SPIN_RATE][0] == pytest.approx(5260, abs=100)
    # What is itself an estimate is not flown.
    assert Q.CARRY not in values


def test_gaps_are_filled_row_by_row_and_readings_stay() -> None:
    readings = {Q.BALL_SPEED: [51.0, 50.0], Q.CLUB_SPEED: [38.0, 38.0], Q.SMASH_FACTOR: [1.5, NAN]}
    derived = derive(readings, ["7 iron", "7 iron"])
    assert Q.SMASH_FACTOR not in found(derived, 0)
    assert found(derived, 1)[Q.SMASH_FACTOR][0] == pytest.approx(50 / 38)


def test_a_quantity_may_be_worked_out_in_two_ways_but_no_row_twice() -> None:
    row = {q: [value, value] for q, value in IRON.items()}
    row[Q.CARRY_SIDE] = [-3.0, NAN]
    derived = derive(row, ["7 iron", "7 iron"])
    assert found(derived, 0)[Q.CURVE][1] is WorkedFrom.FINISH
    assert found(derived, 1)[Q.CURVE][1] is WorkedFrom.FLIGHT
    for quantity in {worked.quantity for worked in derived.worked}:
        filled = [np.isfinite(w.values) for w in derived.worked if w.quantity is quantity]
        assert (np.sum(filled, axis=0) <= 1).all()


@pytest.mark.parametrize(
    ("changes", "rules"),
    [
        ({}, ()),
        ({Q.SPIN_LOFT: 25.5}, ()),
        ({Q.SPIN_LOFT: 30.0}, (Check.SPIN_LOFT_DISAGREES,)),
        ({Q.CURVE: -7.0}, ()),
        ({Q.CURVE: 12.0}, (Check.CURVE_DISAGREES,)),
        ({Q.CARRY: 100.0}, (Check.CARRY_FAR_FROM_LAUNCH,)),
        ({Q.CARRY: 185.0}, (Check.CARRY_FAR_FROM_LAUNCH,)),
        ({Q.CARRY: 165.0}, ()),
        ({Q.APEX: 26.0, Q.DESCENT_ANGLE: 45.0}, ()),
        ({Q.APEX: 45.0}, (Check.APEX_FAR_FROM_LAUNCH,)),
        ({Q.APEX: 12.0}, (Check.APEX_FAR_FROM_LAUNCH,)),
        ({Q.DESCENT_ANGLE: 25.0}, (Check.DESCENT_FAR_FROM_LAUNCH,)),
        ({Q.BALL_SPEED: 5.0, Q.CARRY: 2.0, Q.CARRY_SIDE: 0.0}, ()),
    ],
)
def test_what_disagrees_with_its_own_row(changes: dict[Q, float], rules: tuple[Check, ...]) -> None:
    assert of({**IRON, **changes}).doubts.get(0, ()) == tuple(map(RowRule, rules))


def test_either_spin_loft_will_do() -> None:
    """Far from square the true angle and loft less attack part: 11.35 and 9."""
    row = {Q.ATTACK_ANGLE: 4.0, Q.CLUB_PATH: -5.0, Q.DYNAMIC_LOFT: 13.0, Q.FACE_ANGLE: 2.0}
    assert of({**row, Q.SPIN_LOFT: 11.35}).doubts == {}
    assert of({**row, Q.SPIN_LOFT: 9.0}).doubts == {}
    assert of({**row, Q.SPIN_LOFT: 15.0}).doubts == {0: (RowRule(Check.SPIN_LOFT_DISAGREES),)}


@given(st.data())
def test_no_reading_crashes_and_the_order_of_rows_never_matters(data: st.DataObject) -> None:
    n = data.draw(st.integers(1, 4))
    cell = st.one_of(st.just(NAN), st.floats(-200, 200), st.floats(allow_nan=True))
    quantities = data.draw(st.lists(st.sampled_from(list(IRON)), unique=True))
    readings = {q: data.draw(st.lists(cell, min_size=n, max_size=n)) for q in quantities}
    clubs = data.draw(
        st.lists(st.sampled_from([None, "driver", "7 iron", "?"]), min_size=n, max_size=n)
    )
    order = list(range(n))
    data.draw(st.randoms(use_true_random=False)).shuffle(order)
    there = derive(readings, clubs)
    back = derive(
        {q: [v[i] for i in order] for q, v in readings.items()}, [clubs[i] for i in order]
    )
    for place, row in enumerate(order):
        assert there.doubts.get(row) == back.doubts.get(place)
        expected = found(there, row)
        again = found(back, place)
        assert expected.keys() == again.keys()
        for quantity, (value, way) in expected.items():
            assert again[quantity] == (pytest.approx(value, rel=1e-6, abs=1e-6), way)


angles = st.floats(-15, 15)


@given(angles, angles, st.floats(5, 60), angles, st.floats(0.5, 0.9))
def test_the_d_plane_of_a_mirrored_strike_is_its_mirror(
    attack: float, path: float, loft: float, face: float, share: float
) -> None:
    def plane(sign: int) -> impact.DPlane:
        return impact.d_plane(
            impact.Delivery(
                np.array([attack]),
                np.array([sign * path]),
                np.array([loft]),
                np.array([sign * face]),
            ),
            share,
        )

    here, mirror = plane(1), plane(-1)
    assert here.launch_direction_deg == pytest.approx(-mirror.launch_direction_deg, abs=1e-9)
    assert here.launch_angle_deg == pytest.approx(mirror.launch_angle_deg, abs=1e-9)
    assert here.spin_loft_deg == pytest.approx(mirror.spin_loft_deg, abs=1e-9)
    if loft > attack + 1:
        assert here.axis_deg == pytest.approx(-mirror.axis_deg, abs=1e-9)
        low, high = sorted((attack, loft))
        assert low - 1 <= here.launch_angle_deg.item() <= high + 1
    assert (here.spin_loft_deg >= np.abs(loft - attack) - 1e-6).all()


@given(
    attack=st.floats(-9, -2),
    loft=st.floats(38, 54),
    path=st.floats(-6, 6),
    open_by=st.floats(1, 8),
    left=st.booleans(),
)
def test_a_wedge_starts_between_path_and_face_as_measured_from_above(
    attack: float, loft: float, path: float, open_by: float, left: bool
) -> None:
    """Published measurements, seen from above: .58 to .85 of the way from path to face."""
    face = path - open_by if left else path + open_by
    strike = impact.Delivery(*(np.array([deg]) for deg in (attack, path, loft, face)))
    plane = impact.d_plane(strike, impact.face_share(Family.WEDGE))
    towards_face = (plane.launch_direction_deg.item() - path) / (face - path)
    assert 0.58 <= towards_face <= 0.85


def test_a_face_square_to_the_path_makes_a_straight_ball() -> None:
    plane = impact.d_plane(
        impact.Delivery(np.array([0.0]), np.array([2.0]), np.array([0.0]), np.array([2.0])), 0.8
    )
    assert plane.axis_deg.item() == plane.spin_loft_deg.item() == 0
    assert plane.launch_direction_deg.item() == pytest.approx(2.0)


def test_no_strike_gives_more_than_the_ceiling() -> None:
    assert smash_ceiling(0.0).item() == pytest.approx(1.56, abs=0.005)
    lofts = np.linspace(0, 60, 20)
    assert (np.diff(smash_ceiling(lofts)) < 0).all()


def test_a_left_hander_swings_the_mirror_of_a_path() -> None:
    down = np.array([-5.0])
    right = impact.path_deg(np.zeros(1), down, 55.0, Hand.RIGHT)
    left = impact.path_deg(np.zeros(1), down, 55.0, Hand.LEFT)
    assert right.item() == pytest.approx(-left.item())
    assert right.item() > 0
    assert np.isnan(impact.path_deg(np.zeros(1), np.array([-60.0]), 45.0, Hand.RIGHT)).all()


def test_loft_taken_off_is_a_lean_forward() -> None:
    assert [impact.shaft_lean_deg(loft, 34.0) for loft in (28.0, 36.0)] == [6.0, -2.0]


@pytest.mark.parametrize(
    ("family", "speed", "angle", "spin"),
    [(Family.DRIVER, 67, 12, 2700), (Family.IRON, 51, 17, 6200), (Family.WEDGE, 41, 26, 9000)],
)
def test_spin_worked_back_from_the_launch(
    family: Family, speed: float, angle: float, spin: float
) -> None:
    estimate = impact.spin_from_launch(np.array([speed]), np.array([angle]), family)
    assert abs(estimate.value.item() - spin) < estimate.doubt.item()
