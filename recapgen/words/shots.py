"""Rows and readings in words: the rules that they break, and how the file was read."""

from collections.abc import Sequence

from recapgen.model.carry import FairCarry
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Way
from recapgen.words.amounts import quantity_name
from recapgen.words.catalogue import Words

_NOT_A_SHOT = "not a shot"
_NOUGHTS = "0 = not read"
_COMMAS = {"“,” = decimals": "decimals", "“,” = thousands": "thousands"}
_OF_ONE_QUANTITY = ("impossible", "unusual")


def tell_rule(rule: str, words: Words, calculated: Sequence[Quantity] = ()) -> str:
    """Why a row was left out, or wants a second look.

    ``calculated`` are those of the rule's quantities that the device does not measure.
    """
    sentence = _rule(rule, words)
    if not calculated:
        return sentence
    names = words.listed(quantity_name(quantity, words) for quantity in calculated)
    return words.together((sentence, words.say("rule.calculated", quantities=names)))


def _rule(rule: str, words: Words) -> str:
    kind, _, name = rule.partition("-")
    quantity = name.replace("-", " ")
    if kind in _OF_ONE_QUANTITY and quantity in set(Quantity):
        return words.say(f"rule.{kind}", quantity=quantity_name(Quantity(quantity), words))
    return words.say(f"rule.{rule}")


def tell_decided(
    decided: Sequence[tuple[str, str]], calculated: Sequence[Quantity], words: Words
) -> tuple[str, ...]:
    """What reading the file settled without asking, a sentence each; labels of totals not told."""
    told = [
        _decided(heading, choice, words) for heading, choice in decided if choice != _NOT_A_SHOT
    ]
    totals = sum(choice == _NOT_A_SHOT for _, choice in decided)
    if totals:
        told.append(words.count("decided.summaries", totals))
    if calculated:
        names = words.listed(quantity_name(quantity, words) for quantity in calculated)
        told.append(words.say("decided.calculated", quantities=names))
    return tuple(told)


def _decided(heading: str, choice: str, words: Words) -> str:
    if choice == _NOUGHTS:
        return words.say("decided.noughts", heading=heading)
    if choice.startswith("= "):
        return words.say("decided.same", heading=heading, choice=choice.removeprefix("= "))
    if choice in set(Quantity):
        name = quantity_name(Quantity(choice), words)
        return words.say("decided.quantity", heading=heading, choice=name)
    if choice in _COMMAS:
        return words.say(f"decided.comma-{_COMMAS[choice]}", heading=heading)
    kind = "thousands" if " = " in choice else "unit"
    return words.say(f"decided.{kind}", heading=heading, choice=choice)


def tell_way(way: Way, words: Words) -> str:
    """From what a value was worked out."""
    return words.say(f"worked.way.{way.name.lower()}")


def why_withheld(air: FairCarry, words: Words) -> str:
    """Why no carry in standard air is told; "" where it is."""
    return "" if air.withheld is None else words.say(f"air.why.{air.withheld.name.lower()}")


def tell_assumed(air: FairCarry, words: Words) -> list[str]:
    """What nobody noted and was taken for granted, as one sentence or none."""
    if not air.assumed:
        return []
    told = words.listed(words.say(f"air.assumed.{one}") for one in air.assumed)
    return [words.say("air.assumed", assumed=told)]
