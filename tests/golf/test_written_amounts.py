"""Amounts, windows, clubs and names as coaches write them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.golf.clubs import Family, club_named, family_of
from recapgen.golf.quantity_facts import FACTS, nearest_quantity, quantities_perhaps, quantity_named
from recapgen.golf.written_amounts import (
    UNITS,
    read_amount,
    read_bearing_deg,
    read_number,
    read_percent,
    read_pressure_hpa,
    read_temperature_c,
    read_window,
    unit_named,
)
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.units import LengthUnit, SpeedUnit, TemperatureUnit, Units

HOME = Units(SpeedUnit.MPH, LengthUnit.YARD, TemperatureUnit.FAHRENHEIT)
SPEED, LENGTH, ANGLE, SPIN = Dimension.SPEED, Dimension.LENGTH, Dimension.ANGLE, Dimension.SPIN


@pytest.mark.parametrize(
    ("text", "dimension", "expected"),
    [
        ("1 deg", ANGLE, 1.0),
        ("1,5 deg", ANGLE, 1.5),
        ("155 yd", LENGTH, 155 * 0.9144),
        ("155", LENGTH, 155 * 0.9144),
        ("12 m", LENGTH, 12.0),
        ("100", SPEED, 44.704),
        ("90 km/h", SPEED, 25.0),
        ("10 ft", LENGTH, 3.048),
        ("2 left", ANGLE, -2.0),
        ("L 2.5", ANGLE, -2.5),
        ("2.5°R", ANGLE, 2.5),
        ("3 m left of target", LENGTH, -3.0),
        ("3 down", ANGLE, -3.0),
        ("−2.5", ANGLE, -2.5),
        ("2,500 rpm", SPIN, 2500.0),
        ("6 500", SPIN, 6500.0),
        ("square", ANGLE, 0.0),
        ("3 mph", LENGTH, None),
        ("-2 left", ANGLE, None),
        ("left 2 right", ANGLE, None),
        ("1,250 m", LENGTH, None),
        ("a few", LENGTH, None),
        ("12 parsecs", LENGTH, None),
        ("", ANGLE, None),
        ("nan", ANGLE, None),
        ("1e999", LENGTH, None),
    ],
)
def test_amounts(text: str, dimension: Dimension, expected: float | None) -> None:
    found = read_amount(text, dimension, HOME)
    assert found == (None if expected is None else pytest.approx(expected))


@pytest.mark.parametrize(
    ("text", "dimension", "expected"),
    [
        ("38 to 44 m", LENGTH, (38, 44)),
        ("38 m to 44 m", LENGTH, (38, 44)),
        ("38-44 m", LENGTH, (38, 44)),
        ("38 m – 44 m", LENGTH, (38, 44)),
        ("between 38 and 44 m", LENGTH, (38, 44)),
        ("44 to 38 m", LENGTH, (38, 44)),
        ("1,5 to 2,5 m", LENGTH, (1.5, 2.5)),
        ("100 to 110", LENGTH, (91.44, 100.584)),
        ("2 left to 2 right", ANGLE, (-2, 2)),
        ("5 to 2 left", ANGLE, (-5, -2)),
        ("square to 3 right", ANGLE, (0, 3)),
        ("0 to 2 right of target", ANGLE, (0, 2)),
        ("-2 to 2 deg", ANGLE, (-2, 2)),
        ("-2--1", ANGLE, (-2, -1)),
        ("±2 deg", ANGLE, (-2, 2)),
        ("within 2 deg", ANGLE, (-2, 2)),
        ("2 either side", ANGLE, (-2, 2)),
        ("40 ± 2 m", LENGTH, (38, 42)),
        ("higher", ANGLE, None),
        ("38", LENGTH, None),
        ("38 to 44 mph", LENGTH, None),
        ("1 to 2 to 3", LENGTH, None),
    ],
)
def test_windows(text: str, dimension: Dimension, expected: tuple[float, float] | None) -> None:
    found = read_window(text, dimension, HOME)
    assert found == (None if expected is None else pytest.approx(expected))


def test_weather() -> None:
    assert read_temperature_c("14 C", HOME) == 14
    assert read_temperature_c("50", HOME) == pytest.approx(10)
    assert read_temperature_c("-3,5 °C", HOME) == -3.5
    assert read_temperature_c("warm", HOME) is None
    assert [read_bearing_deg(t) for t in ("070", "360", "SW", "north-west")] == [70, 0, 225, 315]
    assert [read_bearing_deg(t) for t in ("400", "-10", "left")] == [None] * 3
    assert [read_percent(t) for t in ("60 %", "0", "101", "x")] == [60, 0, None, None]
    assert read_pressure_hpa("1,009 mbar") == 1009
    assert read_pressure_hpa("29.92 inHg") == pytest.approx(1013.2, abs=0.1)
    assert read_pressure_hpa("101.3 kPa") == pytest.approx(1013)


@given(st.floats(-1e6, 1e6).map(lambda v: round(v, 3)), st.sampled_from(sorted(UNITS)))
def test_amounts_come_back_through_every_unit(value: float, word: str) -> None:
    unit = unit_named(word)
    assert unit is not None
    if unit.dimension is SPIN and value != round(value):
        value = round(value)
    for number in (f"{value:f}", f"{value:f}".replace(".", ",")):
        found = read_amount(f"{number} {word}", unit.dimension, HOME)
        assert found is not None
        assert math.isclose(found / unit.factor, value, rel_tol=1e-9, abs_tol=1e-9)


@given(st.text(max_size=30))
def test_any_text_is_an_amount_or_none(text: str) -> None:
    for dimension in Dimension:
        for found in (read_amount(text, dimension, HOME), read_number(text)):
            assert found is None or math.isfinite(found)
        window = read_window(text, dimension, HOME)
        assert window is None or window[0] <= window[1]
    read_temperature_c(text, HOME)
    read_bearing_deg(text)
    read_pressure_hpa(text)
    club_named(text)
    quantity_named(text)


@pytest.mark.parametrize(
    ("texts", "name", "family"),
    [
        ("driver,D,Dr,1W,Driver 10.5,Driver (9°),1-wood", "driver", Family.DRIVER),
        ("3W,3 wood,FW3,three wood,Wood 3,3-Fairway,3 Holz,Bois 3", "3 wood", Family.WOOD),
        ("5H,5 hybrid,hybrid 5,5 Utility", "5 hybrid", Family.HYBRID),
        (
            "7i,7 Iron,Iron 7,I-7,seven-iron,7-IRON,7 Eisen,Eisen 7,Fer 7,Järn 7",
            "7 iron",
            Family.IRON,
        ),
        ("PW,pitching wedge,P", "pitching wedge", Family.WEDGE),
        ("SW,sand wedge", "sand wedge", Family.WEDGE),
        ("AW,GW,gap,A wedge,approach wedge", "gap wedge", Family.WEDGE),
        ("56,56°,56 deg,W56,56 deg wedge,Wedge 56", "56 deg wedge", Family.WEDGE),
        ("52.5°", "52.5 deg wedge", Family.WEDGE),
        ("putter,Putt", "putter", Family.PUTTER),
    ],
)
def test_clubs(texts: str, name: str, family: Family) -> None:
    assert {club_named(text) for text in texts.split(",")} == {name}
    assert club_named(name) == name
    assert family_of(name) is family


def test_other_words_are_no_clubs() -> None:
    assert [club_named(t) for t in ("", "9", "spoon", "17i", "20 deg", "7")] == [None] * 6
    assert family_of("spoon") is None


def test_every_quantity_goes_by_its_name_and_synonyms() -> None:
    assert set(FACTS) == set(Quantity)
    names = [(name, q) for q, facts in FACTS.items() for name in (*facts.synonyms, q.value)]
    for name, quantity in names:
        for text in (name, name.upper(), name.replace(" ", "_"), name.title().replace(" ", "")):
            assert quantity_named(text) is quantity, text


def test_loose_words_are_not_settled() -> None:
    assert quantity_named("offline") is None
    assert quantities_perhaps("offline") == (Quantity.CARRY_SIDE, Quantity.TOTAL_SIDE)
    assert quantities_perhaps("carry") == ()


def test_misspelt_names_find_the_nearest() -> None:
    assert nearest_quantity("atack angel") is Quantity.ATTACK_ANGLE
    assert nearest_quantity("clup path") is Quantity.CLUB_PATH
    assert nearest_quantity("weather") is None


@pytest.mark.parametrize("quantity", list(Quantity))
def test_ranges_lie_within_each_other(quantity: Quantity) -> None:
    facts = FACTS[quantity]
    assert facts.impossible[0] <= facts.plausible[0] < facts.plausible[1] <= facts.impossible[1]
    width = facts.plausible[1] - facts.plausible[0]
    if quantity.is_outcome:  # in or out: nothing lies between
        assert facts.resolution == width == 1
    else:
        assert 0 < facts.resolution < width
    if quantity.mirrored:
        assert facts.plausible[0] == -facts.plausible[1]
