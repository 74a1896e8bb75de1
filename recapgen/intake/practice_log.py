"""practice.csv: what the student has hit lately, one line a session."""

import csv
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from recapgen.golf.units import read_number
from recapgen.intake.days import DayFault, days_meant, read_day
from recapgen.intake.folder import StudentPaths
from recapgen.intake.form import DAY_CODES
from recapgen.intake.near_words import nearest
from recapgen.intake.pain_words import PainSaid, is_no, read_pain
from recapgen.intake.text_file import file_of, is_hidden, read_text
from recapgen.intake.yaml_map import brief, plain_key
from recapgen.model.fix import Swap, one_of
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.problem import Checked, Code, Cost, Problem
from recapgen.model.source import SourceRef

_HEADINGS = {
    "date": "date", "day": "date", "when": "date", "on": "date",
    "balls": "balls", "ball": "balls", "balls hit": "balls", "number of balls": "balls",
    "minutes": "minutes", "min": "minutes", "mins": "minutes", "duration": "minutes",
    "effort": "effort", "effort (0 10)": "effort", "how hard": "effort", "rpe": "effort",
    "rounds": "rounds", "round": "rounds", "rounds played": "rounds",
    "pain": "pain", "sore": "pain", "hurt": "pain", "any pain": "pain", "pain?": "pain",
    "pain (0 10)": "pain",
    "where": "where", "place": "where", "pain where": "where",
    "datum": "date", "fecha": "date", "日付": "date", "날짜": "date",
    "bälle": "balls", "bolas": "balls", "balles": "balls", "球数": "balls", "공": "balls",
    "minuten": "minutes", "minutos": "minutes", "分": "minutes", "분": "minutes",
    "anstrengung": "effort", "esfuerzo": "effort", "きつさ": "effort", "강도": "effort",
    "runden": "rounds", "rondas": "rounds", "parcours": "rounds", "ラウンド": "rounds",
    "라운드": "rounds",
    "schmerz": "pain", "schmerzen": "pain", "dolor": "pain", "douleur": "pain",
    "douleurs": "pain", "痛み": "pain", "통증": "pain",
    "wo": "where", "dónde": "where", "donde": "where", "où": "where", "場所": "where",
    "부위": "where",
    "score": "score", "miss": "miss", "misses": "miss", "miss count": "miss",
}  # fmt: skip
_KNOWN = tuple(dict.fromkeys(_HEADINGS.values()))
_DELIMITERS = ",;\t|"
_BLANK = frozenset({"", "-", "–", "—", "n/a", "na", "none", "?"})
_LIMITS: Mapping[str, tuple[int, int]] = {
    "balls": (0, 3000),
    "minutes": (0, 1440),
    "rounds": (0, 10),
    "score": (0, 250),
    "miss": (0, 3000),
}
HIGHEST_EFFORT = 10
MOST_LINES_A_ROW = 5
PLACE_LENGTH = 120
# Of pain a "none" is a no, and a question mark a question.
_UNKNOWN = frozenset({"", "-", "–", "—", "n/a", "na"})


def read_log(root: Path, paths: StudentPaths) -> Checked[PracticeLog]:
    """The log in date order; each faulty line is left out with its problem.

    The value is an empty log where none was dropped, None where the file is no log.
    """
    if paths.log_file is None:
        return Checked(PracticeLog(), ())
    text, problems = read_text(root, paths.log_file)
    if text is None:
        return Checked(None, problems)
    return _read(text, file_of(root, paths.log_file))


