"""From the bytes of a file to its rows: encoding, line ends, delimiter, quotes.

Line numbers are those an editor shows: CRLF, LF and CR each end a line.
"""

import codecs
import csv
import re
from collections import Counter
from collections.abc import Callable, Iterator

from msgspec import Struct, field

DELIMITERS = ("\t", ";", "|", ",")
MOST_QUOTED_LINES = 40  # a quoted cell over more lines is a quote that was never closed
LOOKED_AT_LINES = 60
LOOKED_AT_SIGNS = 20_000  # of a line, to find what parts its cells
MOST_ROWS = 300_000
MOST_COLUMNS = 300
MOST_CELLS = 2_000_000  # of all rows: 100,000 shots of 20 numbers
LONGEST_CELL = 2_000
LONGEST_LINE = MOST_COLUMNS * LONGEST_CELL
NOUGHTS_BESIDE = 0.5  # share of noughts beside the letters of UTF-16, and among them
NOUGHTS_WITHIN = 0.1
_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),  # before UTF-16, whose mark it begins with
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_EASTERN = {  # as spreadsheets there save a CSV, and a word by which each is known
    "cp932": re.compile("[ぁ-ヿ]{2}"),
    "euc-kr": re.compile("[가-힣]{2}"),
}


class TooMuchError(Exception):
    """More than a lesson's shots can be, in the row that begins on ``line``."""

    def __init__(self, line: int) -> None:
        super().__init__(line)
        self.line = line


class Grid(Struct):
    """Rows of cells, the line each begins on, and which rows have a quote that stays open.

    ``source`` are the lines of the text; a sheet of a workbook has none, nor a delimiter.
    ``cells`` are counted so that memory has an end, whatever a file holds.
    """

    source: list[str] = field(default_factory=list)
    delimiter: str = ","
    lines: list[int] = field(default_factory=list)
    rows: list[list[str]] = field(default_factory=list)
    open_quotes: set[int] = field(default_factory=set)
    cells: int = 0

    def count(self, line: int, cells: list[str]) -> None:
        """Raises TooMuchError where these are too many, or with those before them."""
        self.cells += len(cells)
        if len(cells) > MOST_COLUMNS or self.cells > MOST_CELLS:
            raise TooMuchError(line)

    def add(self, line: int, cells: list[str], *, open_quote: bool = False) -> None:
        self.count(line, cells)
        if open_quote:
            self.open_quotes.add(len(self.rows))
        self.lines.append(line)
        self.rows.append(cells)

    def place(self, row: int, cell: int | None) -> tuple[int, int | None]:
        """Line and column, both from 1, at which a cell begins; column None for a whole row."""
        line = self.lines[row]
        if cell is None or row in self.open_quotes:
            return line, None
        if not self.source:
            return line, cell + 1
        quoted, seen, at = False, 0, 0
        while seen < cell and line <= len(self.source):
            text = self.source[line - 1]
            if at >= len(text):
                line, at = line + 1, 0
                continue
            if text[at] == '"':
                quoted = not quoted
            elif text[at] == self.delimiter and not quoted:
                seen += 1
            at += 1
        return line, at + 1


