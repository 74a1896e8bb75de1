"""Sheets of an .xlsx workbook as rows of text: values only, nothing in it is ever run."""

import io
import zipfile
from collections.abc import Iterable
from datetime import date, datetime, time
from itertools import islice

import openpyxl

from recapgen.intake.table.text import Grid

MOST_UNPACKED_BYTES = 400_000_000
MOST_ROWS = 300_000


def read_sheets(data: bytes) -> dict[str, Grid] | None:
    """The sheets by name, rows numbered as a spreadsheet shows them; None for no workbook.

    Formulas give the value they had when the workbook was last saved by a spreadsheet.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            if sum(part.file_size for part in packed.infolist()) > MOST_UNPACKED_BYTES:
                return None
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
        return {sheet.title: _grid(sheet.iter_rows(values_only=True)) for sheet in book.worksheets}
    except Exception:  # noqa: BLE001 - a damaged workbook fails inside the library in many ways
        return None


def _grid(rows: Iterable[tuple[object, ...]]) -> Grid:
    grid = Grid()
    for line, values in enumerate(islice(rows, MOST_ROWS), start=1):
        cells = [_text(value) for value in values]
        if any(cells):
            grid.add(line, cells)
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
