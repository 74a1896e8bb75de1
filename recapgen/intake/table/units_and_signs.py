"""Units and sides of whole columns: stated, decided where one reading is possible, or asked.

Nothing is guessed: a column whose unit or side stays open is not read, and the problem holds the
line for ``columns:`` in coach.yml that settles it.
"""

import math
from collections.abc import Collection, Mapping, Sequence
from itertools import pairwise
from statistics import median

from msgspec import Struct, field

from recapgen.golf.quantity_facts import FACTS
from recapgen.golf.unit_words import unit_words
from recapgen.golf.written_amounts import Unit, own_unit, unit_named
from recapgen.intake.table.header import OPPOSITES, Heading, ruled
from recapgen.model.fix import Put
from recapgen.model.people import Coach, Hand
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.shots import ReadAs

MOST_ODD = 0.2  # share of a column's values that may lie outside the plausible range
FEWEST_FOR_SIDES = 5
LOOKED_AT_ROWS = 2000
SHORTEST_M = 5.0  # a flight that is measured to the millimetre is no shorter
SHORTEST_FLIGHT = 10.0  # in whatever unit: what a column of flights has for its middle
_FLIGHTS = frozenset({Quantity.CARRY, Quantity.TOTAL})
_USUAL_UNITS: Mapping[Quantity, tuple[str, ...]] = {
    Quantity.CARRY: ("m", "yd"),
    Quantity.TOTAL: ("m", "yd"),
    Quantity.LOW_POINT: ("cm", "in", "mm", "m", "ft"),
}


class Read(Struct):
    """A column that stands for a quantity: values as written, then in inside units.

    ``by_others`` is the unit that other columns tell; ``open_units`` are those that are possible
    where none is known; ``decided`` is the choice that was made without being stated.
    ``unsure`` are the rows whose comma ("1,250"), taken for a decimal mark, may group thousands.
    """

    index: int
    heading: Heading
    quantity: Quantity
    values: list[float]
    sided: bool = False
    unit: Unit | None = None
    decided: str | None = None
    open_units: tuple[str, ...] = ()
    needs_hand: bool = False
    zeros: bool = field(default=False)
    unsure: tuple[int, ...] = ()
    open_comma: bool = False
    by_others: Unit | None = None


def settle_unit(column: Read, cell_unit: Unit | None, titled: Sequence[Unit], coach: Coach) -> None:
    """Finds the unit of a column and turns its values into inside units."""
    stated = unit_stated(column, cell_unit, titled)
    if stated is None and column.by_others is not None:
        stated, column.decided = column.by_others, column.by_others.sign
    if stated is None and not column.open_units:
        stated = _unstated(column, coach)
    if stated is None:
        return
    column.unit = stated
    if stated.factor != 1.0:
        factor = stated.factor
        column.values = [value * factor for value in column.values]


def unit_stated(column: Read, cell_unit: Unit | None, titled: Sequence[Unit]) -> Unit | None:
    """The unit that the heading, the cells or a title line give."""
    dimension = column.quantity.dimension
    return (
        column.heading.unit
        or cell_unit
        or next((unit for unit in titled if unit.dimension is dimension), None)
    )


def _unstated(column: Read, coach: Coach) -> Unit | None:
    """The coach's own unit where it can be, else the only unit that can; None asks."""
    dimension = column.quantity.dimension
    own = own_unit(dimension, coach.units)
    if dimension in {Dimension.ANGLE, Dimension.SPIN}:
        return own
    numbers = [v for v in column.values if math.isfinite(v)]
    if dimension is Dimension.RATIO:
        return _ratio(column, numbers)
    said = dimension not in coach.units_unsaid
    if said and is_possible(numbers, own, column.quantity):
        return own
    words = _USUAL_UNITS.get(column.quantity, unit_words(dimension).usual)
    usual = [unit for word in words if (unit := unit_named(word)) is not None]
    possible = [unit for unit in usual if is_possible(numbers, unit, column.quantity)]
    if len(possible) == 1:
        column.decided = possible[0].sign
        return possible[0]
    if not possible:  # nothing makes sense of it: the rows are shown as impossible
        return own
    column.open_units = tuple(unit.sign for unit in possible)
    return None


