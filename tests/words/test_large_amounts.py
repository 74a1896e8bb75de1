"""An amount set large: the figure is the number, wherever the language puts it."""

import pytest

from recapgen.model.people import Hand
from recapgen.model.quantity import Quantity
from recapgen.model.units import LengthUnit, Units
from recapgen.words.amounts import LargeAmount, amount, large_amount
from recapgen.words.catalogue import words

YARDS = Units(length=LengthUnit.YARD)


@pytest.mark.parametrize(
    ("language", "quantity", "value", "shown"),
    [
        ("en", Quantity.CLUB_PATH, 6.3, LargeAmount("6.3°", "right")),
        ("en", Quantity.CLUB_PATH, -0.04, LargeAmount("0.0°")),
        ("en", Quantity.CARRY, 129.8, LargeAmount("142", "yd")),
        ("fr", Quantity.SPIN_RATE, 2450.0, LargeAmount("2\u202f450", "tr/min")),
        ("de", Quantity.DYNAMIC_LOFT, -1.5, LargeAmount("−1,5°")),
        ("ja", Quantity.CLUB_PATH, 6.3, LargeAmount("6.3°", "", "右")),
        ("ko", Quantity.ATTACK_ANGLE, -3.1, LargeAmount("3.1°", "", "아래로")),
        ("en", Quantity.SMASH_FACTOR, 1.484, LargeAmount("1.48")),
    ],
)
def test_the_figure_is_the_whole_number(
    language: str, quantity: Quantity, value: float, shown: LargeAmount
) -> None:
    assert large_amount(quantity, value, YARDS, Hand.RIGHT, words(language)) == shown


@pytest.mark.parametrize("language", ["en", "es", "de", "fr", "ja", "ko"])
@pytest.mark.parametrize("quantity", [each for each in Quantity if not each.is_outcome])
def test_in_every_language_it_is_the_amount_told_in_a_sentence(
    language: str, quantity: Quantity
) -> None:
    spoken = words(language)
    for value in (-1234.5, -0.3, 0.0, 0.04, 7.0):
        large = large_amount(quantity, value, Units(), None, spoken)
        assert any(digit.isdigit() for digit in large.figure)
        assert not any(sign.isdigit() for sign in large.rest + large.before)
        told = amount(quantity, value, Units(), None, spoken)
        assert "".join((large.before + large.figure + large.rest).split()) == "".join(told.split())
