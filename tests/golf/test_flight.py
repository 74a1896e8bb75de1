"""What any flight must keep to, whatever the launch."""

import math
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.golf.air import Floats
from recapgen.golf.ball import GRAVITY_MPS2
from recapgen.golf.flight import Flights, Launch, Weather, fly, track
from recapgen.golf.flight_line import flight_lines
from recapgen.model.quantity import Quantity

LONG_S = 0.2  # what holds of the equations holds for steps of any length


@st.composite
def launches(draw: st.DrawFn, most: int = 3) -> Launch:
    n = draw(st.integers(1, most))

    def column(low: float, high: float) -> Floats:
        values = st.floats(low, high, allow_subnormal=False)
        return np.array(draw(st.lists(values, min_size=n, max_size=n)))

    return Launch(
        column(20, 80), column(4, 45), column(-8, 8), column(500, 10_000), column(-25, 25)
    )


def every(flights: Flights) -> Floats:
    return np.array(
        [
            flights.carry_m,
            flights.side_m,
            flights.curve_m,
            flights.apex_m,
            flights.descent_deg,
            flights.time_s,
        ]
    )


def one(speed: float, angle: float, spin: float) -> Launch:
    return Launch(
        np.array([speed]), np.array([angle]), np.zeros(1), np.array([spin]), np.zeros(1)
    )  # fmt: skip


@given(launches(), st.floats(-8, 8), st.floats(-8, 8))
def test_a_mirrored_launch_in_a_mirrored_wind_lands_in_the_mirror(
    launch: Launch, along: float, across: float
) -> None:
    mirrored = Launch(
        launch.ball_speed_mps,
        launch.angle_deg,
        -launch.direction_deg,
        launch.spin_rpm,
        -launch.axis_deg,
    )
    there = fly(launch, Weather(along_mps=along, across_mps=across, quoted_at_m=2.0), step_s=LONG_S)
    back = fly(
        mirrored, Weather(along_mps=along, across_mps=-across, quoted_at_m=2.0), step_s=LONG_S
    )
    sign = np.array([1, -1, -1, 1, 1, 1])[:, None]
    assert np.allclose(every(there), sign * every(back), atol=1e-6)


@given(
    st.floats(30, 75), st.floats(6, 40), st.floats(500, 9000), st.floats(-8, 8), st.floats(-8, 8)
)
def test_a_wind_the_same_at_every_height_is_a_moving_frame(
    speed: float, angle: float, spin: float, along: float, across: float
) -> None:
    """Seen from the wind the ball flies in still air, with the wind taken off its velocity.

    With spin along the target line alone, where the axis stays square to the flight.
    """
    up = math.radians(angle)
    for spinning, side in ((spin, 0.0), (0.0, across)):
        vx, vy, vz = speed * math.cos(up) - along, speed * math.sin(up), -side
        seen = Launch(
            np.array([math.hypot(vx, vy, vz)]),
            np.array([math.degrees(math.atan2(vy, math.hypot(vx, vz)))]),
            np.array([math.degrees(math.atan2(vz, vx))]),
            np.array([spinning]),
            np.zeros(1),
        )
        still = fly(seen, step_s=LONG_S)
        windy = fly(
            one(speed, angle, spinning), Weather(along_mps=along, across_mps=side), step_s=LONG_S
        )
        ahead = np.sqrt(still.carry_m**2 - still.side_m**2) + along * still.time_s
        assert windy.side_m == pytest.approx(still.side_m + side * still.time_s, abs=1e-6)
        assert windy.carry_m == pytest.approx(np.hypot(ahead, windy.side_m), abs=1e-6)
        assert windy.apex_m == pytest.approx(still.apex_m, abs=1e-6)


@given(launches())
def test_without_air_a_ball_flies_a_parabola(launch: Launch) -> None:
    flight = fly(launch, Weather(density_kg_m3=0.0), step_s=LONG_S)
    up, speed = np.radians(launch.angle_deg), launch.ball_speed_mps
    assert flight.carry_m == pytest.approx(speed**2 * np.sin(2 * up) / GRAVITY_MPS2, abs=1e-6)
    assert flight.apex_m == pytest.approx((speed * np.sin(up)) ** 2 / 2 / GRAVITY_MPS2, abs=1e-6)
    assert flight.time_s == pytest.approx(2 * speed * np.sin(up) / GRAVITY_MPS2, abs=1e-6)
    assert flight.descent_deg == pytest.approx(launch.angle_deg, abs=1e-6)
    assert flight.curve_m == pytest.approx(0 * speed, abs=1e-6)
    assert flight.landing_spin_rpm == pytest.approx(launch.spin_rpm)


@given(st.floats(0, 2), st.floats(-3, 3), st.floats(-2, 2), st.floats(0.85, 1.15), st.floats(1, 8))
def test_a_head_wind_costs_more_than_a_tail_wind_gives(
    club: float, faster: float, higher: float, spinnier: float, wind: float
) -> None:
    """Of full shots from driver (0) over mid iron (1) to wedge (2): a low drive can gain by it."""
    bag = ((67, 51, 41), (12, 17, 26), (2700, 6200, 9000))
    speed, angle, spin = (float(np.interp(club, (0, 1, 2), column)) for column in bag)
    three = np.ones(3)
    launch = Launch(
        (speed + faster) * three,
        (angle + higher) * three,
        0 * three,
        spin * spinnier * three,
        0 * three,
    )
    winds = np.array([-wind, 0.0, wind])
    head, still, tail = fly(launch, Weather(along_mps=winds, quoted_at_m=2.0)).carry_m
    assert still - head > tail - still


