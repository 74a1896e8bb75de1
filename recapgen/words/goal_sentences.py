"""The goal in words: what the one number should do, as it stands beside before and after."""

from recapgen.model.evidence import Comparison, SmallestChangeFrom
from recapgen.model.lesson import Direction, Want
from recapgen.model.people import Hand
from recapgen.model.quantity import Quantity
from recapgen.model.rounding import rounded
from recapgen.model.units import Units
from recapgen.words.amounts import (
    decimals,
    hand_key,
    in_their_units,
    number,
    side_keys,
    sides,
    unit_key,
)
from recapgen.words.catalogue import Words


def tell_goal(comparison: Comparison, units: Units, hand: Hand | None, words: Words) -> str:
    """A window with its ends, or a way and how much of it: "128 to 136 m", "more in-to-out".

    The smallest change, where the coach set it; a smallest change of ours is no goal.
    """
    quantity = comparison.quantity
    goal = tell_wanted(comparison, units, hand, words)
    if (
        comparison.smallest_change_from is not SmallestChangeFrom.DECLARED
        or comparison.want.low is not None
    ):
        return goal
    least = in_their_units(quantity, comparison.smallest_change, units)
    smallest_change = _with_unit(
        quantity, _figures(quantity, (least,), units, words)[0], units, words
    )
    return words.say("want.by", goal=goal, matters=smallest_change)


def tell_wanted(comparison: Comparison, units: Units, hand: Hand | None, words: Words) -> str:
    """The same without how much, for where there is little room."""
    quantity, want = comparison.quantity, comparison.want
    if want.low is not None and want.high is not None:
        return tell_window(quantity, (want.low, want.high), units, hand, words)
    return tell_way(quantity, want, hand, words)


def tell_window(
    quantity: Quantity, ends: tuple[float, float], units: Units, hand: Hand | None, words: Words
) -> str:
    """From one end to the other, the unit and the side once where both have them in common."""
    low, high = (in_their_units(quantity, end, units) for end in ends)
    names = sides(quantity, hand, words)
    if names is not None and low < 0 < high:
        figures = _figures(quantity, (-low, high), units, words)
        told = (
            words.say("amount.with-side", amount=_with_unit(quantity, f, units, words), side=side)
            for f, side in zip(figures, names, strict=True)
        )
        return _span(tuple(told), words)
    if names is None:
        return _with_unit(
            quantity, _span(_figures(quantity, (low, high), units, words), words), units, words
        )
    near, far = sorted((abs(low), abs(high)))
    figures = _figures(quantity, (near, far), units, words)
    told_once = _with_unit(quantity, _span(figures, words), units, words)
    if quantity is Quantity.LAUNCH_ANGLE and high > 0:
        return told_once
    return words.say("amount.with-side", amount=told_once, side=names[high > 0])


def tell_way(quantity: Quantity, want: Want, hand: Hand | None, words: Words) -> str:
    """Which way is good, in the trade's word for the student's hand where it has one."""
    if quantity.is_outcome:
        return words.say("want.in")
    if want.direction is Direction.ZERO:
        return words.say("want.zero")
    up = want.direction is Direction.HIGHER
    keys = None if quantity is Quantity.LAUNCH_ANGLE else side_keys(quantity, hand)
    side = hand_key(quantity, 1 if up else -1, hand) or (keys[up] if keys else None)
    if side is not None:
        return words.say(f"want.more.{side}")
    return words.say("want.higher" if up else "want.lower")


def _span(ends: tuple[str, ...], words: Words) -> str:
    low, high = ends
    return words.say("amount.span", low=low, high=high)


def _with_unit(quantity: Quantity, figure: str, units: Units, words: Words) -> str:
    return words.say(f"unit.{unit_key(quantity, units)}", n=figure)


def _figures(
    quantity: Quantity, values: tuple[float, ...], units: Units, words: Words
) -> tuple[str, ...]:
    """Whole ones without decimals, as a coach would write them; else all with the same."""
    places = max(decimals(quantity, value, units) for value in values)
    whole = all(rounded(value, places) == rounded(value, 0) for value in values)
    return tuple(number(value, 0 if whole else places, words) for value in values)
