"""How a table of shots is written down: headings, sides, separators, and the usual clutter."""

import csv
import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import fmean

from sample_making.invent_shots import InventedShot

MPH = 1 / 0.44704
KMH = 3.6
YARD = 1 / 0.9144
FOOT = 1 / 0.3048


@dataclass(frozen=True, slots=True)
class Amount:
    """A measured column: its value times ``per_unit`` (units in one inside unit), rounded.

    ``sides`` says how left and right are written: "plus is right", "plus is left", "suffix"
    ("3.2 R") or "prefix" ("R 3,2").
    """

    heading: str
    value: Callable[[InventedShot], float]
    per_unit: float = 1.0
    places: int = 1
    unit: str = ""
    sides: str = "plus is right"
    thousands: bool = False
    group: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """A column of text; ``cell`` may look at the shot only."""

    heading: str
    cell: Callable[[InventedShot], str]
    unit: str = ""
    group: str = ""


Column = Amount | Words


@dataclass(frozen=True, slots=True)
class TableFile:
    """One file of a lesson, as some device or spreadsheet would write it.

    ``title`` is a row above the headings, ``groups`` puts a row of group names there,
    ``average`` adds a row of means at the bottom; ``missing`` names readings that were not
    taken, as (shot number, heading).
    """

    name: str
    columns: tuple[Column, ...]
    delimiter: str = ","
    decimal: str = "."
    encoding: str = "utf-8"
    newline: str = "\n"
    title: str = ""
    groups: bool = False
    units_row: bool = False
    average: bool = False
    missing: frozenset[tuple[int, str]] = frozenset()


def table_bytes(table: TableFile, shots: Sequence[InventedShot]) -> bytes:
    """The whole file."""
    text = io.StringIO()
    rows = csv.writer(text, delimiter=table.delimiter, lineterminator=table.newline)
    columns = table.columns
    if table.title:
        rows.writerow([table.title, *[""] * (len(columns) - 1)])
    if table.groups:
        rows.writerow([column.group for column in columns])
    rows.writerow([column.heading for column in columns])
    if table.units_row:
        rows.writerow([column.unit for column in columns])
    for shot in shots:
        rows.writerow([_cell(table, column, shot) for column in columns])
    if table.average:
        rows.writerow(_averages(table, shots))
    return text.getvalue().encode(table.encoding)


def _cell(table: TableFile, column: Column, shot: InventedShot) -> str:
    if (shot.number, column.heading) in table.missing:
        return ""
    if isinstance(column, Words):
        return column.cell(shot)
    return _written(table, column, column.value(shot))


def _written(table: TableFile, column: Amount, value: float) -> str:
    amount = value * column.per_unit
    separator = "," if column.thousands else ""
    size = f"{abs(amount):{separator}.{column.places}f}"
    sign = "-" if amount < 0 and float(size.replace(",", "")) != 0 else ""
    side = "R" if amount >= 0 else "L"
    if table.decimal != ".":
        size = size.replace(".", table.decimal)
    match column.sides:
        case "suffix":
            return f"{size} {side}"
        case "prefix":
            return f"{side} {size}"
        case "plus is left":
            return f"{'' if sign else '-'}{size}"
        case _:
            return f"{sign}{size}"


def _averages(table: TableFile, shots: Sequence[InventedShot]) -> list[str]:
    cells = [
        _written(table, column, fmean(column.value(shot) for shot in shots))
        if isinstance(column, Amount)
        else ""
        for column in table.columns
    ]
    return ["mean of all", *cells[1:]]