def _ratio(column: Read, numbers: Sequence[float]) -> Unit:
    percent = Unit("%", Dimension.RATIO, 0.01)
    plain = Unit("", Dimension.RATIO, 1.0)
    if is_possible(numbers, plain, column.quantity) or not is_possible(
        numbers, percent, column.quantity
    ):
        return plain
    column.decided = "%"
    return percent


def is_possible(numbers: Sequence[float], unit: Unit, quantity: Quantity) -> bool:
    """Whether most of the numbers, in this unit, are plausible."""
    if not numbers:
        return True
    low, high = (bound / unit.factor for bound in FACTS[quantity].plausible)
    odd = sum(1 for value in numbers if not low <= value <= high)
    return odd <= MOST_ODD * len(numbers)


def may_be(quantity: Quantity, numbers: Sequence[float]) -> bool:
    """Whether unnamed numbers can be of this quantity, in any of its usual units.

    A running count is no reading, nor are steps as short as a scorecard's a flight.
    """
    counted = len(numbers) > 2 and all(b - a == 1 for a, b in pairwise(numbers))  # noqa: PLR2004
    if not numbers or counted:
        return False
    if quantity in _FLIGHTS and median(numbers) < SHORTEST_FLIGHT:
        return False
    dimension = quantity.dimension
    words = _USUAL_UNITS.get(quantity, unit_words(dimension).usual)
    usual = [unit for word in words if (unit := unit_named(word)) is not None]
    plain = Unit("", dimension, 1.0)
    return any(is_possible(numbers, unit, quantity) for unit in usual or [plain])


def settle_comma(column: Read) -> ReadAs | None:
    """Decimals or thousands, for a column in inside units; None, and unread, where it is open.

    "1,501" is 1501 or a little more than 1: the one that is plausible is taken. As decimals it
    is not where the numbers beside it are ten times as great, or a flight is that short.
    """
    low, high = FACTS[column.quantity].plausible
    unsure = set(column.unsure)
    beside = [abs(v) for i, v in enumerate(column.values) if i not in unsure and math.isfinite(v)]
    usual = median(beside) if beside and not column.quantity.mirrored else 0.0
    least = max(usual / 10, SHORTEST_M if column.quantity in _FLIGHTS else 0.0)
    numbers = [column.values[row] for row in column.unsure]
    decimals = all(low <= number <= high and abs(number) >= least for number in numbers)
    thousands = all(low <= number * 1000 <= high for number in numbers)
    if decimals == thousands:
        column.open_comma = True
        return None
    if thousands:
        column.values = [v * 1000 if i in unsure else v for i, v in enumerate(column.values)]
    return ReadAs.COMMA_THOUSANDS if thousands else ReadAs.COMMA_DECIMALS


def drop_noughts(column: Read) -> None:
    """A nought is no reading where it cannot be one: any speed, or a column of nothing else."""
    never = column.quantity in {Quantity.CLUB_SPEED, Quantity.BALL_SPEED, Quantity.SMASH_FACTOR}
    if 0.0 not in column.values:
        return
    numbers = [v for v in column.values if math.isfinite(v)]
    if never or (len(numbers) > 2 and not any(numbers)):  # noqa: PLR2004 - two may be chance
        column.values = [v if v != 0.0 else math.nan for v in column.values]
        column.zeros = True


_NEEDS_HAND = frozenset({"in-to-out", "out-to-in", "open", "closed"})


def settle_side(column: Read, hand: Hand | None) -> None:
    """Turns a column whose plus is not right, up or ahead."""
    plus = column.heading.plus
    if plus is None or column.sided:
        return
    sign = 1.0 if plus in OPPOSITES else -1.0
    if plus in _NEEDS_HAND:
        if hand is None:
            column.needs_hand = True
            return
        sign *= -1.0 if hand is Hand.LEFT else 1.0
    if sign < 0:
        column.values = [-value for value in column.values]


