"""Speeds without a unit, held against what the other columns say: settled, or asked.

A coach's usual unit may not be that of this file: 130 is a fast swing in miles an hour and a usual
one in kilometres. Ball over club speed and the carry tell which, where there are such columns.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from statistics import median

from recapgen.golf.clubs import Family, family_of
from recapgen.golf.written_amounts import Unit, own_unit, unit_named
from recapgen.intake.table.units_and_signs import Read, is_possible
from recapgen.model.people import Coach
from recapgen.model.quantity import Dimension, Quantity

GRAVITY_MPS2 = 9.81
FEWEST = 3
FULL_CARRY_M = 110.0  # from here on no pitch and no bunker shot
Window = tuple[float, float]
# Ball over club speed, and carry over v²/g of ball and of club. Full shots from driver to 9 iron
# are well within; wedges, pitches and bunker shots reach further down.
_SMASH: tuple[Window, Window] = ((1.05, 1.56), (0.6, 1.56))
_BALL: tuple[Window, Window] = ((0.33, 0.97), (0.3, 1.0))
_CLUB: tuple[Window, Window] = ((0.6, 1.6), (0.25, 1.7))
_WITHIN = 0.15  # of a smash factor that the file gives itself
_UNITS = ("mph", "km/h", "m/s")
_FULL = frozenset({Family.DRIVER, Family.WOOD, Family.HYBRID, Family.IRON})


def settle_speeds(
    columns: Sequence[Read], stated: Mapping[int, Unit], club: str | None, coach: Coach
) -> None:
    """Gives speeds without a unit the one that fits the other columns, or leaves it open.

    ``columns`` hold values as written, ``stated`` the units by their index. Where the coach's own
    unit fits, it stays; where only others do, they are asked about beside it.
    """
    bare = [
        c
        for c in columns
        if c.quantity in {Quantity.CLUB_SPEED, Quantity.BALL_SPEED} and c.index not in stated
    ]
    if not bare:
        return
    known = {
        c.quantity: _in(c, stated.get(c.index) or own_unit(c.quantity.dimension, coach.units))
        for c in columns
        if c not in bare and c.quantity in {*_SPEEDS, Quantity.CARRY, Quantity.SMASH_FACTOR}
    }
    carries = [v for v in known.get(Quantity.CARRY, ()) if math.isfinite(v)]
    full = (club is not None and family_of(club) in _FULL) or (
        len(carries) >= FEWEST and median(carries) >= FULL_CARRY_M
    )
    narrow = 0 if full else 1
    possible = [unit for word in _UNITS if (unit := unit_named(word)) is not None and all(
        is_possible([v for v in c.values if math.isfinite(v)], unit, c.quantity) for c in bare
    )]  # fmt: skip
    checked = [unit for unit in possible if list(_checks(bare, unit, known, narrow))]
    fitting = [unit for unit in checked if all(_checks(bare, unit, known, narrow))]
    if not checked or not fitting:
        return
    own = own_unit(Dimension.SPEED, coach.units)
    signs = {unit.sign for unit in possible}
    said = Dimension.SPEED not in coach.units_unsaid and own.sign in signs
    if said and own.sign in {unit.sign for unit in fitting}:
        return
    for column in bare:
        if said or len(fitting) > 1:
            asked = [*fitting, *([own] if said and own not in fitting else [])]
            column.open_units = tuple(dict.fromkeys(unit.sign for unit in asked))
        else:
            column.by_others = fitting[0]


_SPEEDS = (Quantity.CLUB_SPEED, Quantity.BALL_SPEED)


def _in(column: Read, unit: Unit) -> list[float]:
    return [value * unit.factor for value in column.values]


def _checks(
    bare: Sequence[Read], unit: Unit, known: Mapping[Quantity, list[float]], narrow: int
) -> Iterator[bool]:
    """Whether each pair of columns fits; nothing where there is nothing to hold it against."""
    values = {**known, **{c.quantity: _in(c, unit) for c in bare}}
    club, ball = (values.get(quantity) for quantity in _SPEEDS)
    carry, smash = values.get(Quantity.CARRY), values.get(Quantity.SMASH_FACTOR)
    one_stated = len(bare) == 1
    if club and ball and one_stated:
        low, high = _SMASH[narrow]
        told = _middle(smash, [1.0] * len(smash)) if smash else None
        if told is not None and told > 0:
            low, high = told * (1 - _WITHIN), told * (1 + _WITHIN)
        yield from _within(_middle(ball, club), (low, high))
    for speeds, window in ((ball, _BALL[narrow]), (club, _CLUB[narrow])):
        if speeds and carry:
            yield from _within(_middle(carry, [v * v / GRAVITY_MPS2 for v in speeds]), window)


def _middle(above: Sequence[float], below: Sequence[float]) -> float | None:
    ratios = [
        a / b
        for a, b in zip(above, below, strict=True)
        if math.isfinite(a) and math.isfinite(b) and b > 0
    ]
    return median(ratios) if len(ratios) >= FEWEST else None


def _within(ratio: float | None, window: Window) -> Iterator[bool]:
    if ratio is not None:
        yield window[0] <= ratio <= window[1]
