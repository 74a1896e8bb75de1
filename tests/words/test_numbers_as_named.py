"""What the pages call a number can be written in the notes, in each language."""

import pytest

from recapgen.golf.quantity_facts import quantity_named
from recapgen.model.quantity import Quantity
from recapgen.words.amounts import quantity_name
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_number_is_known_by_its_name_on_the_pages(language: str) -> None:
    said = words(language)
    unknown = {
        name: quantity
        for quantity in Quantity
        if quantity_named(name := quantity_name(quantity, said)) is not quantity
    }
    assert not unknown
