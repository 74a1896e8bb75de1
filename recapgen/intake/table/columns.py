"""The columns of a section: each one a quantity, a role of the table, or kept unread."""

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from recapgen.golf.catalogue import FACTS, nearest_quantity
from recapgen.golf.units import Unit, own_unit
from recapgen.intake.table.cells import (
    COMMA_DECIMALS,
    Column,
    is_missing,
    read_column,
    side_of,
)
from recapgen.intake.table.header import Heading, fits, ruled
from recapgen.intake.table.report import Report, brief
from recapgen.intake.table.settle import (
    Read,
    drop_noughts,
    may_be,
    open_sides,
    settle_comma,
    settle_side,
    settle_unit,
    side_rules,
    unit_rules,
)
from recapgen.model.fix import Put, one_of
from recapgen.model.lesson import FileSaid
from recapgen.model.people import Coach, Hand
from recapgen.model.problem import Code
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.source import SourceRef

SAME_SHARE = 0.9  # two columns are one quantity written twice where so many rows agree
SAME_WITHIN = 0.02


@dataclass(frozen=True, slots=True)
class Guess:
    """What an unknown column may be: ``near`` fits its heading and its numbers.

    ``wanted``: it may hold a number that a verdict will rest on and no other column holds.
    """

    near: Quantity | None
    wanted: bool


