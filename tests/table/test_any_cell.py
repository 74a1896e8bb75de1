"""Whatever stands in the cells: no crash, true lines, and every row accounted for."""

import csv
import io
import math
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.golf.written_amounts import read_number
from recapgen.intake.table.all_files import read_shots
from recapgen.intake.table.cells import read_column
from recapgen.intake.table.section_columns import Setting
from recapgen.intake.table.text import Grid, decode, delimiter_of, read_grid
from recapgen.model.people import Coach
from recapgen.model.problem import Code
from recapgen.model.row_rules import Check, RowRule
from recapgen.words.catalogue import words
from recapgen.words.problems import tell
from tests.many import MANY

HEADINGS = ["Shot", "Club", "Block", "Time", "Ball Speed (mph)", "Club Path (deg)", "Carry", "Tag"]
ODD = st.text(alphabet="0123456789.,-+LR'\"°eE%/: \t\r\n;|()[]{}<>&=#ahnrx−½²٣", max_size=12)
CELL = st.one_of(ODD, st.text(max_size=20), st.sampled_from(["", "7i", "120", "3.1 L", "Average"]))
ROWS = st.lists(st.lists(CELL, min_size=1, max_size=10), max_size=12)
LINE_ENDS = st.sampled_from(["\n", "\r\n", "\r"])
DELIMITERS = st.sampled_from([",", ";", "\t", "|"])
ENCODINGS = st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32"])


def in_csv(
    rows: Sequence[Sequence[str]], delimiter: str, line_end: str, *, all_quoted: bool
) -> str:
    out = io.StringIO(newline="")
    if all_quoted:
        csv.writer(out, delimiter=delimiter, lineterminator="\n", quoting=csv.QUOTE_ALL).writerows(
            rows
        )
    else:
        csv.writer(out, delimiter=delimiter, lineterminator="\n").writerows(rows)
    return out.getvalue().replace("\n", line_end)


def write(root: Path, data: bytes) -> Path:
    path = root / "marta" / "2027-04-23" / "shots.csv"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return path


@MANY
@given(rows=ROWS, delimiter=DELIMITERS, line_end=LINE_ENDS, quoted=st.booleans())
def test_any_cells_are_read_or_reported(
    tmp_path_factory: pytest.TempPathFactory,
    rows: list[list[str]], delimiter: str, line_end: str, quoted: bool,
) -> None:  # fmt: skip
    root = tmp_path_factory.getbasetemp()
    text = in_csv([HEADINGS, *rows], delimiter, line_end, all_quoted=quoted)
    path = write(root, text.encode())
    table, problems = read_shots(root, (path,), Setting(Coach("Ines Falk")))
    for problem in problems:
        told = tell(problem, words("en"))
        assert told.found
        assert told.fix
    if table is None:
        return
    decoded = decode(text.encode())
    assert decoded is not None
    assert len(table.shots) <= decoded.count("\n")
    assert all(math.isfinite(v) for shot in table.shots for v in shot.readings.values())
    assert len({shot.number for shot in table.shots}) == len(table.shots)


@given(data=st.binary(max_size=400))
def test_any_bytes_are_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, data: bytes
) -> None:
    root = tmp_path_factory.getbasetemp()
    table, problems = read_shots(root, (write(root, data),), Setting(Coach("Ines Falk")))
    assert table is not None or problems


PLAIN = st.text(alphabet='abcäöü0123456789 .-"\n', max_size=14)


@given(
    rows=st.lists(st.lists(PLAIN, min_size=3, max_size=3), min_size=1, max_size=15),
    delimiter=DELIMITERS, line_end=LINE_ENDS, encoding=ENCODINGS, quoted=st.booleans(),
)  # fmt: skip
def test_every_row_keeps_its_line(
    rows: list[list[str]], delimiter: str, line_end: str, encoding: str, quoted: bool
) -> None:
    """The line of a row is one more than the line ends before it, also inside quotes."""
    text = in_csv(rows, delimiter, line_end, all_quoted=quoted)
    decoded = decode(text.encode(encoding))
    assert decoded is not None
    grid = read_grid(decoded, delimiter)
    line = 1
    expected = []
    for row in rows:
        expected.append(line)
        line += in_csv([row], delimiter, "\n", all_quoted=quoted).count("\n")
    if grid.open_quotes:  # cells that look like rows of their own are not trusted in quotes
        assert set(grid.lines) >= {1}
        return
    assert grid.lines == expected
    assert grid.rows == [
        [c.lstrip(" ") if not _is_quoted(c, delimiter, quoted=quoted) else c for c in r]
        for r in rows
    ]


