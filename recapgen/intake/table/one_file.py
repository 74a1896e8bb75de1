"""One shots file: opened, laid out, read section by section, its faults said."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from msgspec import Struct, field

from recapgen.intake.said_files import IGNORE
from recapgen.intake.table.cells import decimal_mark
from recapgen.intake.table.columns import read_columns
from recapgen.intake.table.header import Headings
from recapgen.intake.table.layout import Layout, Section, lay_out
from recapgen.intake.table.parts import Part, part_of
from recapgen.intake.table.players import rows_of_student
from recapgen.intake.table.report import Report, brief
from recapgen.intake.table.rows import Drafts, draft_rows
from recapgen.intake.table.section_columns import Guess, Setting, Source
from recapgen.intake.table.text import (
    LONGEST_CELL,
    MOST_CELLS,
    MOST_COLUMNS,
    Grid,
    TooMuchError,
    decode,
    delimiter_of,
    read_grid,
)
from recapgen.intake.table.unread import say_unknown
from recapgen.intake.table.workbook import MOST_SHEETS, Workbook, read_sheets
from recapgen.intake.text_file import file_of, leads_outside
from recapgen.model.fix import Put, one_of
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import Check, RowRule, leans_on
from recapgen.model.shots import Decision, ReadAs
from recapgen.model.source import SourceRef

MOST_BYTES = 50_000_000
MOST_LINES_NAMED = 8
_FEWEST_LYING = 2
_LOOKED_AT_ROWS = 60
Problems = tuple[Problem, ...]


class FileShots(Struct):
    """What one file gave, sheet by sheet; ``names`` are those that notes.md may use of it."""

    name: str
    names: list[str] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    decided: list[Decision] = field(default_factory=list)
    unknown: dict[str, Guess] = field(default_factory=dict)
    calculated: set[Quantity] = field(default_factory=set)
    asked: set[Quantity] = field(default_factory=set)


def read_file(
    root: Path, path: Path, headings: Headings, setting: Setting
) -> tuple[FileShots | None, Problems]:
    """The file's shots, None where it holds none that can be found, and its problems."""
    name = file_of(root, path)
    data, faults = _bytes_of(root, path, name)
    if data is None:
        return None, faults
    sheets, faults = _grids(data, path, name, headings, setting)
    tables = [(sheet, grid, lay_out(grid, headings)) for sheet, grid in sheets.items()]
    lying = _names_below_each_other(sheets.values(), headings)
    if lying is not None:
        where = SourceRef(name, lying.line, 1)
        return None, (*faults, Problem(Code.SHOTS_SIDEWAYS, where, {"names": lying.names}))
    if sheets and not any(layout.sections for _, _, layout in tables):
        where, offers = SourceRef(name, 1), one_of([_passed_over(setting, path.name)])
        fault = Problem(Code.SHOTS_WITHOUT_HEADINGS, where, {"file": path.name}, offers=offers)
        return None, (*faults, fault)
    found = FileShots(name)
    problems = list(faults)
    for sheet, grid, layout in tables:
        found.names.append(f"{path.name}/{sheet}")
        part = part_of(path, name, sheet, setting.files, alone=len(tables) == 1)
        if part.said is not None and part.said.ignored:
            continue
        if layout.sections:
            found.parts.append(part)
            report = Report(found.name, grid, sheet if len(tables) > 1 else "")
            problems.extend(_read_layout(layout, report, headings, setting, found))
        else:
            facts, code = {"sheet": brief(sheet)}, Code.SHOTS_SHEET_PASSED_OVER
            offers = one_of([_passed_over(setting, part.name)])
            problems.append(Problem(code, SourceRef(name), facts, offers=offers))
    return (found if sheets else None), tuple(problems)


def laid_out(
    root: Path, path: Path, headings: Headings, setting: Setting
) -> Iterator[tuple[Grid, Layout]]:
    """Every table of the file with its rows sorted; none where it cannot be read."""
    name = file_of(root, path)
    data, _ = _bytes_of(root, path, name)
    sheets, _ = _grids(data, path, name, headings, setting) if data is not None else ({}, ())
    yield from ((grid, lay_out(grid, headings)) for grid in sheets.values())


def _passed_over(setting: Setting, name: str) -> Put:
    """The line of ``files:`` in notes.md for a file, or a sheet, that holds no shots."""
    return Put(setting.notes, ("files", name), IGNORE)


