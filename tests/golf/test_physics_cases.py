"""The reference cases of impact, air and flight.

``physics_cases.json`` is a copy of the project's reference cases; each names where its values
come from. They were worked out independently of this program.
"""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from recapgen.golf import air, impact
from recapgen.golf.flight import Flights, Launch, Weather, fly, track
from recapgen.golf.row_checks import check_rows
from recapgen.model.carry import Withheld
from recapgen.model.lesson import Conditions, Wind
from recapgen.model.people import Hand
from recapgen.model.quantity import Quantity
from recapgen.model.units import LengthUnit, SpeedUnit
from tests.golf.standard_air import in_standard_air

Case = dict[str, Any]
_CASES: list[Case] = json.loads(
    (Path(__file__).parent / "physics_cases.json").read_text(encoding="utf-8")
)["cases"]
PA_PER_INHG = 3386.389


def cases(kind: str) -> list[Any]:
    return [
        pytest.param(c["inputs"], c["expected"], id=c["id"]) for c in _CASES if c["kind"] == kind
    ]


def case(name: str) -> Case:
    (found,) = (c for c in _CASES if c["id"] == name)
    return found


def holds(value: float, expected: Case) -> bool:
    if "value" in expected:
        return bool(abs(value - expected["value"]) <= expected["tol"])
    return bool(expected["min"] <= value <= expected["max"])


def one(value: float) -> air.Floats:
    return np.array([value])


def speed_mps(given: Case) -> float:
    for unit, in_mps in (
        ("mps", 1.0),
        ("mph", SpeedUnit.MPH.in_mps),
        ("fps", SpeedUnit.FTPS.in_mps),
    ):
        if f"ball_speed_{unit}" in given:
            return float(given[f"ball_speed_{unit}"] * in_mps)
    raise KeyError("ball_speed")


def density(given: Case) -> float:
    if "rho" in given:
        return float(given["rho"])
    temperature_c = given["temp_c"] if "temp_c" in given else (given["temp_f"] - 32) / 1.8
    if "pressure_pa" in given:
        pressure_pa = given["pressure_pa"]
    elif "pressure_inhg" in given:
        pressure_pa = given["pressure_inhg"] * PA_PER_INHG
    else:
        pressure_pa = air.pressure_at_altitude_pa(given["altitude_m"])
    return air.density_kg_m3(temperature_c, pressure_pa, given["rh"])


def launch_of(given: Case) -> Launch:
    return Launch(
        one(speed_mps(given)),
        one(given["launch_deg"]),
        one(given.get("direction_deg", 0.0)),
        one(given["spin_rpm"]),
        one(given.get("tilt_deg", 0.0)),
    )


def test_every_case_is_of_a_kind_that_is_held_to_here() -> None:
    assert {c["kind"] for c in _CASES} == {
        "impact", "bad_input", "density", "flight", "property", "standard_air",
    }  # fmt: skip


def struck(given: Case) -> dict[str, float]:
    """Everything the inputs of an impact case allow, by the names the cases use."""
    found: dict[str, float] = {}
    if "face_deg" in given:
        plane = impact.d_plane(
            impact.Delivery(
                one(given["attack_deg"]),
                one(given["path_deg"]),
                one(given["dynamic_loft_deg"]),
                one(given["face_deg"]),
            ),
            given["in_plane_face_share"],
        )
        found |= {
            "face_to_path_deg": plane.face_to_path_deg.item(),
            "spin_loft_planar_deg": impact.planar_spin_loft_deg(
                one(given["dynamic_loft_deg"]), one(given["attack_deg"])
            ).item(),
            "spin_loft_3d_deg": plane.spin_loft_deg.item(),
            "spin_axis_tilt_deg": plane.axis_deg.item(),
            "launch_angle_deg": plane.launch_angle_deg.item(),
            "launch_direction_deg": plane.launch_direction_deg.item(),
        }
    if "club_speed_mps" in given:
        smash = impact.smash_factor(one(given["ball_speed_mps"]), one(given["club_speed_mps"]))
        found["smash"] = smash.item()
    if "swing_direction_deg" in given:
        hand = Hand.RIGHT if given["hand"] == "R" else Hand.LEFT
        path = impact.path_deg(
            one(given["swing_direction_deg"]), one(given["attack_deg"]), given["plane_deg"], hand
        )
        found["path_deg"] = path.item()
    if "radius_m" in given:
        arc = impact.low_point(one(given["attack_deg"]), given["plane_deg"], given["radius_m"])
        found["low_point_ahead_m"] = arc.value.item()
    if "static_loft_deg" in given:
        found["shaft_lean_est_deg"] = impact.shaft_lean_deg(
            given["dynamic_loft_deg"], given["static_loft_deg"]
        )
        found["must_be_flagged_estimate"] = impact.LEAN_DOUBT_DEG
    return found


@pytest.mark.parametrize(("given", "expected"), cases("impact"))
def test_impact(given: Case, expected: Case) -> None:
    found = struck(given)
    for name, value in expected.items():
        if value is True:
            assert found[name] == impact.LEAN_DOUBT_DEG
        else:
            assert holds(found[name], value), name


