"""Rows and readings in words: the rules that they break, and how the file was read."""

from collections.abc import Sequence

from recapgen.model.carry import FairCarry
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import RowRule
from recapgen.model.shots import Decision, ReadAs, SortedShot, WorkedFrom
from recapgen.words.amounts import quantity_name
from recapgen.words.catalogue import Words, key_of


def tell_rule(rule: RowRule, words: Words, calculated: Sequence[Quantity] = ()) -> str:
    """Why a row was left out, or wants a second look.

    ``calculated`` are those of the rule's quantities that the device does not measure.
    """
    sentence = _rule(rule, words)
    if not calculated:
        return sentence
    names = words.listed(quantity_name(quantity, words) for quantity in calculated)
    return words.together((sentence, words.say("rule.calculated", quantities=names)))


def _rule(rule: RowRule, words: Words) -> str:
    if rule.quantity is not None:
        return words.say(f"rule.{rule.check}", quantity=quantity_name(rule.quantity, words))
    return words.say(f"rule.{rule.check}")


def tell_reason(shot: SortedShot, words: Words) -> str:
    """Why a shot does not count, in the coach's own words or in a few of ours; "" where none is."""
    if shot.aside is not None:
        return words.say(f"evidence.aside.{key_of(shot.aside)}")
    match shot.reason:
        case RowRule() as rule:
            return tell_rule(rule, words)
        case None:
            return ""
        case typed:
            return typed


def tell_decided(
    decided: Sequence[Decision], calculated: Sequence[Quantity], words: Words
) -> tuple[str, ...]:
    """What reading the file settled without asking, a sentence each; totals are left out."""
    told = [_decided(one, words) for one in decided if one.read_as is not ReadAs.SUMMARY]
    totals = sum(one.read_as is ReadAs.SUMMARY for one in decided)
    if totals:
        told.append(words.count("decided.summaries", totals))
    if calculated:
        names = words.listed(quantity_name(quantity, words) for quantity in calculated)
        told.append(words.say("decided.calculated", quantities=names))
    return tuple(told)


def _decided(one: Decision, words: Words) -> str:
    choice = one.choice if one.quantity is None else quantity_name(one.quantity, words)
    return words.say(f"decided.{key_of(one.read_as)}", heading=one.heading, choice=choice)


def tell_way(way: WorkedFrom, words: Words) -> str:
    """From what a value was worked out."""
    return words.say(f"worked.way.{key_of(way)}")


def why_withheld(air: FairCarry, words: Words) -> str:
    """Why no carry in standard air is given; "" where it is."""
    return "" if air.withheld is None else words.say(f"air.why.{key_of(air.withheld)}")


def tell_assumed(air: FairCarry, words: Words) -> list[str]:
    """The assumed conditions, as one sentence, or none where nothing was assumed."""
    if not air.assumed:
        return []
    told = words.listed(words.say(f"air.assumed.{one}") for one in air.assumed)
    return [words.say("air.assumed", assumed=told)]