def _bytes_of(root: Path, path: Path, name: str) -> tuple[bytes | None, Problems]:
    where = SourceRef(name)
    if leads_outside(root, path):
        return None, (Problem(Code.LINK_OUTSIDE, where),)
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            facts = {"size": f"{size:,}", "most": f"{MOST_BYTES:,}"}
            return None, (Problem(Code.FILE_TOO_BIG, where, facts),)
        return path.read_bytes(), ()
    except OSError as fault:
        reason = fault.strerror or type(fault).__name__
        return None, (Problem(Code.FILE_UNREADABLE, where, {"reason": reason}),)


def _grids(
    data: bytes, path: Path, name: str, headings: Headings, setting: Setting
) -> tuple[dict[str, Grid], Problems]:
    """The file's tables by the name of their sheet; a text is one table without a name."""
    where = SourceRef(name)
    sheets: dict[str, Grid] | None
    beyond: Problems = ()
    try:
        if path.suffix.lower() == ".xlsx":
            workbook = read_sheets(data)
            sheets = None if workbook is None else workbook.sheets
            beyond = _say_beyond(workbook, where, setting)
        else:
            text = decode(data)
            sheets = None if text is None else _as_text(text, headings)
    except TooMuchError as fault:
        facts = {
            "columns": f"{MOST_COLUMNS}",
            "cells": f"{MOST_CELLS:,}",
            "signs": f"{LONGEST_CELL:,}",
        }
        return {}, (Problem(Code.SHOTS_TOO_MUCH, SourceRef(name, fault.line), facts),)
    if sheets is None:
        return {}, (Problem(Code.SHOTS_NOT_TEXT, where, {"file": path.name}),)
    written = {
        sheet: grid
        for sheet, grid in sheets.items()
        if any(cell.strip() for row in grid.rows for cell in row)
    }
    facts = {"name": path.name}
    return written, beyond if written else (*beyond, Problem(Code.SHOTS_EMPTY, where, facts))


def _say_beyond(workbook: Workbook | None, where: SourceRef, setting: Setting) -> Problems:
    """Sheets that were not looked into may hold shots of the verdict."""
    if workbook is None or not workbook.beyond:
        return ()
    facts = {"most": str(MOST_SHEETS), "sheets": str(MOST_SHEETS + workbook.beyond)}
    costs = Cost.STUDENT if setting.numbers else None
    return (Problem(Code.SHOTS_SHEETS_BEYOND, where, facts, costs),)


def _as_text(text: str, headings: Headings) -> dict[str, Grid]:
    return {"": read_grid(text, delimiter_of(text, headings.count))}


class _Lying(Struct, frozen=True):
    """The names of numbers that stand below each other, from ``line`` on."""

    line: int
    names: str


def _names_below_each_other(grids: Iterable[Grid], headings: Headings) -> _Lying | None:
    """Where a table lies on its side, its shots next to each other instead of below."""
    for grid in grids:
        first = zip(grid.rows[:_LOOKED_AT_ROWS], grid.lines, strict=False)
        named = [(row[0], line) for row, line in first if row and _numbers(row[:1], headings)]
        beside = (_numbers(row, headings) for row in grid.rows[:_LOOKED_AT_ROWS])
        different = {headings.of(cell).quantity for cell, _ in named}
        if len(different) >= _FEWEST_LYING and max(beside) < _FEWEST_LYING:
            return _Lying(named[0][1], brief(", ".join(cell for cell, _ in named)))
    return None


def _numbers(cells: Sequence[str], headings: Headings) -> int:
    """How many of ``cells`` name a golf number."""
    return sum(cell != "" and headings.of(cell).quantity is not None for cell in cells)


def _read_layout(
    layout: Layout, report: Report, headings: Headings, setting: Setting, found: FileShots
) -> Problems:
    grid = report.grid
    unknown: dict[str, tuple[int, int]] = {}
    for section in layout.sections:
        _name_columns(section, grid, headings)
        _read_section(section, layout, setting, report, found)
        texts = [h.text for h in section.headings]
        unknown.update({t: (section.row, texts.index(t)) for t in found.unknown if t in texts})
    say_unknown(unknown, found.unknown, report)
    _say_passed_over(layout, grid, found, report)
    if not found.parts[-1].drafts.where:
        name = found.parts[-1].name
        offers = one_of([_passed_over(setting, name)])
        report.add(Code.SHOTS_EMPTY, layout.sections[0].row, None, offers, name=brief(name))
    return report.problems()


def _name_columns(section: Section, grid: Grid, headings: Headings) -> None:
    """Columns with cells but no heading are called "column 3", so that a rule can name them."""
    named = (
        heading
        if heading.text or not any(_filled(grid.rows[row], index) for row in section.rows)
        else headings.of(f"column {index + 1}")
        for index, heading in enumerate(section.headings)
    )
    section.headings = headings.in_file(tuple(named))