def _is_quoted(cell: str, delimiter: str, *, quoted: bool) -> bool:
    return quoted or any(mark in cell for mark in (delimiter, '"', "\n"))


@given(good=st.integers(1, 8), bad=st.integers(0, 8), after=st.integers(1, 8), line_end=LINE_ENDS)
def test_an_open_quote_costs_its_own_row_only(
    tmp_path_factory: pytest.TempPathFactory, good: int, bad: int, after: int, line_end: str
) -> None:
    root = tmp_path_factory.getbasetemp()
    lines = ["Shot,Ball Speed (mph),Remark"]
    lines += [f"{i},120.5,fine" for i in range(1, good + 1)]
    lines += [f'{i},121.5,"never closed' for i in range(good + 1, good + bad + 1)]
    lines += [f"{i},122.5,fine" for i in range(good + bad + 1, good + bad + after + 1)]
    path = write(root, line_end.join(lines).encode())
    table, problems = read_shots(root, (path,), Setting(Coach("Ines Falk")))
    assert table is not None
    assert [shot.where.line for shot in table.shots] == list(range(2, len(lines) + 1))
    broken = [s.number for s in table.shots if s.impossible == RowRule(Check.QUOTE_OPEN)]
    assert broken == list(range(good + 1, good + bad + 1))
    assert all(s.readings for s in table.shots if s.number not in broken)
    told = [p.where.line for p in problems if p.code is Code.SHOTS_QUOTE_OPEN]
    assert told == [n + 1 for n in broken]


NUMBERS = st.floats(-9999, 9999).map(lambda v: round(v, 2))


@given(
    values=st.lists(NUMBERS, min_size=1, max_size=30), grouped=st.booleans(), comma=st.booleans()
)
def test_numbers_come_back_with_either_mark(
    values: list[float], grouped: bool, comma: bool
) -> None:
    cells = [f"{v:,.2f}" if grouped else f"{v:.2f}" for v in values]
    if comma:
        cells = [c.translate(str.maketrans(",.", ".,")) for c in cells]
    column = read_column(cells, "," if comma else ".")
    assert column.values == values
    assert not column.unreadable
    assert [read_number(c, decimal="," if comma else ".") for c in cells] == values
    assert [read_number(c) for c in cells] == values


@given(value=st.integers(0, 18_000))
def test_spin_is_read_with_any_mark_between_thousands(value: int) -> None:
    for mark in (",", ".", " ", "'", "\u202f", ""):
        column = read_column([f"{value:,}".replace(",", mark), "650"], None, thousands=True)
        assert column.values == [value, 650]


@pytest.mark.parametrize("slip", ["1E100", "-1e9", "9" * 40, "9" * 40 + "' 3\""])
def test_a_figure_beyond_all_golf_is_no_reading(slip: str) -> None:
    for mark in (None, ".", ","):
        column = read_column([slip, "120"], mark)
        assert math.isnan(column.values[0])
        assert column.unreadable == {0: slip}


@given(cells=st.lists(CELL, max_size=20))
def test_a_column_says_of_every_cell_what_became_of_it(cells: list[str]) -> None:
    column = read_column(cells, None)
    assert len(column.values) == len(cells)
    for row, value in enumerate(column.values):
        assert math.isfinite(value) or math.isnan(value)
        assert math.isnan(value) or row not in column.unreadable


@given(lines=st.lists(st.text(alphabet='ab,;\t|"\n', max_size=20), max_size=8))
def test_a_delimiter_is_always_found(lines: list[str]) -> None:
    text = "\n".join(lines)
    grid: Grid = read_grid(text, delimiter_of(text, lambda _: 0))
    assert len(grid.lines) == len(grid.rows)
