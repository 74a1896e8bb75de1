"""The columns of a section: each one a quantity, a role of the table, or kept unread."""

import math
from collections import Counter
from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from recapgen.golf.clubs import club_named
from recapgen.golf.written_amounts import Unit
from recapgen.intake.form import hand_offers
from recapgen.intake.table.cells import (
    Column,
    is_missing,
    read_column,
)
from recapgen.intake.table.header import Heading, fits, ruled
from recapgen.intake.table.phase_column import phase_column
from recapgen.intake.table.report import Report, brief
from recapgen.intake.table.section_columns import Columns, Source, cost_of
from recapgen.intake.table.sides import (
    close_sides,
    side_columns,
    take_sides,
    words_for_sides,
)
from recapgen.intake.table.speeds import settle_speeds
from recapgen.intake.table.units_and_signs import (
    Read,
    drop_noughts,
    settle_comma,
    settle_side,
    settle_unit,
    unit_rules,
    unit_stated,
)
from recapgen.intake.table.unread import say_unread, say_unreadable
from recapgen.model.fix import one_of
from recapgen.model.problem import Code
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.shots import Decision, ReadAs

SAME_SHARE = 0.9  # two columns are one quantity written twice where so many rows agree
SAME_WITHIN = 0.02


def read_columns(source: Source, report: Report) -> Columns:
    """Reads and settles every column; what stays open is reported and kept unread."""
    sides, phase = side_columns(source), phase_column(source)
    columns = Columns({}, {}, [])
    found: list[Read] = []
    cell_units: dict[int, Unit | None] = {}
    for index, heading in enumerate(_told_apart(source, columns, report)):
        if heading.role is not None:
            columns.roles.setdefault(heading.role, []).append(index)
        elif index == phase:
            columns.roles["phase"] = [index]
            columns.decided.append(Decision(heading.text, ReadAs.BLOCKS))
        elif index in sides.values():
            continue
        elif heading.quantity is None or heading.misfit is not None:
            columns.kept.append(index)
            say_unread(source, index, heading, columns, report)
        else:
            read, cell_unit = _numbers(source, (index, heading), heading.quantity, columns, report)
            if index in sides:
                take_sides(read, source.cells[sides[index]], source)
            found.append(read)
            cell_units[read.index] = cell_unit
    _settle_units(found, cell_units, source)
    for read in found:
        _settle(read, cell_units[read.index], source, columns, report)
    for read in _once(found, source, columns, report):
        columns.readings[read.quantity] = read.values
        columns.written[read.quantity] = (read.index, read.unit.sign if read.unit else "")
        if read.heading.rule is not None and read.heading.rule.calculated:
            columns.calculated.add(read.quantity)
    close_sides(found, source, columns, report)
    columns.asked -= columns.readings.keys()
    return columns


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
            columns.decided.append(Decision(heading.text, ReadAs.QUANTITY, quantity=left[0]))
            found.append(replace(heading, quantity=left[0], perhaps=()))
            continue
        if left:
            offers = one_of(ruled(heading.text, q.value) for q in left)
            report.add(
                Code.SHOTS_COLUMN_LOOSE, source.row, index, offers,
                costs=cost_of(source, columns, *left),
                heading=brief(heading.text), quantities=" or ".join(left),
            )  # fmt: skip
        found.append(heading)
    return found


def _numbers(
    source: Source, place: tuple[int, Heading], quantity: Quantity, columns: Columns, report: Report
) -> tuple[Read, Unit | None]:
    """One column's numbers as written, and the unit written in its cells."""
    index, heading = place
    thousands = quantity.dimension is Dimension.SPIN
    cells = source.cells[index]
    sides = words_for_sides(source, cells) if quantity.mirrored else None
    column = read_column(cells, source.decimal, thousands=thousands, sides=sides)
    cell_unit = _one_unit(column, quantity, heading)
    say_unreadable(column, source, (index, heading), (quantity, columns), report)
    bare = any(map(math.isfinite, column.values)) and len(column.units) < sum(
        map(math.isfinite, column.values)
    )
    if cell_unit is not None and heading.unit is None and bare:
        columns.decided.append(Decision(heading.text, ReadAs.UNIT, cell_unit.sign))
    unsure: tuple[int, ...] = ()
    if column.grouped is ReadAs.COMMA_DECIMALS:
        unsure = column.unsure
    elif column.grouped is not None:
        columns.decided.append(Decision(heading.text, column.grouped))
    read = Read(index, heading, quantity, column.values, sided=column.sided, unsure=unsure)
    return read, cell_unit


def _settle_units(
    found: Sequence[Read], cell_units: Mapping[int, Unit | None], source: Source
) -> None:
    """Speeds that nothing gives a unit, by what the columns beside them say."""
    stated = {
        read.index: unit
        for read in found
        if (unit := unit_stated(read, cell_units[read.index], source.units)) is not None
    }
    settle_speeds(found, stated, _club(source), source.setting.coach)


def _club(source: Source) -> str | None:
    """The club of most shots, where the file says it, else that of the notes."""
    column = next((i for i, h in enumerate(source.headings) if h.role == "club"), None)
    cells = [] if column is None else [c for c in source.cells[column] if not is_missing(c)]
    written = Counter(cells).most_common(1)
    return club_named(written[0][0]) if written else source.setting.club


def _settle(
    read: Read, cell_unit: Unit | None, source: Source, columns: Columns, report: Report
) -> None:
    """Brings a column to inside units and to plus for right; what stays open is reported."""
    heading = read.heading
    drop_noughts(read)
    if read.zeros:
        columns.decided.append(Decision(heading.text, ReadAs.NOUGHTS))
    settle_unit(read, cell_unit, source.units, source.setting.coach)
    settle_side(read, source.setting.hand)
    if read.unsure and not read.open_units:
        comma = settle_comma(read)
        if comma is not None:
            columns.decided.append(Decision(heading.text, comma))
        else:
            report.add(
                Code.SHOTS_COMMA_OPEN, source.rows[read.unsure[0]], read.index,
                costs=cost_of(source, columns, read.quantity),
                found=brief(source.cells[read.index][read.unsure[0]]), heading=brief(heading.text),
            )  # fmt: skip
    if read.decided is not None:
        columns.decided.append(Decision(heading.text, ReadAs.UNIT, read.decided))
    if read.needs_hand and heading.plus is not None:
        report.add(
            Code.SHOTS_HAND_NEEDED, source.row, read.index, hand_offers(report.file),
            costs=cost_of(source, columns, read.quantity),
            heading=brief(heading.text), plus=heading.plus,
        )  # fmt: skip
    if read.open_units:
        report.add(
            Code.SHOTS_UNIT_OPEN, source.row, read.index, one_of(unit_rules(read)),
            costs=cost_of(source, columns, read.quantity),
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
            Decision(o.heading.text, ReadAs.SAME, first.heading.text)
            for o in others
            if o not in differing
        )
        if not differing:
            kept.append(first)
            continue
        columns.kept.append(first.index)
        pair = (differing[0].heading.text, first.heading.text)
        report.add(
            Code.SHOTS_COLUMN_TWICE, source.row, differing[0].index,
            one_of(ruled(text, quantity.value) for text in pair),
            costs=cost_of(source, columns, quantity),
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