def _filled(cells: Sequence[str], index: int) -> bool:
    return index < len(cells) and bool(cells[index].strip())


def _read_section(
    section: Section, layout: Layout, setting: Setting, report: Report, found: FileShots
) -> None:
    """Appends the drafts of a section, and what was decided and not understood."""
    section.rows = rows_of_student(
        section.headings, section.rows, section.row, setting, report
    )  # fmt: skip
    cells, faults = _columns_of(section, report)
    numbers = (c for c, h in zip(cells, section.headings, strict=True) if h.quantity or h.perhaps)
    mark = decimal_mark(cell for column in numbers for cell in column)
    source = Source(
        section.headings, cells, section.row, section.rows, mark, layout.units, setting
    )  # fmt: skip
    columns = read_columns(source, report)
    drafts = draft_rows(section, source, columns, faults, report)
    found.calculated |= columns.calculated
    found.asked |= columns.asked
    for at, rule in enumerate(drafts.impossible):
        if rule is not None and at not in faults:
            report.add(
                Code.SHOTS_ROW_IMPOSSIBLE, section.rows[at], None,
                rule=rule, reading=_reading(rule, at, cells, columns.written),
            )  # fmt: skip
    _say_doubtful(drafts, found.calculated, section, report)
    found.parts[-1].drafts.extend(drafts)
    found.decided.extend(columns.decided)
    found.unknown |= columns.unknown


def _columns_of(section: Section, report: Report) -> tuple[list[Sequence[str]], dict[int, RowRule]]:
    """The section's cells by column; of rows that do not fit, the first roles."""
    grid, width = report.grid, len(section.headings)
    rows = [grid.rows[row] for row in section.rows]
    faults: dict[int, RowRule] = {}
    if not rows:
        return [[] for _ in range(width)], faults
    if grid.open_quotes or any(len(cells) != width for cells in rows):
        sure = next((i for i, h in enumerate(section.headings) if h.role is None), width)
        for at, cells in enumerate(rows):
            row = section.rows[at]
            if row in grid.open_quotes:
                faults[at] = RowRule(Check.QUOTE_OPEN)
                report.add(Code.SHOTS_QUOTE_OPEN, row)
            elif any(cell.strip() for cell in cells[width:]):
                faults[at] = RowRule(Check.ROW_UNEVEN)
                report.add(
                    Code.SHOTS_ROW_UNEVEN, row, width,
                    cells=str(len(cells)), headings=str(width),
                )  # fmt: skip
            kept = cells[: sure if at in faults else width]
            rows[at] = kept + [""] * (width - len(kept))
    return list(zip(*rows, strict=True)), faults


def _say_doubtful(
    drafts: Drafts, calculated: Collection[Quantity], section: Section, report: Report
) -> None:
    """Reports doubts once for each rule; one that leans on a calculated column stays a remark."""
    doubtful: dict[RowRule, list[int]] = {}
    for at, rules in enumerate(drafts.doubts):
        for rule in rules:
            if not leans_on(rule, calculated):
                doubtful.setdefault(rule, []).append(at)
    for rule, rows in doubtful.items():
        lines = ", ".join(
            str(report.grid.lines[section.rows[at]]) for at in rows[:MOST_LINES_NAMED]
        )
        report.add(
            Code.SHOTS_ROW_DOUBTFUL, section.rows[rows[0]], None,
            rule=rule, rows=str(len(rows)), lines=lines,
        )  # fmt: skip


def _reading(
    rule: RowRule,
    at: int,
    cells: Sequence[Sequence[str]],
    written: Mapping[Quantity, tuple[int, str]],
) -> str:
    """The cell that broke a rule of bounds, with its unit ("316 mph"); "" for other rules."""
    place = written.get(rule.quantity) if rule.quantity is not None else None
    if place is None:
        return ""
    index, unit = place
    cell = brief(cells[index][at])
    return cell if any(map(str.isalpha, cell)) else f"{cell} {unit}".strip()


def _say_passed_over(layout: Layout, grid: Grid, found: FileShots, report: Report) -> None:
    """Rows that are no shots: averages are noted, anything else is reported."""
    for row in layout.summaries:
        label = next(c for c in grid.rows[row] if c.strip())
        named = any(c.isalpha() for c in label)
        said = brief(label) if named else f"line {grid.lines[row]}"
        found.decided.append(Decision(said, ReadAs.SUMMARY))
    for row in layout.remarks:
        said = " ".join(c for c in grid.rows[row] if c.strip())
        report.add(Code.SHOTS_ROW_NO_SHOT, row, None, found=brief(said))
