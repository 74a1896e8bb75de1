"""Columns of the table itself: shot number, time, club, block, mishit."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime

from recapgen.golf.clubs import club_named
from recapgen.intake.serial_days import moments_on
from recapgen.intake.table.cell_words import block_named, shot_number, tag_of
from recapgen.intake.table.cells import is_missing
from recapgen.intake.table.header import ruled
from recapgen.intake.table.report import Report, brief
from recapgen.intake.table.section_columns import Columns, Source
from recapgen.intake.table.times import (
    CellTime,
    DayOrder,
    day_order,
    read_moments,
    read_plain_times,
)
from recapgen.model.fix import one_of
from recapgen.model.problem import Code, Cost
from recapgen.model.shots import Block, Decision, ReadAs


class Roles:
    """Reads the role columns of one section; every list runs parallel to its rows."""

    def __init__(self, source: Source, columns: Columns, report: Report) -> None:
        self._source = source
        self._columns = columns
        self._report = report

    def numbers(self) -> list[int | None] | None:
        """The file's own shot numbers; None where it has no such column."""
        return next(
            (list(map(shot_number, cells)) for _, cells in self._cells("shot")),
            None,
        )

    def clubs_written(self) -> list[str | None] | None:
        """Clubs as they are written."""
        for _, cells in self._cells("club"):
            if not all(map(is_missing, cells)):
                return [None if is_missing(cell) else " ".join(cell.split()) for cell in cells]
        return None

    def clubs(self) -> list[str | None] | None:
        """Clubs by their one name, or as written where they are not known."""
        for index, cells in self._cells("club"):
            names: dict[str, str | None] = {}
            for row, cell in enumerate(cells):
                if cell not in names:
                    names[cell] = self._club(cell, row, index)
            if any(names.values()):
                return [names[cell] for cell in cells]
        return None

    def _club(self, cell: str, row: int, index: int) -> str | None:
        if is_missing(cell):
            return None
        name = club_named(cell)
        if name is None:
            at = self._source.rows[row]
            self._report.add(Code.SHOTS_CLUB_UNKNOWN, at, index, found=brief(cell))
            return " ".join(cell.casefold().split())
        return name

    def blocks(self) -> list[Block | None] | None:
        """Blocks of the lesson from a phase column."""
        for index, cells in self._cells("phase"):
            names: dict[str, Block | None] = {}
            for cell in dict.fromkeys(cells):
                names[cell] = block_named(cell)
            self._say_unknown_blocks(index, cells, names)
            if any(names.values()):
                return [names[cell] for cell in cells]
        return None

    def _say_unknown_blocks(
        self, index: int, cells: Sequence[str], names: Mapping[str, Block | None]
    ) -> None:
        """Words that name no block; one may be the side of a verdict that no other word is."""
        setting = self._source.setting
        compared = {Block.BEFORE, Block.AFTER} <= set(names.values())
        held = setting.numbers and not setting.placed and not compared
        for cell, block in names.items():
            if block is None and not is_missing(cell):
                self._report.add(
                    Code.SHOTS_BLOCK_UNKNOWN, self._source.rows[cells.index(cell)], index,
                    found=brief(cell), heading=brief(self._source.headings[index].text),
                    costs=Cost.STUDENT if held else None,
                )  # fmt: skip

    def tags(self) -> list[str | None] | None:
        """The words for mishits, from the first tag column that says any."""
        for _, cells in self._cells("tag"):
            tags = {cell: tag_of(cell) for cell in set(cells)}
            return [tags[cell] for cell in cells]
        return None

    def times(self, on: date | None) -> list[datetime | None] | None:
        """Times, a date and a clock column put together; ``on`` is the lesson's day."""
        moments: list[list[CellTime | None]] = []
        columns = [(i, self._counted(i, cells, on)) for i, cells in self._cells("time")]
        plain = read_plain_times(columns[0][1]) if len(columns) == 1 else None
        if plain is not None:
            return list(plain)
        for index, cells in columns:
            order = self._order(index, cells, on)
            if order is not None:
                moments.append(read_moments(cells, order))
                self._say_unread(index, cells, moments[-1])
        if not moments:
            return None
        return [_together(parts, on) for parts in zip(*moments, strict=True)]

    def _say_unread(
        self, index: int, cells: Sequence[str], moments: Sequence[CellTime | None]
    ) -> None:
        """Times that cannot be read leave the order to numbers and files, which is reported."""
        unread = [
            row
            for row, (cell, moment) in enumerate(zip(cells, moments, strict=True))
            if moment is None and not is_missing(cell)
        ]
        if unread:
            self._report.add(
                Code.SHOTS_TIMES_UNREADABLE, self._source.rows[unread[0]], index,
                found=brief(cells[unread[0]]), cells=str(len(unread)),
                heading=brief(self._source.headings[index].text),
            )  # fmt: skip

    def _counted(self, index: int, cells: Sequence[str], on: date | None) -> Sequence[str]:
        """The cells, written out where a spreadsheet saved days as numbers."""
        written = None if on is None else moments_on(cells, on)
        if written is None:
            return cells
        heading = self._source.headings[index].text
        self._columns.decided.append(Decision(heading, ReadAs.COUNTED_DAYS))
        return written

    def _order(self, index: int, cells: Sequence[str], on: date | None) -> DayOrder | None:
        heading = self._source.headings[index]
        if heading.rule is not None and heading.rule.unit:
            said = " ".join(heading.rule.unit.casefold().split())
            if said in {DayOrder.DAY_FIRST, DayOrder.MONTH_FIRST}:
                return DayOrder(said)
        order = day_order(cells, on)
        if order not in {DayOrder.UNSURE, DayOrder.MIXED}:
            return order
        row = next(i for i, c in enumerate(cells) if any(map(str.isdigit, c)))
        rules = (ruled(heading.text, "time", unit=o) for o in ("day first", "month first"))
        self._report.add(
            Code.SHOTS_DAY_OPEN, self._source.rows[row], index, one_of(rules),
            found=brief(cells[row]), heading=brief(heading.text),
        )  # fmt: skip
        return None

    def _cells(self, role: str) -> list[tuple[int, Sequence[str]]]:
        return [(i, self._source.cells[i]) for i in self._columns.roles.get(role, [])]


def _together(parts: Sequence[CellTime | None], on: date | None) -> datetime | None:
    day = next((m.day for m in parts if m is not None and m.day is not None), on)
    clock = next((m.clock for m in parts if m is not None and m.clock is not None), None)
    return datetime.combine(day, clock) if day is not None and clock is not None else None
