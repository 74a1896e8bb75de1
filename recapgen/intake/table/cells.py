"""What single cells say: numbers with their sides and units, and the many ways to leave one out."""

import math
import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import islice

from msgspec import Struct, field

from recapgen.golf.written_amounts import NO_READING_FROM, Amount, Unit, take_apart
from recapgen.model.shots import ReadAs

LOOKED_AT_CELLS = 2000
_MISSING_WORDS = (
    "- -- --- ---- – — −− · . .. ... … ? ?? / \\ x n/a na n.a. n.a nan null none nil missing #n/a "
    "#na #value! #div/0! #num! #ref! #wert! (null) (none) (blank) blank empty invalid error "
    "undefined"
)
_MISSING = frozenset(_MISSING_WORDS.split()) | {
    "not read",
    "no read",
    "no data",
    "not measured",
    "not available",
    "no reading",
}
_COMMA_DECIMALS = re.compile(r"\d,(?:\d{1,2}|\d{4,})(?!\d)|(?<![\d.])0,\d|\d\.\d{3},\d|^[^\d]*,\d")
_POINT_DECIMALS = re.compile(
    r"\d\.(?:\d{1,2}|\d{4,})(?!\d)|(?<![\d,])0\.\d|\d,\d{3}\.\d|^[^\d]*\.\d"
)
_GROUP = re.compile(r"[+-]?[1-9]\d{0,2}([.,])\d{3}")
_FEET_INCHES = re.compile(
    r"""([+-]?\d+)\s*(?:'|′|ft)\s*(\d{1,2}(?:\.\d+)?)\s*(?:"|″|''|in)?""", re.IGNORECASE
)


def is_missing(text: str) -> bool:
    """Whether a cell says that there is no reading."""
    bare = text.strip()
    return not bare or bare.casefold() in _MISSING


_MONTHS = (
    "jan|feb|mar|apr|mai|may|jun|jul|aug|sep|okt|oct|nov|dez|dec|mrz|mär|janv|févr|fév|mars|avr|"
    "juin|juil|août|déc|ene|abr|ago|dic"
)
_DATES = re.compile(
    rf"""\d{{4}}-\d{{2}}-\d{{2}}(?:[T ].*)?
    |\d{{1,2}}[./-]\s?\d{{1,2}}[./-]\s?(?:\d{{2}}|\d{{4}})
    |\d{{1,4}}[.\s-]*(?:{_MONTHS})[^\W\d]*\.?(?:[\s.-]*\d{{2,4}})?
    |(?:{_MONTHS})[^\W\d]*[.\s-]*\d{{1,4}}
    |\d{{1,2}}[月월]\s?\d{{1,2}}[日일]""",
    re.VERBOSE,
)


def is_date(text: str) -> bool:
    """Whether a cell is what a spreadsheet makes of a number such as 4.3: 04. Mar, 2027-03-04."""
    return _DATES.fullmatch(unicodedata.normalize("NFC", text.strip().casefold())) is not None


class Column(Struct):
    """One column's numbers as written, NaN where missing; lists run parallel to the rows.

    ``unreadable`` maps a row to its text; ``units`` holds units written in cells; ``sided``
    says that sides were written as words or letters; ``grouped`` says how a comma or a
    point was read without other evidence, and
    ``unsure`` the rows of those numbers.
    """

    values: list[float]
    unreadable: dict[int, str] = field(default_factory=dict)
    units: dict[int, Unit] = field(default_factory=dict)
    sided: bool = False
    grouped: ReadAs | None = None
    unsure: tuple[int, ...] = ()


def decimal_mark(cells: Iterable[str]) -> str | None:
    """The decimal mark that these cells show for certain, or None."""
    comma = point = False
    for cell in islice((c for c in cells if "," in c or "." in c), LOOKED_AT_CELLS):
        comma = comma or _COMMA_DECIMALS.search(cell) is not None
        point = point or _POINT_DECIMALS.search(cell) is not None
    if comma == point:
        return None
    return "," if comma else "."


