"""The air: what thins it, and the wind near the ground."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.golf import air
from recapgen.model.carry import Assumed
from recapgen.model.lesson import Conditions, Wind


def test_warm_damp_high_air_is_thinner() -> None:
    usual = air.density_kg_m3(20, 101_325, 0.5)
    assert air.density_kg_m3(30, 101_325, 0.5) < usual
    assert air.density_kg_m3(20, 101_325, 1.0) < usual
    assert air.density_kg_m3(20, 99_000, 0.5) < usual


def test_viscosity() -> None:
    """1.789e-5 Pa s at 15 C in the standard atmosphere."""
    assert air.viscosity_pa_s(15) == pytest.approx(1.789e-5, rel=1e-3)


def test_reynolds_of_a_drive() -> None:
    assert air.reynolds(67.0, air.STANDARD_AIR) == pytest.approx(1.89e5, rel=0.01)


@given(st.floats(970, 1040), st.floats(-100, 3000))
def test_a_sea_level_pressure_comes_back_to_the_place(hpa: float, altitude_m: float) -> None:
    """Reducing what is found at the place by the same atmosphere gives the report's figure."""
    here = air.station_pressure_pa(hpa * 100, altitude_m)
    power = air.PRESSURE_POWER
    geopotential_m = air.EARTH_RADIUS_M * altitude_m / (air.EARTH_RADIUS_M + altitude_m)
    lost = air.LAPSE_K_PER_M * geopotential_m / air.SEA_LEVEL_K
    again = air.SEA_LEVEL_PA * ((here / air.SEA_LEVEL_PA) ** (1 / power) + lost) ** power
    assert again == pytest.approx(hpa * 100, rel=1e-9)
    assert (here < hpa * 100) == (altitude_m > 0) or altitude_m == pytest.approx(0, abs=1e-6)


def test_a_report_read_as_the_place_would_lose_most_of_the_height() -> None:
    noted = Conditions(temperature_c=20.0, pressure_hpa=1013.25, altitude_m=1600.0)
    report = Conditions(
        temperature_c=20.0, pressure_hpa=1013.25, altitude_m=1600.0, pressure_at_sea_level=True
    )
    here, mistaken = air.air_of(report), air.air_of(noted)
    assert here is not None
    assert mistaken is not None
    assert here.density_kg_m3 / mistaken.density_kg_m3 == pytest.approx(0.824, abs=0.003)
    assert here.density_sd > mistaken.density_sd


def test_what_was_taken_for_granted_is_said() -> None:
    found = air.air_of(Conditions(temperature_c=14.0, altitude_m=90.0))
    assert found is not None
    assert found.assumed == (Assumed.PRESSURE, Assumed.HUMIDITY)
    assert found.density_kg_m3 == pytest.approx(1.2125, abs=0.003)
    assert found.density_sd == pytest.approx(0.0123, abs=0.002)


@pytest.mark.parametrize(
    ("from_deg", "along", "across"),
    [(70, -4, 0), (250, 4, 0), (160, 0, -4), (340, 0, 4)],
    ids=["head", "tail", "from the right", "from the left"],
)
def test_a_wind_seen_from_the_ball(from_deg: float, along: float, across: float) -> None:
    seen = air.wind_on_target(Wind(4.0, from_deg, 2.0), 70.0)
    assert seen.along_mps == pytest.approx(along, abs=1e-9)
    assert seen.across_mps == pytest.approx(across, abs=1e-9)


def test_wind_grows_with_height_and_stops_at_the_ground() -> None:
    def share(height_m: float) -> float:
        return (air.log_height(height_m, 0.03) / air.log_height(2.0, 0.03)).item()

    assert share(0.0) == share(-1.0) == 0.0
    assert share(2.0) == 1.0
    assert share(10.0) == pytest.approx(1.379, abs=0.001)
    assert share(1.0) < share(2.0) < share(30.0)
