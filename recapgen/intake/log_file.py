"""practice.csv: what the student has hit lately, one line a session."""

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path

from recapgen.intake.folder import StudentPaths
from recapgen.intake.log_copies import CopiedLine, entries_once
from recapgen.intake.log_line import LogLine, Row
from recapgen.intake.near_words import nearest
from recapgen.intake.serial_days import counted_day, counts_from_1900
from recapgen.intake.text_file import file_of, read_text
from recapgen.intake.yaml_map import brief, plain_key
from recapgen.model.fix import Swap, certain, one_of
from recapgen.model.practice_log import PracticeLog
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
MOST_LINES_A_ROW = 5


def read_log(root: Path, paths: StudentPaths) -> Checked[PracticeLog]:
    """The log in date order; each faulty line is left out with its problem, but for its pain.

    The value is an empty log where none was dropped, None where the file is no log.
    """
    if paths.log_file is None:
        return Checked(PracticeLog(), ())
    text, problems = read_text(root, paths.log_file)
    if text is None:
        return Checked(None, problems)
    return _read(text, file_of(root, paths.log_file), [lesson.on for lesson in paths.lessons])


def _read(text: str, file: str, lessons: Sequence[date]) -> Checked[PracticeLog]:
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
    lines: list[LogLine] = []
    copies: list[int] = []
    copy = 0
    for row in rows:
        if _is_heading(row):  # a text from the student's page, pasted below what was there
            heading, columns = row, _columns(row, problems)
            copy += 1
            continue
        lines.append(LogLine(columns, row, problems, width=len(heading.cells)))
        copies.append(copy)
    counted = _counted_days(lines, lessons, problems)
    readable = [
        CopiedLine(copy, line, entry)
        for copy, line in zip(copies, lines, strict=True)
        if (entry := line.entry(counted)) is not None
    ]
    entries = entries_once(readable, problems)
    entries.sort(key=lambda entry: entry.on)
    return Checked(PracticeLog(tuple(entries), kept=True), tuple(problems))


def _counted_days(
    lines: Sequence[LogLine], lessons: Sequence[date], problems: list[Problem]
) -> Mapping[str, date | None]:
    """The days that a spreadsheet saved as numbers, by their cells; None where that is asked."""
    days = {line: day for line in lines if (day := counted_day(line.day)) is not None}
    if not days:
        return {}
    first, settled = next(iter(days)), counts_from_1900(tuple(days.values()), lessons)
    ways: tuple[tuple[Swap, ...], ...] = (
        tuple(line.dated(day.from_1900) for line, day in days.items()),
        tuple(line.dated(day.from_1904) for line, day in days.items()),
    )
    facts = {"found": first.day, "lines": str(len(days)), "day": days[first].from_1900.isoformat()}
    facts |= {} if settled else {"other": days[first].from_1904.isoformat()}
    code = Code.LOG_DAYS_COUNTED if settled else Code.LOG_DAYS_OPEN
    offers = certain(*ways[0]) if settled else one_of(ways)
    problems.append(Problem(code, first.where, facts, offers=offers))
    return {line.day: day.from_1900 if settled else None for line, day in days.items()}


def _rows(text: str, file: str, problems: list[Problem]) -> Iterator[Row]:
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
            yield Row(file, at + 1, cells, starts, tuple(lines[at : at + (taken or 1)]))
        at += taken or 1


def _is_heading(row: Row) -> bool:
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


def _columns(heading: Row, problems: list[Problem]) -> dict[int, str]:
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
