"""The numbers that a coach can choose from, on a page for a finger."""

from collections.abc import Iterator

from msgspec import Struct

from recapgen.model.quantity import Quantity, Sides
from recapgen.model.units import Units, unit_of
from recapgen.words.amounts import quantity_name
from recapgen.words.catalogue import Words

_ASIDE = ("right", "left", "zero", "window")
_UPWARDS = ("higher", "lower", "window")


class NumberToChoose(Struct, frozen=True):
    """``key`` is what notes.md calls it, ``unit`` what amounts of it are written in there.

    ``ways`` are the goals it can have.
    """

    key: str
    name: str
    unit: str
    ways: tuple[str, ...]
    by_hand: bool
    is_outcome: bool


def numbers_to_choose(units: Units, words: Words) -> Iterator[tuple[str, list[NumberToChoose]]]:
    """All of them by how they are read: by hand first, then measured, each with a heading."""
    for by_hand, key in ((True, "by-hand"), (False, "measured")):
        quantities = (quantity for quantity in Quantity if quantity.by_eye is by_hand)
        yield (
            words.say(f"range.number.{key}"),
            [_number(each, units, words) for each in quantities],
        )


def _number(quantity: Quantity, units: Units, words: Words) -> NumberToChoose:
    return NumberToChoose(
        key=quantity.value,
        name=quantity_name(quantity, words),
        unit="" if quantity.is_outcome else unit_of(quantity, units)[0],
        ways=_ways(quantity),
        by_hand=quantity.by_eye,
        is_outcome=quantity.is_outcome,
    )


def _ways(quantity: Quantity) -> tuple[str, ...]:
    """A ball that is in or out can only be wanted in."""
    if quantity.is_outcome:
        return ()
    if quantity.sideways:
        return _ASIDE
    return (*_UPWARDS, "zero") if quantity.sides is Sides.SHORT_LONG else _UPWARDS