def decode(data: bytes) -> str | None:
    """The text of a file, line ends made LF; None where the bytes are no text."""
    text = _decoded(data)
    if text is None or "\0" in text:
        return None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _decoded(data: bytes) -> str | None:
    for mark, encoding in _BOMS:
        if data.startswith(mark):
            try:
                return data[len(mark) :].decode(encoding)
            except UnicodeDecodeError:
                return None
    eastern = (code for code, word in _EASTERN.items() if _reads(data, code, word))
    for encoding in (*_without_mark(data), "utf-8", *eastern, "cp1252", "latin-1"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return None


def _reads(data: bytes, encoding: str, word: re.Pattern[str]) -> bool:
    """Western text may by chance be a letter of an Eastern code; a word of its script is not."""
    try:
        return word.search(data.decode(encoding)) is not None
    except UnicodeDecodeError:
        return False


def _without_mark(data: bytes) -> tuple[str, ...]:
    """UTF-16 without a byte order mark shows as a nought beside almost every letter."""
    start = data[:2000]
    if len(data) % 2 or b"\0" not in start:
        return ()
    half = len(start) // 2
    even, odd = start[0::2].count(0) / half, start[1::2].count(0) / half
    if odd > NOUGHTS_BESIDE and even < NOUGHTS_WITHIN:
        return ("utf-16-le",)
    if even > NOUGHTS_BESIDE and odd < NOUGHTS_WITHIN:
        return ("utf-16-be",)
    return ()


def delimiter_of(text: str, recognised: Callable[[list[str]], int]) -> str:
    """The delimiter under which a line gives most known headings, else the steadiest one."""
    first = text.split("\n", LOOKED_AT_LINES)[:LOOKED_AT_LINES]
    lines = [line[:LOOKED_AT_SIGNS] for line in first if line.strip()]
    if lines and (said := re.fullmatch(r"sep=(.)", lines[0].strip(), re.IGNORECASE)):
        return said[1] if said[1] in DELIMITERS else ","
    unquoted = [re.sub(r'"[^"]*"', "", line) for line in lines]

    def merit(delimiter: str) -> tuple[int, int]:
        known = max((recognised(_cells(line, delimiter)) for line in lines), default=0)
        counts = Counter(line.count(delimiter) for line in unquoted)
        del counts[0]
        return known, max(counts.values(), default=0)

    return max(DELIMITERS, key=merit)


def _cells(line: str, delimiter: str) -> list[str]:
    if delimiter not in line:
        return [line]
    try:
        return next(csv.reader([line], delimiter=delimiter))
    except csv.Error:
        return line.split(delimiter)


def read_grid(text: str, delimiter: str) -> Grid:
    """All rows of a delimited text; a quote that is never closed costs its own line only.

    Raises TooMuchError.
    """
    if text.count("\n") > MOST_ROWS:
        raise TooMuchError(MOST_ROWS)
    ended = [f"{line}\n" for line in text.split("\n")]
    if ended[-1] == "\n":
        ended.pop()
    for line, written in enumerate(ended, 1):
        if len(written) > LONGEST_LINE:
            raise TooMuchError(line)
    grid = Grid(ended, delimiter)
    at = 0
    while at < len(ended):
        at = _read_on(ended, at, delimiter, grid)
    check_cells(grid)
    return grid


def check_cells(grid: Grid) -> None:
    """Raises TooMuchError where a cell is longer than words beside shots can be."""
    for line, cells in zip(grid.lines, grid.rows, strict=True):
        if max(map(len, cells), default=0) > LONGEST_CELL:
            raise TooMuchError(line)


def _read_on(ended: list[str], first: int, delimiter: str, grid: Grid) -> int:
    """Reads from line index ``first`` until an open quote or the end; where to go on from."""
    lines = _Lines(ended, first)
    reader = csv.reader(lines, delimiter=delimiter, skipinitialspace=True)
    add_line, add_row = grid.lines.append, grid.rows.append
    done = 0
    try:
        for cells in reader:
            now = reader.line_num
            lines.row_begins = first + now
            if now - done > 1:
                following = ended[first + now] if first + now < len(ended) else ""
                usual = {len(row) for row in grid.rows[-1:]} or {following.count(delimiter) + 1}
                if _runs_away(ended[first + done : first + now], delimiter, usual):
                    break
            grid.count(first + done + 1, cells)
            add_line(first + done + 1)
            add_row(cells)
            done = now
        else:
            return len(ended)
    except (csv.Error, _NeverClosedError):  # the first: a cell beyond the size limit
        pass
    at = first + done
    grid.add(at + 1, ended[at].rstrip("\n").split(delimiter), open_quote=True)
    return at + 1


class _NeverClosedError(Exception):
    """A quoted cell goes on for more lines than any does."""


class _Lines(Iterator[str]):
    """The lines from ``at`` on, without copying them, few of them for any one row."""

    def __init__(self, ended: list[str], at: int) -> None:
        self.row_begins = at
        self._ended, self._at = ended, at

    def __next__(self) -> str:
        at = self._at
        if at >= len(self._ended):
            raise StopIteration
        if at - self.row_begins > MOST_QUOTED_LINES:
            raise _NeverClosedError
        self._at = at + 1
        return self._ended[at]


def _runs_away(swallowed: list[str], delimiter: str, usual_cells: set[int]) -> bool:
    """Whether a row over several lines is an open quote that swallowed its neighbours."""
    if len(swallowed) > MOST_QUOTED_LINES:
        return True
    try:
        strict = csv.reader(swallowed, delimiter=delimiter, skipinitialspace=True, strict=True)
        cells = next(strict)
    except csv.Error:  # the closing quote stands inside a word, or there is none
        return True
    looks_like_rows = any(line.count(delimiter) >= max(len(cells) - 1, 1) for line in swallowed[1:])
    return looks_like_rows and len(cells) not in usual_cells