@given(launches(most=6), st.randoms(use_true_random=False))
def test_the_order_of_the_balls_never_matters(launch: Launch, rnd: Random) -> None:
    order = list(range(len(launch.ball_speed_mps)))
    rnd.shuffle(order)
    shuffled = Launch(
        launch.ball_speed_mps[order],
        launch.angle_deg[order],
        launch.direction_deg[order],
        launch.spin_rpm[order],
        launch.axis_deg[order],
    )
    weather = Weather(along_mps=-3.0, across_mps=2.0, quoted_at_m=10.0)
    # Many balls at once differ from few in the last bits only.
    assert np.allclose(
        every(fly(launch, weather, step_s=LONG_S))[:, order],
        every(fly(shuffled, weather, step_s=LONG_S)),
    )


def test_the_step_is_short_enough() -> None:
    drive = one(67, 12, 2700)
    fine = fly(drive, step_s=0.002)
    usual = fly(drive)
    assert usual.carry_m == pytest.approx(fine.carry_m, abs=0.03)
    assert usual.apex_m == pytest.approx(fine.apex_m, abs=0.01)
    assert usual.time_s == pytest.approx(fine.time_s, abs=0.002)


@pytest.mark.parametrize(("wind_mps", "within_m"), [(0.0, 0.001), (5.0, 0.05), (10.0, 0.11)])
def test_the_step_is_as_short_as_it_says(wind_mps: float, within_m: float) -> None:
    """Over wedges, irons and drives, and winds from all around."""
    rng = np.random.default_rng(20270411)
    low, high = (10, 5, -6, 1500, -15), (80, 50, 6, 11_000, 15)
    launch = Launch(*rng.uniform(low, high, (300, 5)).T)
    way = rng.uniform(0, 2 * np.pi, 300)
    weather = Weather(
        along_mps=wind_mps * np.cos(way), across_mps=wind_mps * np.sin(way), quoted_at_m=2.0
    )
    usual, fine = fly(launch, weather), fly(launch, weather, step_s=0.005)
    off_m = np.hypot(usual.carry_m - fine.carry_m, usual.side_m - fine.side_m)
    assert off_m.max() < within_m


def test_a_ball_that_cannot_fly_spoils_no_other() -> None:
    nan = math.nan
    launch = Launch(
        np.array([51.0, nan, 0.0, 51.0, 51.0]),
        np.array([17.0, 17.0, 17.0, 17.0, -5.0]),
        np.zeros(5),
        np.array([6200.0, 6200.0, 6200.0, -1.0, 6200.0]),
        np.zeros(5),
    )
    flight = fly(launch)
    assert flight.carry_m[0] == pytest.approx(fly(one(51, 17, 6200)).carry_m[0])
    assert np.isnan(flight.carry_m[1:4]).all()
    assert flight.carry_m[4] == pytest.approx(0, abs=1e-9)


def test_a_higher_green_takes_carry_and_one_out_of_reach_is_never_landed_on() -> None:
    iron = one(51, 17, 6200)
    level = fly(iron)
    assert fly(iron, landing_m=8.0).carry_m < level.carry_m < fly(iron, landing_m=-8.0).carry_m
    assert np.isnan(fly(iron, landing_m=level.apex_m.item() + 1).carry_m).all()


def test_a_tilted_axis_curves_that_way_by_the_share_of_carry_it_should() -> None:
    """About 0.7 to 0.8% of the carry for each degree."""
    for speed, angle, spin, percent in (
        (67, 12, 2700, 0.69),
        (51, 17, 6200, 0.83),
        (41, 26, 9000, 0.78),
    ):
        launch = Launch(
            np.array([float(speed)]),
            np.array([float(angle)]),
            np.array([2.0]),
            np.array([float(spin)]),
            np.array([8.0]),
        )
        flight = fly(launch)
        found = 100 * (flight.curve_m / flight.carry_m).item() / 8
        assert found == pytest.approx(percent, abs=0.05)


def test_a_way_ends_where_the_flight_lands() -> None:
    launch = one(51, 17, 6200)
    (way,) = track(launch)
    assert way.distance_m[-1] == pytest.approx(fly(launch).carry_m.item(), abs=1e-6)
    assert way.height_m[-1] == pytest.approx(0, abs=1e-6)
    assert way.height_m.max() == pytest.approx(fly(launch).apex_m.item(), abs=0.05)


def test_a_flight_line_is_that_of_the_middle_shot() -> None:
    shots = [
        {Quantity.BALL_SPEED: speed, Quantity.LAUNCH_ANGLE: 17.0, Quantity.SPIN_RATE: 6200.0}
        for speed in (49.0, 51.0, 60.0)
    ]
    line, nothing = flight_lines(
        [([*shots, {Quantity.CARRY: 120.0}], None), ([{Quantity.CARRY: 120.0}], None)]
    )
    assert line is not None
    middle = fly(one(51, 17, 6200))
    assert line.carry_m == pytest.approx(middle.carry_m.item(), abs=1e-6)
    assert line.apex_m[1] == pytest.approx(middle.apex_m.item(), abs=0.05)
    assert line.distance_m[0] == line.height_m[0] == 0
    assert nothing is None
