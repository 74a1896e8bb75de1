"""Sheets of an .xlsx workbook as rows of text: values only, nothing in it is ever run."""

import io
import zipfile
from collections.abc import Iterable
from datetime import date, datetime, time
from itertools import islice

from msgspec import Struct

from recapgen.intake.table.text import MOST_CELLS, MOST_ROWS, Grid, TooMuchError, check_cells
from recapgen.tools.apart import Loss, LostError, apart

MOST_UNPACKED_BYTES = 200_000_000
MOST_SHEETS = 50
PATIENCE_S = 25.0


class Workbook(Struct, frozen=True):
    """The first sheets by name; ``beyond`` are so many more that were not looked into."""

    sheets: dict[str, Grid]
    beyond: int


def read_sheets(data: bytes) -> Workbook | None:
    """The sheets by name, rows numbered as a spreadsheet shows them; None for no workbook.

    Formulas give the value they had when the workbook was last saved by a spreadsheet. A
    workbook is unpacked in a process of its own, since little of it may become very much. Raises
    TooMuchError.
    """
    try:
        workbook = apart(unpack, data, seconds=PATIENCE_S)
    except LostError as lost:
        if lost.loss in (Loss.TIME, Loss.MEMORY):
            raise TooMuchError(1) from None
        return None
    if isinstance(workbook, int):
        raise TooMuchError(workbook)
    return workbook


def unpack(data: bytes) -> Workbook | int | None:
    """The same here; the line from which on it is too much, where it is."""
    import openpyxl  # noqa: PLC0415  slow, and most lessons have no workbook

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            if sum(part.file_size for part in packed.infolist()) > MOST_UNPACKED_BYTES:
                return 1
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
        sheets = book.worksheets[:MOST_SHEETS]
        for sheet in sheets:
            sheet.reset_dimensions()  # a sheet may claim millions of rows and have none
        grids = {sheet.title: _grid(sheet.iter_rows(values_only=True)) for sheet in sheets}
        if sum(grid.cells for grid in grids.values()) > MOST_CELLS:
            return 1
        return Workbook(grids, len(book.worksheets) - len(sheets))
    except TooMuchError as fault:
        return fault.line
    except MemoryError:
        return 1
    except Exception:  # noqa: BLE001 - a damaged workbook fails inside the library in many ways
        return None


def _grid(rows: Iterable[tuple[object, ...]]) -> Grid:
    """Raises TooMuchError."""
    grid = Grid()
    for line, values in enumerate(islice(rows, MOST_ROWS + 1), start=1):
        if line > MOST_ROWS:
            raise TooMuchError(line)
        cells = [_text(value) for value in values]
        while cells and not cells[-1]:
            cells.pop()
        if cells:
            grid.add(line, cells)
    check_cells(grid)
    widest = max(map(len, grid.rows), default=0)
    for cells in grid.rows:
        cells.extend([""] * (widest - len(cells)))
    return grid


def _text(value: object) -> str:
    """A cell's value as a CSV export would write it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return format(value, ".12g")
    if isinstance(value, datetime) and value.time() == time():
        return value.date().isoformat()
    if isinstance(value, (datetime, date, time)):
        return value.isoformat()
    return str(value)