def _read(text: str, file: str) -> Checked[PracticeLog]:
    problems: list[Problem] = []
    rows = _rows(text, file, problems)
    heading = next(rows, None)
    if heading is None:
        return Checked(PracticeLog(kept=True), tuple(problems))
    columns = _columns(heading, problems)
    if "date" not in columns.values():
        facts = {"found": brief(", ".join(heading.cells)), "known": ", ".join(_KNOWN[1:])}
        missing = Problem(Code.LOG_WITHOUT_DATES, heading.where(0), facts)
        return Checked(None, (*problems, missing))
    entries = []
    for row in rows:
        if _is_heading(row):  # a text from the student's page, pasted below what was there
            heading, columns = row, _columns(row, problems)
            continue
        if any(row.cells[len(heading.cells) :]):
            problems.append(Problem(Code.LOG_ROW_UNEVEN, row.where(len(heading.cells))))
            continue
        entry = _Line(columns, row, problems).entry()
        if entry is not None:
            entries.append(entry)
    entries.sort(key=lambda entry: entry.on)
    return Checked(PracticeLog(tuple(entries), kept=True), tuple(problems))


@dataclass(frozen=True, slots=True)
class _Row:
    """The cells of one row, and the column at which each begins (in the row's first line)."""

    file: str
    line: int
    cells: tuple[str, ...]
    starts: tuple[int, ...]

    def where(self, position: int) -> SourceRef:
        column = self.starts[position] if position < len(self.starts) else 1
        return SourceRef(self.file, self.line, column)


def _rows(text: str, file: str, problems: list[Problem]) -> Iterator[_Row]:
    """Each row that is not blank. A quote that is never closed costs its own line, no more."""
    lines = text.split("\n")
    first = next((line for line in lines if line.strip()), "")
    delimiter = max(_DELIMITERS, key=first.count)
    at = 0
    while at < len(lines):
        delimiter = _separator(lines[at], delimiter)
        taken = _lines_of_a_row(lines, at)
        cells = _cells("\n".join(lines[at : at + taken]), delimiter) if taken else None
        starts = _starts(lines[at], delimiter)
        if cells is None:
            where = SourceRef(file, at + 1, lines[at].find('"') + 1 or 1)
            facts = {"found": brief(lines[at])}
            problems.append(Problem(Code.QUOTE_NOT_CLOSED, where, facts, Cost.ROW))
        elif any(cells):
            yield _Row(file, at + 1, cells, starts)
        at += taken or 1


def _is_heading(row: _Row) -> bool:
    names = {_HEADINGS.get(plain_key(cell)) for cell in row.cells if cell}
    return "date" in names and None not in names


def _separator(line: str, before: str) -> str:
    """What parts the cells of ``line``; a line of headings may bring another than ``before``."""
    own = max(_DELIMITERS, key=line.count)
    first = line.partition(own)[0].strip().strip('"')
    return own if own in line and _HEADINGS.get(plain_key(first)) else before


def _lines_of_a_row(lines: list[str], at: int) -> int | None:
    """How many lines the row takes that begins at ``at``; None where its quote is not closed."""
    quotes = 0
    for taken, line in enumerate(lines[at : at + MOST_LINES_A_ROW], 1):
        quotes += line.count('"')
        if quotes % 2 == 0:
            return taken
    return None


def _cells(row: str, delimiter: str) -> tuple[str, ...] | None:
    try:
        cells = next(csv.reader(io.StringIO(row, newline=""), delimiter=delimiter), [])
    except csv.Error:  # a cell beyond the csv module's own limit
        return None
    return tuple(" ".join(cell.split()) for cell in cells)


def _starts(line: str, delimiter: str) -> tuple[int, ...]:
    """The column, from 1, at which each cell of a line begins; quoted separators are none."""
    starts, quoted = [1], False
    for column, character in enumerate(line, 1):
        if character == '"':
            quoted = not quoted
        elif character == delimiter and not quoted:
            starts.append(column + 1)
    return tuple(starts)


def _columns(heading: _Row, problems: list[Problem]) -> dict[int, str]:
    """Position -> the log's own word for it."""
    columns: dict[int, str] = {}
    for position, cell in enumerate(heading.cells):
        name = _HEADINGS.get(plain_key(cell))
        facts = {"found": brief(cell), "known": ", ".join(_KNOWN)}
        if name is None and cell:
            near = nearest(plain_key(cell), _KNOWN)
            code = Code.LOG_COLUMN_UNKNOWN if near is None else Code.LOG_COLUMN_MISSPELT
            facts |= {} if near is None else {"near": near}
            where = heading.where(position)
            offers = () if near is None else one_of([Swap(where, cell, near)])
            problems.append(Problem(code, where, facts, offers=offers))
        elif name in columns.values():
            problems.append(Problem(Code.LOG_COLUMN_TWICE, heading.where(position), facts))
        elif name is not None:
            columns[position] = name
    return columns


