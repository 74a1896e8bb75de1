"""Balls of many blocks in one array fly as each block would alone."""

import math
from random import Random

import numpy as np
import pytest
from msgspec.structs import astuple

from recapgen.golf import flight, flight_checks
from recapgen.golf.air import Floats
from recapgen.golf.clubs import Family
from recapgen.golf.flight import STEP_S, Launch, Weather, fly, track
from recapgen.golf.flight_line import flight_lines
from recapgen.golf.flown_together import fly_together, tracks_together, weather_of_each
from recapgen.golf.standard_carry import CarriedBlock, carries_in_standard_air
from recapgen.model.carry import StandardCarry
from recapgen.model.lesson import Conditions, Wind
from recapgen.model.quantity import Quantity
from tests.golf.standard_air import in_standard_air

WEATHERS = (
    Weather(),
    Weather(1.1),
    Weather(1.25, -3.0, 2.0, 2.0),
    Weather(1.2, 4.0, -1.0, 10.0, drag_added=0.01, lift_added=-0.02),
)
DAY = Conditions(temperature_c=9.0, altitude_m=90.0)


def launches(balls: int) -> Launch:
    rng = np.random.default_rng(balls)
    low, high = (20, 5, -6, 1500, -15), (75, 45, 6, 10_000, 15)
    return Launch(*rng.uniform(low, high, (balls, 5)).T)


def shots(seed: int, n: int = 6) -> list[dict[Quantity, float]]:
    rnd = Random(seed)  # noqa: S311 (invented shots)
    return [
        {
            Quantity.BALL_SPEED: rnd.uniform(45, 55),
            Quantity.LAUNCH_ANGLE: rnd.uniform(14, 20),
            Quantity.SPIN_RATE: rnd.uniform(5000, 7000),
            Quantity.CARRY: rnd.uniform(130, 150),
        }
        for _ in range(n)
    ]


def test_each_group_flies_as_it_would_alone() -> None:
    groups = [(launches(n), weather) for n, weather in enumerate(WEATHERS, start=1)]
    for (launch, weather), found in zip(groups, fly_together(groups, STEP_S), strict=True):
        assert np.allclose(astuple(found), astuple(fly(launch, weather)), rtol=1e-12, atol=1e-12)


def test_each_way_is_as_it_would_be_alone() -> None:
    first, second = launches(2), launches(3)
    together = tracks_together([first, second])
    assert [len(ways) for ways in together] == [2, 3]
    for ways, alone in zip(together, (track(first), track(second)), strict=True):
        for way, expected in zip(ways, alone, strict=True):
            assert np.allclose(astuple(way), astuple(expected), rtol=1e-12, atol=1e-12)


def test_nothing_flies_where_there_is_nothing() -> None:
    assert fly_together([], STEP_S) == []
    assert tracks_together([]) == []
    assert flight_lines([]) == []
    assert carries_in_standard_air([]) == []


def test_a_wind_the_same_at_every_height_is_not_flown_beside_others() -> None:
    with pytest.raises(ValueError, match="every height"):
        fly_together([(launches(1), Weather(along_mps=2.0))], STEP_S)


def test_balls_of_a_row_have_the_weather_of_their_own_block() -> None:
    which = [0, 2, 2, 1, 3]
    row = weather_of_each(WEATHERS, which)
    launch = launches(5)
    found = fly(launch, row)
    for at, weather in enumerate(which):
        alone = Launch(*(column[at : at + 1] for column in astuple(launch)))
        expected = fly(alone, WEATHERS[weather])
        assert found.carry_m[at] == pytest.approx(expected.carry_m.item(), rel=1e-12)


def test_blocks_are_corrected_together_as_they_are_alone() -> None:
    windy = Conditions(
        temperature_c=20.0, altitude_m=90.0, wind=Wind(3.0, 250.0, 2.0), target_deg=20.0
    )
    without = [{Quantity.CARRY: 140.0}]
    blocks = [
        CarriedBlock(shots(1), DAY, Family.IRON),
        CarriedBlock(shots(2), Conditions(indoors=True), None),
        CarriedBlock(without, DAY, None),
        CarriedBlock(shots(3, 9), windy, None),
    ]
    for block, told in zip(blocks, carries_in_standard_air(blocks), strict=True):
        alone = in_standard_air(block.shots, block.conditions, block.family)
        assert (told.withheld, told.assumed) == (alone.withheld, alone.assumed)
        assert np.allclose(figures(told), figures(alone), rtol=1e-12, atol=0, equal_nan=True)


def figures(told: StandardCarry) -> Floats:
    return np.array([told.factor, told.factor_sd, *told.carries_m], dtype=np.float64)


def test_the_longer_steps_of_the_row_checks_are_as_good_as_they_say(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rng = np.random.default_rng(20270411)
    rows = (rng.uniform(10, 85, 300), rng.uniform(0.1, 55, 300), rng.uniform(0, 11_000, 300))
    usual = flight_checks._bounds(*rows)  # noqa: SLF001 (what the rules compare with)
    monkeypatch.setattr(flight_checks, "STEP_S", 0.01)
    for found, fine in zip(usual, flight_checks._bounds(*rows), strict=True):  # noqa: SLF001
        assert found[0] == pytest.approx(fine[0], abs=0.05)
        assert found[1] == pytest.approx(fine[1], abs=0.2)


def test_ten_blocks_take_the_steps_of_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a step costs hardly depends on how many balls are in it."""
    steps = 0
    rates = flight._rates  # noqa: SLF001 (counted, and called)

    def counted(state: Floats, balls: flight._Balls) -> Floats:
        nonlocal steps
        steps += 1
        return rates(state, balls)

    monkeypatch.setattr(flight, "_rates", counted)
    carries_in_standard_air([CarriedBlock(shots(seed), DAY, None) for seed in range(10)])
    longest_s = 10.0
    assert 0 < steps <= 4 * math.ceil(longest_s / STEP_S)
