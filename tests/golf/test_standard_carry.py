"""Carry in standard air: its factor, its doubt, and when it is not told."""

from collections.abc import Mapping
from random import Random

import pytest
from msgspec.structs import replace

from recapgen.golf.clubs import Family
from recapgen.golf.standard_carry import MOST_SD
from recapgen.model.carry import Assumed, Withheld
from recapgen.model.lesson import Conditions, Wind
from recapgen.model.quantity import Quantity
from tests.golf.standard_air import in_standard_air

Shot = dict[Quantity, float]
CALM = Wind(0.0, 0.0, 2.0)
DAY = Conditions(
    temperature_c=20.0, humidity_percent=50.0, pressure_hpa=1013.25, wind=CALM, target_deg=70.0
)
BAG: Mapping[Family, tuple[float, float, float]] = {
    Family.DRIVER: (67.0, 12.0, 2700.0),
    Family.IRON: (51.0, 17.0, 6200.0),
    Family.WEDGE: (41.0, 26.0, 9000.0),
}


def shot(family: Family = Family.IRON, *, carry_m: float = 100.0) -> Shot:
    speed, angle, spin = BAG[family]
    return {
        Quantity.CARRY: carry_m,
        Quantity.BALL_SPEED: speed,
        Quantity.LAUNCH_ANGLE: angle,
        Quantity.SPIN_RATE: spin,
    }


def without(made: Shot, *quantities: Quantity) -> Shot:
    return {q: value for q, value in made.items() if q not in quantities}


def blowing(speed_mps: float, off_target_deg: float, height_m: float = 2.0) -> Conditions:
    """0 is from the target: a head wind."""
    return replace(DAY, wind=Wind(speed_mps, 70.0 + off_target_deg, height_m))


@pytest.mark.parametrize(
    ("family", "speed_mps", "off_deg", "factor", "sd_percent"),
    [
        (Family.DRIVER, 3, 0, 1.051, 2.0),
        (Family.IRON, 3, 0, 1.091, 3.3),
        (Family.WEDGE, 3, 0, 1.126, 4.4),
        (Family.DRIVER, 3, 180, 0.968, 1.0),
        (Family.IRON, 3, 180, 0.948, 1.4),
        (Family.WEDGE, 3, 180, 0.928, 1.9),
        (Family.DRIVER, 5, 0, 1.098, 3.8),
        (Family.IRON, 5, 0, 1.186, 7.6),
        (Family.IRON, 5, 180, 0.927, 1.5),
        (Family.DRIVER, 5, 90, 0.998, 1.7),
        (Family.IRON, 5, 90, 0.996, 2.7),
    ],
)
def test_factor_and_doubt_agree_with_a_simulation_of_many_days(
    family: Family, speed_mps: float, off_deg: float, factor: float, sd_percent: float
) -> None:
    """Against a Monte Carlo of wind, its profile, launch, spin and four laws of flight."""
    told = in_standard_air([shot(family)], blowing(speed_mps, off_deg), family)
    assert told.factor == pytest.approx(factor, abs=0.002)
    assert told.factor_sd is not None
    assert 100 * told.factor_sd == pytest.approx(sd_percent, rel=0.2)
    if told.withheld is None:
        assert told.carries_m == pytest.approx((100 * factor,), abs=0.2)


def test_the_height_a_wind_was_quoted_for_matters() -> None:
    high = in_standard_air([shot()], blowing(5, 0, height_m=10.0), Family.IRON)
    assert high.factor == pytest.approx(1.117, abs=0.002)


@pytest.mark.parametrize(
    ("day", "family", "factor"),
    [
        (replace(DAY, temperature_c=5.0), Family.IRON, 1.025),
        (replace(DAY, temperature_c=35.0), Family.IRON, 0.977),
        (replace(DAY, pressure_hpa=None, altitude_m=1600.0), Family.IRON, 0.928),
        (replace(DAY, pressure_hpa=None, altitude_m=1600.0), Family.WEDGE, 0.923),
        (
            replace(DAY, pressure_at_sea_level=True, altitude_m=1600.0),
            Family.IRON,
            0.928,
        ),
    ],
)
def test_still_air_of_another_density(day: Conditions, family: Family, factor: float) -> None:
    told = in_standard_air([shot(family)], day, family)
    assert told.withheld is None
    assert told.factor == pytest.approx(factor, abs=0.006)


@pytest.mark.parametrize(
    ("day", "made", "reason"),
    [
        (DAY, without(shot(), Quantity.CARRY), Withheld.NO_CARRY),
        (replace(DAY, indoors=True), shot(), Withheld.INDOORS),
        (replace(DAY, temperature_c=None), shot(), Withheld.AIR_UNKNOWN),
        (replace(DAY, pressure_hpa=None), shot(), Withheld.AIR_UNKNOWN),
        (replace(DAY, pressure_at_sea_level=True), shot(), Withheld.AIR_UNKNOWN),
        (replace(blowing(5, 0), target_deg=None), shot(), Withheld.TARGET_UNKNOWN),
        (blowing(3, 180), without(shot(), Quantity.LAUNCH_ANGLE), Withheld.LAUNCH_UNKNOWN),
        (blowing(3, 180), without(shot(), Quantity.BALL_SPEED), Withheld.LAUNCH_UNKNOWN),
        (blowing(5, 0), shot(), Withheld.TOO_WINDY),
        (replace(DAY, pressure_hpa=None, altitude_m=5000.0), shot(), Withheld.AIR_TOO_FAR),
        (DAY, {**shot(), Quantity.LAUNCH_ANGLE: -5.0}, Withheld.FLIGHT_UNLIKELY),
    ],
)
def test_not_told_with_the_reason(day: Conditions, made: Shot, reason: Withheld) -> None:
    told = in_standard_air([shot(), made] if Quantity.CARRY in made else [made], day, None)
    assert told.withheld is reason
    assert set(told.carries_m) == {None}


