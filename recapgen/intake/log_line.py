"""One line of practice.csv: a session, and whether anything hurt."""

import re
from collections.abc import Mapping
from datetime import date

from msgspec import Struct

from recapgen.golf.written_amounts import read_number
from recapgen.intake.days import DayFault, days_meant, read_day
from recapgen.intake.form import DAY_CODES
from recapgen.intake.pain_words import PainSaid, is_no, read_pain
from recapgen.intake.text_file import is_hidden
from recapgen.intake.yaml_map import brief
from recapgen.model.fix import Swap, one_of
from recapgen.model.practice_log import LogEntry
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.source import SourceRef

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
# Of pain a "none" is a no, and a question mark a question.
_UNKNOWN = frozenset({"", "-", "–", "—", "n/a", "na"})


class Row(Struct, frozen=True):
    """The cells of one row, and the column at which each begins (in the row's first line).

    ``written`` are the lines it takes in the file.
    """

    file: str
    line: int
    cells: tuple[str, ...]
    starts: tuple[int, ...]
    written: tuple[str, ...] = ()

    def where(self, position: int) -> SourceRef:
        column = self.starts[position] if position < len(self.starts) else 1
        return SourceRef(self.file, self.line, column)


class LogLine:
    """One line of the log being read, below a heading of ``width`` names."""

    def __init__(
        self, columns: dict[int, str], row: Row, problems: list[Problem], width: int
    ) -> None:
        self._row = row
        self._positions = {name: position for position, name in columns.items()}
        self._problems = problems
        self._width = width
        self._sound = True

    @property
    def day(self) -> str:
        """The day as it was typed."""
        return self._typed("date")

    @property
    def where(self) -> SourceRef:
        return self._place("date")

    @property
    def number(self) -> int:
        """Its first line in the file, from 1."""
        return self._row.line

    @property
    def height(self) -> int:
        """How many lines it takes there."""
        return len(self._row.written)

    @property
    def written(self) -> tuple[str, ...]:
        """These lines as they stand there."""
        return self._row.written

    @property
    def columns(self) -> Mapping[str, int]:
        """The log's words and where each stands in a row."""
        return self._positions

    def dated(self, on: date) -> Swap:
        """The day written so that it can be read."""
        return Swap(self.where, self.day, on.isoformat())

    def entry(self, counted: Mapping[str, date | None]) -> LogEntry | None:
        """The line's values; where any cell is unreadable none but pain, with every problem.

        ``counted`` are the days that a spreadsheet saved as numbers. Pain of a line that is left
        out is not left out with it: without a day it is asked about.
        """
        uneven = any(self._row.cells[self._width :])
        if uneven:
            where = self._row.where(self._width)
            self._problems.append(Problem(Code.LOG_ROW_UNEVEN, where))
        on = self._on(counted)
        if uneven:
            return self._pain_alone(on)
        pain, place = self._pain()
        if on is None:
            if pain:
                self._ask(self._typed("pain") or self._typed("where"))
            return None
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
        if self._sound:
            return entry
        return LogEntry(on, entry.where, pain=True, pain_place=place) if pain else None

    def _pain_alone(self, on: date | None) -> LogEntry | None:
        """Of a line with a cell too many: the place is often the one that was cut in two."""
        cell = self._cell("pain", _UNKNOWN)
        said = PainSaid.NO if cell is None else read_pain(cell).said
        if cell is not None and on is not None and said is PainSaid.YES:
            return LogEntry(
                on, self._row.where(0), pain=True, pain_place=_short(self._cell("where"))
            )
        if cell is not None and said is not PainSaid.NO:
            self._ask(cell)
        return None

    def _on(self, counted: Mapping[str, date | None]) -> date | None:
        if self.day in counted:
            return counted[self.day]
        on = read_day(self.day)
        if isinstance(on, DayFault):
            facts = {"key": "date", "found": brief(self.day)}
            offers = one_of(map(self.dated, days_meant(self.day)))
            self._problems.append(Problem(DAY_CODES[on], self.where, facts, Cost.ROW, offers))
            return None
        return on

    def _ask(self, pain: str) -> None:
        name = "pain" if "pain" in self._positions else "where"
        self._problems.append(
            Problem(Code.LOG_PAIN_OPEN, self._place(name), {"found": brief(pain)})
        )

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
            if cell is None:
                return True, None
            place = None
        if place is not None and is_no(place):
            place = None
        if cell is None:
            return (None, None) if place is None else (True, place)
        written = read_pain(cell)
        if written.said is PainSaid.YES:
            return True, place or _short(written.place)
        if written.said is PainSaid.NO and place is None:
            return False, None
        self._ask(cell if place is None else f"{cell}, {place}")
        return None, None


def _short(place: str | None) -> str | None:
    """A place from the column of pain; one that is a story is no place."""
    fits = place is not None and len(place) <= PLACE_LENGTH and not any(map(is_hidden, place))
    return place if fits else None