@dataclass(slots=True)
class Columns:
    """A section's columns, settled; ``kept`` are the indexes of those kept but not read.

    ``written`` says where the cells of a quantity stand, and the sign of their unit.
    """

    readings: dict[Quantity, list[float]]
    roles: dict[str, list[int]]
    kept: list[int]
    decided: list[tuple[str, str]] = field(default_factory=list)
    unknown: dict[str, Guess] = field(default_factory=dict)
    calculated: set[Quantity] = field(default_factory=set)
    written: dict[Quantity, tuple[int, str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Setting:
    """What holds for a whole file; ``on`` and ``club`` are the lesson's day and club.

    ``files`` is what notes.md says of whole files, ``numbers`` what a verdict will rest on.
    """

    coach: Coach
    hand: Hand | None = None
    club: str | None = None
    on: date | None = None
    files: tuple[FileSaid, ...] = ()
    numbers: frozenset[Quantity] = frozenset()
    notes: SourceRef = SourceRef("notes.md")


@dataclass(frozen=True, slots=True)
class Source:
    """What the columns of a section are read from.

    ``cells`` are columns of text, ``decimal`` the mark they use, ``units`` those of a title line,
    ``row`` the grid row of the headings, ``rows`` those of the shots.
    """

    headings: Sequence[Heading]
    cells: Sequence[Sequence[str]]
    row: int
    rows: Sequence[int]
    decimal: str | None
    units: Sequence[Unit]
    setting: Setting


def read_columns(source: Source, report: Report) -> Columns:
    """Reads and settles every column; what stays open is reported and kept unread."""
    sides = _side_columns(source)
    columns = Columns({}, {}, [])
    found: list[Read] = []
    for index, heading in enumerate(_told_apart(source, columns, report)):
        if heading.role is not None:
            columns.roles.setdefault(heading.role, []).append(index)
        elif index in sides.values():
            continue
        elif heading.quantity is None or heading.misfit is not None:
            columns.kept.append(index)
            _say_unread(source, index, heading, columns, report)
        else:
            read, cell_unit = _numbers(source, (index, heading), heading.quantity, columns, report)
            if index in sides:
                _take_sides(read, source.cells[sides[index]])
            _settle(read, cell_unit, source, columns, report)
            found.append(read)
    for read in _once(found, source, columns, report):
        columns.readings[read.quantity] = read.values
        columns.written[read.quantity] = (read.index, read.unit.sign if read.unit else "")
        if read.heading.rule is not None and read.heading.rule.calculated:
            columns.calculated.add(read.quantity)
    _close_sides(found, source, columns, report)
    return columns


def _side_columns(source: Source) -> dict[int, int]:
    """Columns of nothing but L and R, by the number column they stand beside."""
    sides: dict[int, int] = {}
    for index, cells in enumerate(source.cells):
        first = next((c for c in cells if not is_missing(c)), "")
        if side_of(first) is None or any(
            side_of(c) is None for c in set(cells) if not is_missing(c)
        ):
            continue
        for beside in (index - 1, index + 1):
            if 0 <= beside < len(source.headings) and beside not in sides:
                heading = source.headings[beside]
                meant = {heading.quantity, *heading.perhaps} - {None}
                if any(q is not None and FACTS[q].mirrored for q in meant):
                    sides[beside] = index
                    break
    return sides


def _told_apart(source: Source, columns: Columns, report: Report) -> list[Heading]:
    """The headings with loose words settled, where only one meaning is left over."""
    taken = {h.quantity for h in source.headings if h.quantity is not None}
    found: list[Heading] = []
    for index, heading in enumerate(source.headings):
        if not heading.perhaps:
            found.append(heading)
            continue
        left = [q for q in heading.perhaps if q not in taken]
        if len(left) == 1 and len(heading.perhaps) > 1 and taken & set(heading.perhaps):
            columns.decided.append((heading.text, left[0].value))
            found.append(replace(heading, quantity=left[0], perhaps=()))
            continue
        if left:
            offers = one_of(ruled(heading.text, q.value) for q in left)
            report.add(
                Code.SHOTS_COLUMN_LOOSE, source.row, index, offers,
                heading=brief(heading.text), quantities=" or ".join(left),
            )  # fmt: skip
        found.append(heading)
    return found


def _say_unread(
    source: Source, index: int, heading: Heading, columns: Columns, report: Report
) -> None:
    """Reports a column that is kept but not read; ``ignore`` in coach.yml says it is meant."""
    if heading.rule is not None and heading.misfit is None:
        return
    if heading.quantity is not None and heading.misfit is not None:
        dimension = FACTS[heading.quantity].dimension
        unit = own_unit(dimension, source.setting.coach.units).sign
        rule = ruled(heading.text, heading.quantity.value, **({"unit": unit} if unit else {}))
        offers = [rule, *_passing_over(heading.text, heading.quantity, source)]
        report.add(
            Code.SHOTS_UNIT_MISFIT, source.row, index, one_of(offers),
            heading=brief(heading.text), quantity=heading.quantity, unit=heading.misfit.sign,
            dimension=dimension,
        )  # fmt: skip
        return
    if heading.text and not heading.perhaps:
        columns.unknown[heading.text] = _guess_at(source, index)


def _passing_over(text: str, quantity: Quantity, source: Source) -> list[Put]:
    """``ignore``, which is never the answer for a column that a verdict rests on."""
    return [] if quantity in source.setting.numbers else [ruled(text, "ignore")]


def _guess_at(source: Source, index: int) -> Guess:
    """What an unknown column may be, by its heading and by its cells."""
    cells = [cell for cell in source.cells[index] if not is_missing(cell)]
    read = read_column(cells, source.decimal)
    numbers = [value for value in read.values if math.isfinite(value)]
    numeric = bool(numbers) and len(numbers) >= len(cells) / 2
    near = nearest_quantity(source.headings[index].text)
    fits_it = near is not None and not near.in_clips and numeric and may_be(near, numbers)
    missing = source.setting.numbers - {h.quantity for h in source.headings}
    wanted = numeric and any(may_be(quantity, numbers) for quantity in missing)
    return Guess(near if fits_it else None, wanted)


def say_unknown(
    headings: Mapping[str, tuple[int, int]], guesses: Mapping[str, Guess], report: Report
) -> None:
    """One problem for each heading near a known one, and one for all the others of the file.

    A column that may hold a number which the file lacks is not offered to be passed over.
    """
    far: list[str] = []
    for text, (row, index) in headings.items():
        near = guesses[text].near
        if near is None:
            far.append(text)
            continue
        ways = [ruled(text, near.value), *([] if guesses[text].wanted else [ruled(text, "ignore")])]
        report.add(
            Code.SHOTS_COLUMN_MISSPELT, row, index, one_of(ways), heading=brief(text), nearest=near
        )
    if far:
        ignored = tuple(ruled(text, "ignore") for text in far if not guesses[text].wanted)
        report.add(
            Code.SHOTS_COLUMNS_UNKNOWN, *headings[far[0]], one_of([ignored] if ignored else []),
            headings=", ".join(brief(t) for t in far),
        )  # fmt: skip


def _numbers(
    source: Source, place: tuple[int, Heading], quantity: Quantity, columns: Columns, report: Report
) -> tuple[Read, Unit | None]:
    """One column's numbers as written, and the unit written in its cells."""
    index, heading = place
    thousands = FACTS[quantity].dimension is Dimension.SPIN
    column = read_column(source.cells[index], source.decimal, thousands=thousands)
    cell_unit = _one_unit(column, quantity, heading)
    for at, text in column.unreadable.items():
        report.add(
            Code.SHOTS_CELL_UNREADABLE, source.rows[at], index,
            found=brief(text), heading=brief(heading.text),
        )  # fmt: skip
    bare = any(map(math.isfinite, column.values)) and len(column.units) < sum(
        map(math.isfinite, column.values)
    )
    if cell_unit is not None and heading.unit is None and bare:
        columns.decided.append((heading.text, cell_unit.sign))
    unsure: tuple[int, ...] = ()
    if column.grouped == COMMA_DECIMALS:
        unsure = column.unsure
    elif column.grouped is not None:
        columns.decided.append((heading.text, f"“{column.grouped[0]}” = {column.grouped[1]}"))
    read = Read(index, heading, quantity, column.values, sided=column.sided, unsure=unsure)
    return read, cell_unit


def _settle(
    read: Read, cell_unit: Unit | None, source: Source, columns: Columns, report: Report
) -> None:
    """Brings a column to inside units and to plus for right; what stays open is reported."""
    heading = read.heading
    drop_noughts(read)
    if read.zeros:
        columns.decided.append((heading.text, "0 = not read"))
    settle_unit(read, cell_unit, source.units, source.setting.coach)
    settle_side(read, source.setting.hand)
    if read.unsure and not read.open_units:
        comma = settle_comma(read)
        if comma is not None:
            columns.decided.append((heading.text, f"“,” = {comma}"))
        else:
            report.add(
                Code.SHOTS_COMMA_OPEN, source.rows[read.unsure[0]], read.index,
                found=brief(source.cells[read.index][read.unsure[0]]), heading=brief(heading.text),
            )  # fmt: skip
    if read.decided is not None:
        columns.decided.append((heading.text, read.decided))
    if read.needs_hand and heading.plus is not None:
        report.add(
            Code.SHOTS_HAND_NEEDED, source.row, read.index,
            heading=brief(heading.text), plus=heading.plus,
        )  # fmt: skip
    if read.open_units:
        report.add(
            Code.SHOTS_UNIT_OPEN, source.row, read.index, one_of(unit_rules(read)),
            heading=brief(heading.text), units=", ".join(read.open_units),
        )  # fmt: skip


def _one_unit(column: Column, quantity: Quantity, heading: Heading) -> Unit | None:
    """Brings cells with units of their own to one unit: the heading's, else the commonest."""
    if not column.units:
        return None
    fitting = {row: unit for row, unit in column.units.items() if fits(quantity, unit)}
    for row in column.units.keys() - fitting.keys():
        column.values[row] = math.nan
        column.unreadable[row] = column.units[row].sign  # a length in a column of speeds
    if not fitting:
        return None
    unit = heading.unit or Counter(fitting.values()).most_common(1)[0][0]
    for row, own in fitting.items():
        if own.factor != unit.factor:
            column.values[row] *= own.factor / unit.factor
    return unit


def _take_sides(read: Read, cells: Sequence[str]) -> None:
    """Signs from the column of L and R beside the numbers."""
    read.sided = True
    signs = [side_of(cell) for cell in cells]
    read.values = [
        abs(value) * sign if sign else value for value, sign in zip(read.values, signs, strict=True)
    ]


def _once(found: Sequence[Read], source: Source, columns: Columns, report: Report) -> list[Read]:
    """One column for each quantity; two with the same numbers are one, two that differ none."""
    kept: list[Read] = []
    for quantity in dict.fromkeys(read.quantity for read in found):
        same = [r for r in found if r.quantity is quantity]
        settled = [r for r in same if r.heading.rule is not None]
        if settled:
            same, passed_over = settled, [r for r in same if r not in settled]
        else:
            passed_over = []
        columns.kept.extend(r.index for r in passed_over)
        readable = [r for r in same if not (r.open_units or r.needs_hand or r.open_comma)]
        columns.kept.extend(r.index for r in same if r not in readable)
        if not readable:
            continue
        first, *others = readable
        differing = [other for other in others if not _agree(first, other)]
        columns.kept.extend(other.index for other in others)
        columns.decided.extend(
            (o.heading.text, f"= {first.heading.text}") for o in others if o not in differing
        )
        if not differing:
            kept.append(first)
            continue
        columns.kept.append(first.index)
        pair = (differing[0].heading.text, first.heading.text)
        report.add(
            Code.SHOTS_COLUMN_TWICE, source.row, differing[0].index,
            one_of(ruled(text, quantity.value) for text in pair),
            heading=brief(pair[0]), other=brief(pair[1]), quantity=quantity,
        )  # fmt: skip
    return kept


def _agree(one: Read, other: Read) -> bool:
    pairs = [
        (a, b)
        for a, b in zip(one.values, other.values, strict=True)
        if math.isfinite(a) and math.isfinite(b)
    ]
    near = sum(1 for a, b in pairs if math.isclose(a, b, rel_tol=SAME_WITHIN, abs_tol=0.06))
    return near >= SAME_SHARE * len(pairs)


def _close_sides(found: Sequence[Read], source: Source, columns: Columns, report: Report) -> None:
    """Takes out and reports the columns whose side cannot be told."""
    kept = {r.quantity: r for r in found if columns.readings.get(r.quantity) is r.values}
    for read in open_sides(kept):
        del columns.readings[read.quantity]
        columns.kept.append(read.index)
        offers = (*side_rules(read), *_passing_over(read.heading.text, read.quantity, source))
        report.add(
            Code.SHOTS_SIDE_OPEN, source.row, read.index, one_of(offers),
            heading=brief(read.heading.text),
        )  # fmt: skip