def test_a_missing_spin_is_assumed_said_and_doubted() -> None:
    day = blowing(5, 180)
    read = in_standard_air([shot()], day, Family.IRON)
    assumed = in_standard_air([without(shot(), Quantity.SPIN_RATE)], day, Family.IRON)
    assert Assumed.SPIN in assumed.assumed
    assert Assumed.SPIN not in read.assumed
    assert assumed.factor == pytest.approx(read.factor, abs=0.02)
    assert read.factor_sd is not None
    assert assumed.factor_sd is not None
    assert read.factor_sd < assumed.factor_sd <= MOST_SD


def test_a_strike_tells_more_of_the_spin_than_a_launch_does() -> None:
    bare = without(shot(), Quantity.SPIN_RATE)
    struck = {**bare, Quantity.CLUB_SPEED: 38.0, Quantity.SPIN_LOFT: 27.0}
    day = blowing(5, 180)
    from_launch = in_standard_air([bare], day, Family.IRON)
    from_strike = in_standard_air([struck], day, Family.IRON)
    assert from_strike.factor_sd is not None
    assert from_launch.factor_sd is not None
    assert from_strike.factor_sd < from_launch.factor_sd
    assert Assumed.SPIN in from_strike.assumed


def test_a_missing_launch_in_still_air_is_corrected_for_density_alone() -> None:
    day = replace(DAY, pressure_hpa=None, altitude_m=1600.0)
    told = in_standard_air([without(shot(), Quantity.LAUNCH_ANGLE)], day, Family.IRON)
    assert told.withheld is None
    assert told.factor == pytest.approx(0.922, abs=0.005)
    assert told.assumed == (Assumed.PRESSURE, Assumed.LAUNCH)


def test_one_shot_without_a_launch_decides_how_all_are_corrected() -> None:
    """Carries corrected in two ways never stand in one average."""
    day = replace(DAY, temperature_c=5.0)
    told = in_standard_air([shot(), without(shot(), Quantity.LAUNCH_ANGLE)], day, None)
    assert Assumed.LAUNCH in told.assumed
    assert told.carries_m[0] == told.carries_m[1]


def test_a_wind_nobody_wrote_down_is_said_to_be_taken_as_calm() -> None:
    told = in_standard_air([shot()], replace(DAY, wind=None), Family.IRON)
    assert told.withheld is None
    assert told.assumed == (Assumed.CALM,)


def test_a_slow_ball_is_doubted_more(monkeypatch: pytest.MonkeyPatch) -> None:
    """Under about 25 m/s the lift depends on the very ball."""
    pitch = {
        Quantity.CARRY: 35.0,
        Quantity.BALL_SPEED: 21.0,
        Quantity.LAUNCH_ANGLE: 32.0,
        Quantity.SPIN_RATE: 5500.0,
    }
    doubted = in_standard_air([pitch], blowing(3, 0), Family.WEDGE)
    monkeypatch.setattr("recapgen.golf.standard_carry.SLOW_REYNOLDS", 0)
    trusted = in_standard_air([pitch], blowing(3, 0), Family.WEDGE)
    assert doubted.factor == trusted.factor
    assert doubted.factor_sd is not None
    assert trusted.factor_sd is not None
    assert doubted.factor_sd > 1.15 * trusted.factor_sd


@pytest.mark.parametrize("seed", range(3))
def test_the_order_of_the_shots_never_matters(seed: int) -> None:
    rnd = Random(seed)  # noqa: S311 - shuffles, nothing to guess
    shots = [
        {
            Quantity.BALL_SPEED: rnd.uniform(45, 57),
            Quantity.LAUNCH_ANGLE: rnd.uniform(14, 20),
            Quantity.SPIN_RATE: rnd.uniform(5000, 7500),
            **({Quantity.CARRY: rnd.uniform(120, 150)} if number != 1 else {}),
        }
        for number in range(5)
    ]
    order = list(range(len(shots)))
    rnd.shuffle(order)
    day = blowing(4, 160)
    there = in_standard_air(shots, day, Family.IRON)
    back = in_standard_air([shots[i] for i in order], day, Family.IRON)
    assert there.withheld is back.withheld is None
    assert there.factor == pytest.approx(back.factor)
    assert there.carries_m[1] is None
    assert [there.carries_m[i] for i in order] == [
        c if c is None else pytest.approx(c) for c in back.carries_m
    ]