_READ_AS = {
    "ball_speed_mph": (Quantity.BALL_SPEED, SpeedUnit.MPH.in_mps),
    "club_speed_mph": (Quantity.CLUB_SPEED, SpeedUnit.MPH.in_mps),
    "carry_yd": (Quantity.CARRY, LengthUnit.YARD.in_m),
    "launch_deg": (Quantity.LAUNCH_ANGLE, 1.0),
    "attack_deg": (Quantity.ATTACK_ANGLE, 1.0),
    "dynamic_loft_deg": (Quantity.DYNAMIC_LOFT, 1.0),
}


@pytest.mark.parametrize(("given", "expected"), cases("bad_input"))
def test_bad_input(given: Case, expected: Case) -> None:
    row = {_READ_AS[name][0]: [value * _READ_AS[name][1]] for name, value in given.items()}
    findings = check_rows(row, [None])
    assert expected["rejected_or_flagged"]
    assert 0 in findings.impossible or 0 in findings.doubts


@pytest.mark.parametrize(("given", "expected"), cases("density"))
def test_density(given: Case, expected: Case) -> None:
    assert holds(density(given), expected["rho"])
    if "pressure_pa" in expected:
        found = air.pressure_at_altitude_pa(given["altitude_m"])
        assert holds(found, expected["pressure_pa"])


def flown(given: Case) -> dict[str, float]:
    launch, weather = launch_of(given), Weather(density(given))
    flight = fly(launch, weather)
    (way,) = track(launch, weather)
    climb = np.degrees(np.arctan2(np.diff(way.height_m), np.diff(way.distance_m)))
    return {
        "carry_m": flight.carry_m.item(),
        "carry_yd": flight.carry_m.item() / LengthUnit.YARD.in_m,
        "apex_m": flight.apex_m.item(),
        "time_s": flight.time_s.item(),
        "land_angle_deg": flight.descent_deg.item(),
        "max_path_angle_deg": float(climb.max()),
        "spin_fraction": flight.landing_spin_rpm.item() / given["spin_rpm"]
        if given["spin_rpm"]
        else 1.0,
    }


@pytest.mark.parametrize(("given", "expected"), cases("flight"))
def test_flight(given: Case, expected: Case) -> None:
    found = flown(given)
    for name, value in expected.items():
        assert holds(found[name], value), (name, found[name])


def test_mirror() -> None:
    given, expected = case("F15")["inputs"], case("F15")["expected"]
    turned = {**given, "direction_deg": -given["direction_deg"], "tilt_deg": -given["tilt_deg"]}

    def sideways(inputs: Case, cross_mps: float) -> Flights:
        return fly(launch_of(inputs), Weather(across_mps=cross_mps, quoted_at_m=2.0))

    there = sideways(given, given["cross_wind_mps"])
    back = sideways(turned, -given["cross_wind_mps"])
    assert abs(there.side_m.item()) > 1
    for here, mirrored in (
        (there.side_m, -back.side_m),
        (there.curve_m, -back.curve_m),
        (there.carry_m, back.carry_m),
        (there.apex_m, back.apex_m),
    ):
        assert abs((here - mirrored).item()) <= expected["max_abs_error_m"]


def test_thin_air() -> None:
    given, expected = case("F18")["inputs"], case("F18")["expected"]
    launch = launch_of(given)
    low = fly(launch, Weather(density({**given, "altitude_m": 0})))
    high = fly(launch, Weather(density(given)))
    gain_pct = 100 * ((high.carry_m / low.carry_m).item() - 1)
    assert holds(gain_pct, expected["carry_gain_pct"])


def test_standard_air_changes_nothing_in_standard_air() -> None:
    given, expected = case("N01")["inputs"], case("N01")["expected"]
    shot = {
        Quantity.CARRY: float(given["measured_carry_m"]),
        Quantity.BALL_SPEED: float(given["ball_speed_mps"]),
        Quantity.LAUNCH_ANGLE: float(given["launch_deg"]),
        Quantity.SPIN_RATE: float(given["spin_rpm"]),
    }
    day = Conditions(
        temperature_c=given["temp_c"],
        humidity_percent=100 * given["rh"],
        pressure_hpa=given["pressure_pa"] / 100,
        wind=Wind(float(given["wind_mps"]), 0.0, 2.0),
    )
    told = in_standard_air([shot], day, None)
    assert told.withheld is None
    assert told.carries_m[0] is not None
    assert holds(told.carries_m[0], expected["standard_air_carry_m"])


def test_no_single_number_without_a_launch_angle_in_wind() -> None:
    given, expected = case("N03")["inputs"], case("N03")["expected"]
    shot = {
        Quantity.CARRY: 140.0,
        Quantity.BALL_SPEED: float(given["ball_speed_mps"]),
        Quantity.SPIN_RATE: float(given["spin_rpm"]),
    }
    day = Conditions(
        temperature_c=20.0,
        altitude_m=0.0,
        wind=Wind(float(given["wind_mps"]), 0.0, 2.0),
        target_deg=0.0,
    )
    told = in_standard_air([shot], day, None)
    assert (told.carries_m == (None,)) is expected["no_single_number"]
    assert (told.withheld is Withheld.LAUNCH_UNKNOWN) is expected["states_reason"]
