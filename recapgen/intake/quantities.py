"""The golf quantity or club that a word in the coach's files names."""

from collections.abc import Callable

from recapgen.golf.clubs import club_named
from recapgen.golf.quantity_facts import (
    nearest_quantity,
    quantities_perhaps,
    quantity_named,
)
from recapgen.golf.unit_words import unit_words
from recapgen.golf.written_amounts import read_amount
from recapgen.intake.form import Form, instead
from recapgen.intake.near_words import nearest
from recapgen.intake.yaml_map import Scalar, brief
from recapgen.model.people import Coach
from recapgen.model.problem import Code
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.units import LengthUnit, SpeedUnit, Units

_SOME_UNITS = Units(SpeedUnit.MPS, LengthUnit.METRE)
_OTHER_UNITS = Units(SpeedUnit.MPH, LengthUnit.YARD)

_CLUBS = (
    "driver", "3 wood", "5 wood", "7 wood", "3 hybrid", "4 hybrid", "5 hybrid",
    "4 iron", "5 iron", "6 iron", "7 iron", "8 iron", "9 iron",
    "pitching wedge", "gap wedge", "sand wedge", "lob wedge", "putter",
)  # fmt: skip


def club_in(form: Form, key: str, words: Scalar) -> str | None:
    """The one name of the club that ``words`` name."""
    club = club_named(words.text)
    if club is None:
        form.misread(key, words, ", ".join(_CLUBS), nearest(words.text, _CLUBS))
    return club


def example_of(quantity: Quantity) -> str:
    """An amount of ``quantity`` as the coach may write it."""
    return unit_words(quantity.dimension).example


def quantity_in(form: Form, key: str, words: Scalar, also: tuple[str, ...] = ()) -> Quantity | None:
    """The quantity that ``words`` name; ``also`` are other words that would do at this place."""
    found = quantity_named(words.text)
    if found is not None:
        return found
    perhaps = quantities_perhaps(words.text)
    near = nearest_quantity(words.text)
    if perhaps:
        form.misread(key, words, ", ".join(perhaps), *perhaps)
    else:
        known = ", ".join((*Quantity, *also))
        form.misread(key, words, known, near or nearest(words.text, also))
    return None


def amount_in(
    form: Form, key: str, words: Scalar, quantity: Quantity, coach: Coach
) -> float | None:
    """A size of ``quantity``, more than nothing, in inside units."""
    amount = size_in(form, key, words, quantity.dimension, coach)
    if amount is not None and amount <= 0:
        found = {"key": key, "found": brief(words.text)}
        size = words.text.strip().lstrip("-−– ")
        offers = instead(words, size) if amount < 0 else ()
        form.report(Code.AMOUNT_NOTHING, words.where, offers, **found)
        return None
    return amount


def size_in(
    form: Form, key: str, words: Scalar, dimension: Dimension, coach: Coach
) -> float | None:
    """An amount of ``dimension`` in inside units; a bare number takes the coach's unit."""
    amount = read_amount(words.text, dimension, coach.units)
    found = {"key": key, "found": brief(words.text), "example": unit_words(dimension).example}
    if amount is None:
        form.report(Code.AMOUNT_UNREADABLE, words.where, **found)
        return None
    if unit_is_missing(words.text, dimension, coach, read_amount):
        units = (f"{words.text.strip()} {unit}" for unit in unit_words(dimension).usual)
        form.report(Code.UNIT_MISSING, words.where, instead(words, *units), **found)
        return None
    return amount


def unit_is_missing(
    text: str, dimension: Dimension, coach: Coach, read: Callable[[str, Dimension, Units], object]
) -> bool:
    """True where ``text`` means another size in other units, and nobody said which are meant."""
    if dimension not in coach.units_unsaid:
        return False
    return read(text, dimension, _SOME_UNITS) != read(text, dimension, _OTHER_UNITS)
