"""practice.csv: what the student has hit lately, one line a session."""

import csv
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from recapgen.golf.units import read_number
from recapgen.intake.days import DayFault, read_day
from recapgen.intake.folder import StudentPaths
from recapgen.intake.form import DAY_CODES, YES_NO
from recapgen.intake.near_words import nearest
from recapgen.intake.text_file import file_of, is_hidden, read_text
from recapgen.intake.yaml_map import brief, plain_key
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.problem import Checked, Code, Cost, Problem
from recapgen.model.source import SourceRef

_HEADINGS = {
    "date": "date", "day": "date", "when": "date", "on": "date",
    "balls": "balls", "ball": "balls", "balls hit": "balls", "number of balls": "balls",
    "minutes": "minutes", "min": "minutes", "mins": "minutes", "duration": "minutes",
    "effort": "effort", "effort (0 10)": "effort", "how hard": "effort", "rpe": "effort",
    "rounds": "rounds", "round": "rounds", "rounds played": "rounds",
    "pain": "pain", "sore": "pain", "hurt": "pain",
    "where": "where", "place": "where", "pain where": "where",
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
PLACE_LENGTH = 120
_NO_PAIN = frozenset({"0", "nothing", "no pain"})


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
    rows = _rows(text)
    heading = next(rows, None)
    if heading is None:
        return Checked(PracticeLog(kept=True), ())
    line, cells = heading
    problems: list[Problem] = []
    columns = _columns(cells, SourceRef(file, line, 1), problems)
    if "date" not in columns.values():
        facts = {"found": brief(", ".join(cells)), "known": ", ".join(_KNOWN)}
        missing = Problem(Code.LOG_WITHOUT_DATES, SourceRef(file, line, 1), facts)
        return Checked(None, (*problems, missing))
    entries = []
    for line, cells in rows:
        entry = _Line(columns, cells, SourceRef(file, line, 1), problems).entry()
        if entry is not None:
            entries.append(entry)
    entries.sort(key=lambda entry: entry.on)
    return Checked(PracticeLog(tuple(entries), kept=True), tuple(problems))


def _rows(text: str) -> Iterator[tuple[int, list[str]]]:
    """Each row that is not blank, with the line on which it begins."""
    first = next((line for line in text.split("\n") if line.strip()), "")
    delimiter = max(_DELIMITERS, key=first.count)
    reader = csv.reader(text.split("\n"), delimiter=delimiter, quoting=csv.QUOTE_MINIMAL)
    start = 1
    while True:
        try:
            cells = next(reader, None)
        except csv.Error:  # a cell over the csv module's own limit: told as a row that is uneven
            cells = []
        if cells is None:
            return
        if any(cell.strip() for cell in cells):
            yield start, [cell.strip() for cell in cells]
        start = reader.line_num + 1


def _columns(cells: list[str], where: SourceRef, problems: list[Problem]) -> dict[int, str]:
    """Position -> the log's own word for it."""
    columns: dict[int, str] = {}
    for position, cell in enumerate(cells):
        name = _HEADINGS.get(plain_key(cell))
        facts = {"found": brief(cell) or '""', "known": ", ".join(_KNOWN)}
        if name is None:
            facts["near"] = nearest(plain_key(cell), _KNOWN) or _KNOWN[0]
            if cell:
                problems.append(Problem(Code.LOG_COLUMN_UNKNOWN, where, facts))
        elif name in columns.values():
            problems.append(Problem(Code.LOG_COLUMN_TWICE, where, facts))
        else:
            columns[position] = name
    return columns


class _Line:
    """One line of the log being read."""

    def __init__(
        self, columns: dict[int, str], cells: list[str], where: SourceRef, problems: list[Problem]
    ) -> None:
        self._where = where
        self._problems = problems
        self._even = len(cells) == len(columns) or not any(cells[max(columns) + 1 :])
        self._cells = {name: cells[i] for i, name in columns.items() if i < len(cells)}
        self._sound = True

    def entry(self) -> LogEntry | None:
        """The line's values; None, with every problem, where any cell is unreadable."""
        on = read_day(self._cells.get("date", ""))
        if isinstance(on, DayFault):
            facts = {"key": "date", "found": brief(self._cells.get("date", "")) or '""'}
            self._problems.append(Problem(DAY_CODES[on], self._where, facts, Cost.ROW))
            return None
        pain, place = self._pain()
        entry = LogEntry(
            on=on,
            where=self._where,
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

    def _cell(self, name: str) -> str | None:
        cell = self._cells.get(name, "")
        return None if cell.casefold() in _BLANK else cell

    def _fault(self, name: str, cell: str, expected: str) -> None:
        facts = {"column": name, "found": brief(cell), "expected": expected}
        self._problems.append(Problem(Code.LOG_CELL_UNREADABLE, self._where, facts))
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
        cell, place = self._cell("pain"), self._cell("where")
        if place is not None and (len(place) > PLACE_LENGTH or any(map(is_hidden, place))):
            self._fault("where", place, f"1-{PLACE_LENGTH}")
            return None, None
        if cell is None:
            return (None, None) if place is None else (True, place)
        plain = cell.casefold()
        if plain in YES_NO or plain in _NO_PAIN:
            return YES_NO.get(plain, False), place
        if plain.isdigit():
            return True, place
        self._fault("pain", cell, "yes, no")
        return None, None
