"""Problems for columns and cells that are not understood, with what they may be."""

import math
from collections.abc import Mapping, Sequence

from recapgen.golf.clubs import club_named
from recapgen.golf.quantity_facts import nearest_quantity
from recapgen.golf.written_amounts import own_unit
from recapgen.intake.table.cells import (
    Column,
    is_date,
    is_missing,
    read_column,
)
from recapgen.intake.table.header import Heading, ruled
from recapgen.intake.table.phase_column import may_tell_blocks
from recapgen.intake.table.report import Report, brief
from recapgen.intake.table.section_columns import Columns, Guess, Source, cost_of
from recapgen.intake.table.times import day_order, read_moments
from recapgen.intake.table.units_and_signs import (
    may_be,
)
from recapgen.model.fix import Put, one_of
from recapgen.model.problem import Code, Cost
from recapgen.model.quantity import Quantity

MOST_UNREADABLE = 0.1  # share of a number's cells, beyond which it is not judged
MOST_NAMED_ALONE = 2


def say_unread(
    source: Source, index: int, heading: Heading, columns: Columns, report: Report
) -> None:
    """Reports a column that is kept but not read; ``ignore`` in coach.yml says it is meant."""
    if heading.rule is not None and heading.misfit is None:
        return
    if heading.quantity is not None and heading.misfit is not None:
        dimension = heading.quantity.dimension
        unit = own_unit(dimension, source.setting.coach.units).sign
        rule = ruled(heading.text, heading.quantity.value, **({"unit": unit} if unit else {}))
        offers = [rule, *_passing_over(heading.text, heading.quantity, source)]
        report.add(
            Code.SHOTS_UNIT_MISFIT, source.row, index, one_of(offers),
            heading=brief(heading.text), quantity=heading.quantity, unit=heading.misfit.sign,
            dimension=dimension, costs=cost_of(source, columns, heading.quantity),
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
    fits_it = near is not None and near.in_tables and numeric and may_be(near, numbers)
    missing = source.setting.numbers - {h.quantity for h in source.headings}
    wanted = numeric and any(may_be(quantity, numbers) for quantity in missing)
    return Guess(
        near if fits_it else None, wanted, may_tell_blocks(source, index), _role(source, cells)
    )


def _role(source: Source, cells: Sequence[str]) -> str | None:
    """What cells that are no numbers tell of each shot, where no column is known to tell it."""
    told = {heading.role for heading in source.headings}
    named = bool(cells) and not any(len(cell) == 1 or cell.isdecimal() for cell in cells)
    if named and "club" not in told and all(map(club_named, cells)):
        return "club"
    timed = bool(cells) and all(":" in cell for cell in cells)
    if timed and "time" not in told and all(read_moments(cells, day_order(cells, None))):
        return "time"
    return None


def say_unknown(
    headings: Mapping[str, tuple[int, int]], guesses: Mapping[str, Guess], report: Report
) -> None:
    """One problem for each heading near a known one, and one for all the others of the file.

    A column that may hold a number which the file lacks is not offered to be passed over, nor is
    one whose cells say for themselves what they are.
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
        meant = {text: guesses[text].role or "ignore" for text in far if not guesses[text].wanted}
        rules = tuple(ruled(text, meaning) for text, meaning in meant.items())
        held = any(guesses[text].blocks for text in far)
        report.add(
            Code.SHOTS_COLUMNS_UNKNOWN, *headings[far[0]], one_of([rules] if rules else []),
            headings=", ".join(brief(t) for t in far), costs=Cost.STUDENT if held else None,
        )  # fmt: skip


def say_unreadable(
    column: Column,
    source: Source,
    place: tuple[int, Heading],
    meant: tuple[Quantity, Columns],
    report: Report,
) -> None:
    """Cells that are no numbers: a few by themselves, many of a column as one problem.

    Where more than a tenth of a column that a verdict rests on are none, it is not judged.
    """
    (index, heading), (quantity, columns) = place, meant
    unreadable = column.unreadable
    filled = len(unreadable) + sum(map(math.isfinite, column.values))
    judged = quantity in source.setting.numbers and len(unreadable) > MOST_UNREADABLE * filled
    if not judged and len(unreadable) <= MOST_NAMED_ALONE:
        for at, text in unreadable.items():
            report.add(
                Code.SHOTS_CELL_UNREADABLE, source.rows[at], index,
                found=brief(text), heading=brief(heading.text),
            )  # fmt: skip
        return
    first, text = next(iter(unreadable.items()))
    dates = [cell for cell in unreadable.values() if is_date(cell)]
    code = Code.SHOTS_NUMBERS_AS_DATES if dates else Code.SHOTS_CELLS_UNREADABLE
    report.add(
        code, source.rows[first], index,
        costs=cost_of(source, columns, quantity) if judged else None,
        found=brief(dates[0] if dates else text), heading=brief(heading.text),
        cells=str(len(dates or unreadable)), filled=str(filled),
    )  # fmt: skip