def read_column(
    cells: Sequence[str],
    decimal: str | None,
    *,
    thousands: bool = False,
    sides: Mapping[str, float] | None = None,
) -> Column:
    """The numbers of a column. ``decimal`` is the mark of the file, where it shows for certain.

    ``thousands``: numbers here go beyond 999 (spin), so a lone group of three is thousands.
    ``sides`` are the words for left and right, where these are the only sides that it can have.
    """
    plain = _all_plain(cells, decimal, thousands=thousands)
    if plain is not None:
        return Column(plain)
    return _one_by_one(cells, decimal, thousands=thousands, sides=sides)


def _all_plain(cells: Sequence[str], decimal: str | None, *, thousands: bool) -> list[float] | None:
    """The fast way, for a column of nothing but plain numbers; None where it is not that."""
    if decimal == "," or thousands:
        joined = "\n".join(cells)
        if decimal == "," and "." in joined:
            return None
        if thousands and _GROUP.search(joined):
            return None
        if decimal == "," and "," in joined:
            cells = joined.replace(",", ".").split("\n")
    try:
        values = list(map(float, cells))
    except ValueError:
        return None
    if not all(map(math.isfinite, values)) or max(map(abs, values), default=0) >= NO_READING_FROM:
        return None
    return values


def _one_by_one(
    cells: Sequence[str],
    decimal: str | None,
    *,
    thousands: bool,
    sides: Mapping[str, float] | None,
) -> Column:
    own = decimal_mark(cells) or decimal
    column = Column([math.nan] * len(cells))
    if own is None:
        own, column.grouped = _unsure_mark(cells, thousands=thousands)
    if column.grouped is not None:
        column.unsure = tuple(row for row, c in enumerate(cells) if _GROUP.fullmatch(c.strip()))
    known: dict[str, Amount | None] = {}
    for row, cell in enumerate(cells):
        if cell not in known:
            known[cell] = (
                None if is_missing(cell) else _amount(cell, own, thousands=thousands, sides=sides)
            )
        amount = known[cell]
        if amount is None:
            if not is_missing(cell):
                column.unreadable[row] = cell
            continue
        column.values[row] = amount.number * (amount.side or 1.0)
        column.sided = column.sided or amount.side is not None
        if amount.unit is not None:
            column.units[row] = amount.unit
    return column


def _unsure_mark(cells: Sequence[str], *, thousands: bool) -> tuple[str | None, ReadAs | None]:
    """A column with no number but such as "1,250" or "2.500": the mark can be read two ways."""
    marks = Counter(
        m[1] for c in islice(cells, LOOKED_AT_CELLS) if (m := _GROUP.fullmatch(c.strip()))
    )
    if not marks:
        return None, None
    mark = marks.most_common(1)[0][0]
    if thousands:
        if mark == ",":
            return ".", ReadAs.COMMA_THOUSANDS
        return ",", ReadAs.POINT_THOUSANDS
    return mark, (ReadAs.COMMA_DECIMALS if mark == "," else None)


def _amount(
    cell: str, decimal: str | None, *, thousands: bool, sides: Mapping[str, float] | None
) -> Amount | None:
    """A cell's number; a minus beside a side must agree with it ("-3.1 L")."""
    bare = cell.strip().strip("*").strip()
    if feet := _FEET_INCHES.fullmatch(bare):
        whole, inches = float(feet[1]), float(feet[2])
        sign = -1.0 if feet[1].startswith("-") else 1.0
        length = whole + sign * inches / 12
        return Amount(length, _FOOT, None) if abs(length) < NO_READING_FROM else None
    thousands = thousands and decimal is None
    amount = (
        take_apart(bare, decimal=decimal, thousands=thousands)
        if sides is None
        else take_apart(bare, decimal=decimal, thousands=thousands, sides=sides)
    )
    if amount is None or amount.side is None or amount.number >= 0:
        return amount
    return Amount(-amount.number, amount.unit, amount.side) if amount.side < 0 else None


_FOOT = next(a.unit for a in (take_apart("1 ft"),) if a is not None and a.unit is not None)


def side_of(text: str, sides: Mapping[str, float]) -> float | None:
    """+1 for right, -1 for left, 0 for straight, None where the cell names no side."""
    word = text.strip().casefold().strip(".")
    if word in sides:
        return sides[word]
    return 0.0 if word in {"straight", "centre", "center", "c", "square"} else None
