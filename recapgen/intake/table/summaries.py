"""Rows of averages, deviations and totals below the shots: by their label or by their numbers."""

import math
from collections.abc import Callable, Iterator, Sequence
from statistics import fmean, median, pstdev, stdev

from recapgen.intake.table.cell_words import is_summary, shot_number
from recapgen.intake.table.cells import decimal_mark, is_missing, read_column
from recapgen.intake.table.header import Heading
from recapgen.intake.table.text import Grid

FEWEST_FOR_AVERAGE = 2
FEWEST_COLUMNS_FOR_AVERAGE = 2
MEAN_WITHIN = 0.005
MEAN_ROUNDED = 0.051  # means are printed to a tenth
FURTHEST_FROM_FOOT = 12
MOST_LABELLED = 0.5  # of the rows: with more of them, words are what the column holds
_LABELS = frozenset({"shot", "club", "phase"})
_STATISTICS: tuple[Callable[[Sequence[float]], float], ...] = (
    fmean, pstdev, stdev, min, max, median, sum, lambda v: max(v) - min(v), lambda v: stdev(v) ** 2,
)  # fmt: skip


def summaries_in(grid: Grid, headings: Sequence[Heading], rows: Sequence[int]) -> set[int]:
    """Those of ``rows`` that sum others up, in whatever tongue their label is.

    By a label in a column of words, or, of rows whose label is not known or that have none, by
    their numbers: each the average, deviation, least, most, middle or sum of those above.
    """
    labelled = {0, *(i for i, h in enumerate(headings) if h.role in _LABELS)}
    found = {row for column in labelled for row in _labelled(grid, rows, column)}
    foot = rows[-FURTHEST_FROM_FOOT:]
    words = [i for i, h in enumerate(headings) if h.quantity is None and i not in labelled]
    ends = {row for column in words for row in _labelled(grid, foot, column)}
    found |= {row for row in ends if all(later in ends | found for later in foot if later > row)}
    rest = [row for row in rows if row not in found] if found else rows
    return found | _by_numbers(grid, headings, rest, found)


def no_shots_in(grid: Grid, headings: Sequence[Heading], rows: Sequence[int]) -> set[int]:
    """Rows with words where all around them have the number of a shot."""
    column = next((i for i, h in enumerate(headings) if h.role == "shot"), None)
    if column is None:
        return set()
    cells = _column(grid, rows, column)
    if all(map(str.isdecimal, cells)):
        return set()
    odd = {row for row, cell in zip(rows, cells, strict=True) if _is_words(cell)}
    numbered = sum(shot_number(cell) is not None for cell in cells)
    return odd if len(odd) < MOST_LABELLED * numbered else set()


def _column(grid: Grid, rows: Sequence[int], column: int) -> list[str]:
    cells = map(grid.rows.__getitem__, rows)
    return [row[column].strip() if column < len(row) else "" for row in cells]


def _is_words(cell: str) -> bool:
    return any(map(str.isalpha, cell)) and not any(map(str.isdigit, cell)) and not is_missing(cell)


def _labelled(grid: Grid, rows: Sequence[int], column: int) -> Iterator[int]:
    cells = _column(grid, rows, column)
    labels = {
        cell
        for cell in set(cells)
        if cell and not (cell[0].isdigit() and cell[-1].isdigit()) and is_summary(cell)
    }
    if labels:
        yield from (row for row, cell in zip(rows, cells, strict=True) if cell in labels)


def _by_numbers(
    grid: Grid, headings: Sequence[Heading], rows: Sequence[int], earlier: set[int]
) -> set[int]:
    numbered = next((i for i, h in enumerate(headings) if h.role == "shot"), None)
    measured = [i for i, h in enumerate(headings) if h.quantity is not None]
    likely: dict[int, int] = {}  # rows that may be averages, with how many columns must agree
    foot = rows[-FURTHEST_FROM_FOOT:]
    for column in measured[:1]:
        cells = _column(grid, foot, column)
        likely |= {row: 1 for row, cell in zip(foot, cells, strict=True) if _is_words(cell)}
    if numbered is not None:
        cells = _column(grid, rows, numbered)
        for row, cell in () if all(map(str.isdecimal, cells)) else zip(rows, cells, strict=True):
            if not cell or _is_words(cell):
                likely[row] = 1 if cell else FEWEST_COLUMNS_FOR_AVERAGE
    if not 0 < len(likely) < len(rows) / FEWEST_FOR_AVERAGE:
        return set()
    found: set[int] = set()
    for row, fewest in likely.items():
        start = max((r for r in earlier if r < row), default=-1)
        above = [r for r in rows if start < r < row and r not in likely]
        if len(above) >= FEWEST_FOR_AVERAGE and _sums_up(grid, row, above, (measured, fewest)):
            found.add(row)
    return found


def _sums_up(
    grid: Grid, row: int, above: Sequence[int], columns: tuple[Sequence[int], int]
) -> bool:
    """Whether one statistic makes all numbers of a row out of those ``above`` it."""
    measured, fewest = columns
    pairs: list[tuple[float, list[float]]] = []
    for column in measured:
        cells = _column(grid, (row, *above), column)
        read = read_column(cells, decimal_mark(cells), thousands=True).values
        numbers = [v for v in read[1:] if math.isfinite(v)]
        if math.isfinite(read[0]) and len(numbers) >= FEWEST_FOR_AVERAGE:
            pairs.append((read[0], numbers))
    return len(pairs) >= fewest and any(
        all(_near(value, statistic(numbers)) for value, numbers in pairs)
        for statistic in _STATISTICS
    )


def _near(value: float, made: float) -> bool:
    return abs(value - made) <= max(MEAN_WITHIN * abs(value), MEAN_ROUNDED)