def open_sides(columns: Mapping[Quantity, Read], needed: Collection[Quantity]) -> list[Read]:
    """Columns whose side is not known: all magnitudes, or against the others' geometry.

    Of those ``needed`` for a verdict each: plus is usually right, and a verdict may not rest on
    what is usual. It is known where heading or cells say it, or where the numbers fit what columns
    that say it predict.
    """
    asked = [c for c in columns.values() if c.quantity.mirrored and not _side_stated(c)]
    unsigned = [c for c in asked if _all_one_side(c)]
    if len(unsigned) < len(asked) or len(asked) == 1:
        unsigned = []
    told = {q: c for q, c in columns.items() if not q.mirrored or _side_stated(c)}
    unsaid = [c for c in asked if c.quantity in needed and not _runs_with(c, told)]
    against = [c for c in asked if _runs_against(c, columns)]
    found = (*unsigned, *against, *unsaid)
    return [c for c in asked if c in found]


def _side_stated(column: Read) -> bool:
    return column.sided or column.heading.plus is not None


def _all_one_side(column: Read) -> bool:
    numbers = [v for v in column.values[:LOOKED_AT_ROWS] if math.isfinite(v)]
    return len(numbers) >= FEWEST_FOR_SIDES and min(numbers) >= 0 and max(numbers) > 0


def _runs_against(column: Read, columns: Mapping[Quantity, Read]) -> bool:
    """Whether the column fits what the others predict only with its sign turned."""
    as_is, turned = _misses(column, columns) or (0.0, 0.0)
    return turned < as_is / 3


def _runs_with(column: Read, columns: Mapping[Quantity, Read]) -> bool:
    """Whether the column fits what the others predict only with its sign as it is."""
    as_is, turned = _misses(column, columns) or (0.0, 0.0)
    return as_is < turned / 3


def _misses(column: Read, columns: Mapping[Quantity, Read]) -> tuple[float, float] | None:
    """How far it usually is from what the others predict, as it is and turned; None if unknown."""
    predicted = _predicted(column.quantity, columns)
    if predicted is None:
        return None
    pairs = [
        (value, guess)
        for value, guess in zip(column.values[:LOOKED_AT_ROWS], predicted, strict=True)
        if math.isfinite(value) and math.isfinite(guess) and abs(guess) > 1.0 and abs(value) > 0
    ]
    if len(pairs) < FEWEST_FOR_SIDES:
        return None
    as_is = median(abs(value - guess) for value, guess in pairs)
    return as_is, median(abs(value + guess) for value, guess in pairs)


def _predicted(quantity: Quantity, columns: Mapping[Quantity, Read]) -> list[float] | None:
    """What the other columns say a sideways number should be near, or None.

    Face to path is face minus path; the ball starts about 3/4 of the way from path to face
    (Wood, Henrikson & Broadie 2018); it ends near its start line plus about 0.75 % of the carry
    for each degree of axis tilt; it curves towards the tilt.
    """

    def of(*wanted: Quantity) -> list[list[float]] | None:
        found = [columns[q].values[:LOOKED_AT_ROWS] for q in wanted if q in columns]
        return found if len(found) == len(wanted) else None

    face_and_path = of(Quantity.FACE_ANGLE, Quantity.CLUB_PATH)
    ball = of(Quantity.LAUNCH_DIRECTION, Quantity.SPIN_AXIS, Quantity.CARRY)
    tilt = of(Quantity.SPIN_AXIS, Quantity.CARRY)
    if quantity is Quantity.FACE_TO_PATH and face_and_path:
        return [f - p for f, p in zip(*face_and_path, strict=True)]
    if quantity is Quantity.LAUNCH_DIRECTION and face_and_path:
        return [0.75 * f + 0.25 * p for f, p in zip(*face_and_path, strict=True)]
    if quantity is Quantity.CURVE and tilt:
        return [0.0075 * axis * carry for axis, carry in zip(*tilt, strict=True)]
    if quantity in {Quantity.CARRY_SIDE, Quantity.TOTAL_SIDE} and ball:
        return [
            carry * (math.sin(math.radians(start)) + 0.0075 * axis)
            for start, axis, carry in zip(*ball, strict=True)
        ]
    return None


def unit_rules(column: Read) -> tuple[Put, ...]:
    """The lines for ``columns:``, one for each unit that is possible."""
    more = {"plus": column.heading.plus} if column.heading.plus else {}
    return tuple(
        ruled(column.heading.text, column.quantity.value, unit=unit, **more)
        for unit in column.open_units
    )
