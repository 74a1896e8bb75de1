"""Amounts as people read them."""

from collections.abc import Callable
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.model.people import Hand
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.units import LengthUnit, SpeedUnit, TemperatureUnit, Units
from recapgen.words.amounts import (
    amount,
    day,
    hand_word,
    height,
    month,
    quantity_meaning,
    quantity_name,
    short_day,
    sides,
    signed,
    size,
    span,
    temperature,
)
from recapgen.words.catalogue import words

EN = words("en")
METRIC = Units()
IMPERIAL = Units(SpeedUnit.MPH, LengthUnit.YARD, TemperatureUnit.FAHRENHEIT)


@pytest.mark.parametrize(
    ("quantity", "value", "units", "expected"),
    [
        (Quantity.CLUB_PATH, 6.3, METRIC, "6.3° right"),
        (Quantity.CLUB_PATH, -0.8, METRIC, "0.8° left"),
        (Quantity.CLUB_PATH, -0.04, METRIC, "0.0°"),
        (Quantity.ATTACK_ANGLE, -3.14, METRIC, "3.1° down"),
        (Quantity.ATTACK_ANGLE, 2.0, METRIC, "2.0° up"),
        (Quantity.LAUNCH_ANGLE, 14.2, METRIC, "14.2°"),
        (Quantity.LAUNCH_ANGLE, -1.5, METRIC, "1.5° down"),
        (Quantity.LOW_POINT, 0.041, METRIC, "4.1\u202fcm past the ball"),
        (Quantity.LOW_POINT, -0.0254, IMPERIAL, "1.0\u202fin behind the ball"),
        (Quantity.CARRY, 41.24, METRIC, "41.2\u202fm"),
        (Quantity.CARRY, 129.8448, IMPERIAL, "142\u202fyd"),
        (Quantity.CARRY_SIDE, -3.0, METRIC, "3.0\u202fm left"),
        (Quantity.BALL_SPEED, 60.0, METRIC, "60.0\u202fm/s"),
        (Quantity.CLUB_SPEED, 44.704, IMPERIAL, "100.0\u202fmph"),
        (Quantity.SPIN_RATE, 2450.4, METRIC, "2,450\u202frpm"),
        (Quantity.SMASH_FACTOR, 1.478, METRIC, "1.48"),
        (Quantity.SPIN_LOFT, -1.0, METRIC, "−1.0°"),
    ],
)
def test_a_reading_is_told_with_unit_and_side(
    quantity: Quantity, value: float, units: Units, expected: str
) -> None:
    assert amount(quantity, value, units, None, EN) == expected


def test_open_and_closed_depend_on_the_hand() -> None:
    assert amount(Quantity.FACE_TO_PATH, 2.0, METRIC, Hand.RIGHT, EN) == "2.0° open"
    assert amount(Quantity.FACE_TO_PATH, 2.0, METRIC, Hand.LEFT, EN) == "2.0° closed"
    assert amount(Quantity.FACE_TO_PATH, 2.0, METRIC, None, EN) == "2.0° right"
    assert hand_word(Quantity.CLUB_PATH, 4.0, Hand.RIGHT, EN) == "in-to-out"
    assert hand_word(Quantity.CLUB_PATH, 4.0, Hand.LEFT, EN) == "out-to-in"
    assert hand_word(Quantity.CURVE, -4.0, Hand.RIGHT, EN) == "a draw"
    assert hand_word(Quantity.CURVE, -4.0, None, EN) is None
    assert hand_word(Quantity.CARRY, 150.0, Hand.LEFT, EN) is None


def test_a_difference_has_no_side() -> None:
    assert size(Quantity.CLUB_PATH, -5.5, METRIC, EN) == "5.5°"
    assert size(Quantity.CARRY, -2.0, METRIC, EN) == "2.0\u202fm"


@pytest.mark.parametrize(
    ("value", "places", "expected"),
    [
        (0.25, 1, "0.3"),
        (-0.25, 1, "−0.3"),
        (2.675, 2, "2.68"),  # a binary fraction a hair below the half
        (0.125 * 0.9144 / 0.9144, 2, "0.13"),
        (7.25 * 0.44704 / 0.44704, 1, "7.3"),
        (2.5, 0, "3"),
        (999.5, 0, "1,000"),
        (-0.04, 1, "0.0"),
        (0.2499, 1, "0.2"),
        (float("-inf"), 1, "−∞"),
    ],
)
def test_halves_are_rounded_as_people_do(value: float, places: int, expected: str) -> None:
    assert EN.figure(value, places) == expected


@pytest.mark.parametrize(
    ("value", "expected"), [(0.34, "+0.3°"), (-0.25, "−0.3°"), (0.04, "0.0°"), (-0.04, "0.0°")]
)
def test_a_signed_difference_has_no_sign_at_nothing(value: float, expected: str) -> None:
    assert signed(Quantity.CLUB_PATH, value, METRIC, EN) == expected


def test_a_span_names_both_ends() -> None:
    told = span(Quantity.CLUB_PATH, (-2.0, 2.0), METRIC, None, EN)
    assert told == "2.0° left to 2.0° right"


def test_dates_are_told_in_words() -> None:
    on = date(2027, 4, 11)
    assert (day(on, EN), short_day(on, EN), month(on, EN)) == (
        "11 April 2027",
        "11 Apr",
        "April 2027",
    )


def test_the_air_is_told_in_their_units() -> None:
    assert temperature(14, METRIC, EN) == "14\u202f°C"
    assert temperature(14, IMPERIAL, EN) == "57\u202f°F"
    assert height(90, METRIC, EN) == "90\u202fm"
    assert height(90, IMPERIAL, EN) == "295\u202fft"


@pytest.mark.parametrize("quantity", Quantity)
def test_every_quantity_has_a_name_and_a_meaning(quantity: Quantity) -> None:
    assert quantity_name(quantity, EN)
    assert quantity_meaning(quantity, EN).endswith(".")


@given(
    st.sampled_from([each for each in Quantity if not each.is_outcome]),
    st.floats(-9000, 9000, allow_nan=False),
    st.sampled_from([None, *Hand]),
)
def test_both_ways_read_alike_but_for_the_side(
    quantity: Quantity, value: float, hand: Hand | None
) -> None:
    one, other = (amount(quantity, v, METRIC, hand, EN) for v in (value, -value))
    bare = size(quantity, value, METRIC, EN)
    assert bare in one
    assert bare in other
    if quantity.dimension is Dimension.ANGLE and sides(quantity, hand, EN) is not None:
        assert "−" not in one + other


def test_golden_amounts(golden: Callable[[str, str], None]) -> None:
    lines = [
        f"{quantity.value} {value:g}: "
        + " | ".join(
            amount(quantity, value, units, hand, EN)
            for units in (METRIC, IMPERIAL)
            for hand in Hand
        )
        for quantity in Quantity
        for value in (-12.34, 0.0, 0.5, 7.25, 123.456, 5432.1)
    ]
    golden("amounts.txt", "\n".join(lines) + "\n")