class _Line:
    """One line of the log being read."""

    def __init__(self, columns: dict[int, str], row: _Row, problems: list[Problem]) -> None:
        self._row = row
        self._positions = {name: position for position, name in columns.items()}
        self._problems = problems
        self._sound = True

    def entry(self) -> LogEntry | None:
        """The line's values; None, with every problem, where any cell is unreadable."""
        day = self._typed("date")
        on = read_day(day)
        if isinstance(on, DayFault):
            facts = {"key": "date", "found": brief(day)}
            where = self._place("date")
            offers = one_of(Swap(where, day, meant.isoformat()) for meant in days_meant(day))
            self._problems.append(Problem(DAY_CODES[on], where, facts, Cost.ROW, offers))
            return None
        pain, place = self._pain()
        entry = LogEntry(
            on=on,
            where=self._row.where(0),
            balls=self._count("balls"),
            minutes=self._count("minutes"),
            effort=self._effort(),
            rounds=self._count("rounds"),
            pain=pain,
            pain_place=place,
            score=self._count("score"),
            miss_count=self._count("miss"),
        )
        return entry if self._sound else None

    def _place(self, name: str) -> SourceRef:
        return self._row.where(self._positions[name])

    def _typed(self, name: str) -> str:
        position = self._positions.get(name, len(self._row.cells))
        return self._row.cells[position] if position < len(self._row.cells) else ""

    def _cell(self, name: str, blank: frozenset[str] = _BLANK) -> str | None:
        cell = self._typed(name)
        return None if cell.casefold() in blank else cell

    def _fault(self, name: str, cell: str, expected: str) -> None:
        facts = {"column": name, "found": brief(cell), "expected": expected}
        self._problems.append(Problem(Code.LOG_CELL_UNREADABLE, self._place(name), facts))
        self._sound = False

    def _count(self, name: str) -> int | None:
        cell = self._cell(name)
        if cell is None:
            return None
        least, most = _LIMITS[name]
        match = re.fullmatch(r"(\d{1,6})(?:[.,]0)?\s*(?:balls?|min(?:utes|s)?|rounds?)?", cell)
        if match is None or not least <= int(match[1]) <= most:
            self._fault(name, cell, f"{least}-{most}")
            return None
        return int(match[1])

    def _effort(self) -> float | None:
        cell = self._cell("effort")
        if cell is None:
            return None
        value = read_number(cell.partition("/")[0])
        if value is None or not 0 <= value <= HIGHEST_EFFORT:
            self._fault("effort", cell, f"0-{HIGHEST_EFFORT}")
            return None
        return value

    def _pain(self) -> tuple[bool | None, str | None]:
        """Whether it hurt, and where; words in the pain column tell where."""
        cell, place = self._cell("pain", _UNKNOWN), self._cell("where")
        if place is not None and (len(place) > PLACE_LENGTH or any(map(is_hidden, place))):
            self._fault("where", place, f"1-{PLACE_LENGTH}")
            return None, None
        if place is not None and is_no(place):
            place = None
        if cell is None:
            return (None, None) if place is None else (True, place)
        written = read_pain(cell)
        if written.said is PainSaid.YES:
            return True, place or _short(written.place)
        if written.said is PainSaid.NO and place is None:
            return False, None
        facts = {"found": brief(cell if place is None else f"{cell}, {place}")}
        self._problems.append(Problem(Code.LOG_PAIN_OPEN, self._place("pain"), facts))
        return None, None


def _short(place: str | None) -> str | None:
    """A place from the column of pain; one that is a story is no place."""
    fits = place is not None and len(place) <= PLACE_LENGTH and not any(map(is_hidden, place))
    return place if fits else None
