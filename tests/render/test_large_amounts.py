"""An amount set large: the figure is the number, wherever the language puts it."""

import pytest

from recapgen.model.people import Coach
from recapgen.model.quantity import Quantity
from recapgen.model.units import Units
from recapgen.render.number_view import LargeAmount, split_amount
from recapgen.render.reader import Reader
from recapgen.words.catalogue import words


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("6.3° right", LargeAmount("6.3°", "right")),
        ("142\u202fyd", LargeAmount("142", "yd")),
        ("2\u202f450\u202ftr/min", LargeAmount("2\u202f450", "tr/min")),
        ("−1,5°", LargeAmount("−1,5°", "")),
        ("右6.3°", LargeAmount("6.3°", "", "右")),
        ("왼쪽 3.1°", LargeAmount("3.1°", "", "왼쪽")),
        ("1.48", LargeAmount("1.48", "")),
        ("–", LargeAmount("–", "")),
    ],
)
def test_the_figure_is_the_whole_number(text: str, shown: LargeAmount) -> None:
    assert split_amount(text) == shown


@pytest.mark.parametrize("language", ["en", "es", "de", "fr", "ja", "ko"])
@pytest.mark.parametrize("quantity", Quantity)
def test_in_every_language_the_figure_is_found(language: str, quantity: Quantity) -> None:
    spoken = words(language)
    reader = Reader(Units(), None, spoken, Coach("Ines Falk"))
    shown = split_amount(reader.amount(quantity, -1234.5))
    assert any(digit.isdigit() for digit in shown.figure)
    assert not any(sign.isdigit() for sign in shown.rest + shown.before)
