"""Problems of one shots file, each with its place; many of a kind are capped and counted."""

from collections import Counter

from recapgen.intake.table.text import Grid
from recapgen.model.fix import Offer
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.row_rules import RowRule
from recapgen.model.source import SourceRef

MOST_OF_A_KIND = 12
LONGEST_QUOTE = 60


def brief(text: str) -> str:
    """A cell short enough for a sentence, without what nobody can see."""
    shown = "".join(c if c.isprintable() else " " for c in " ".join(text.split()))
    return shown if len(shown) <= LONGEST_QUOTE else shown[: LONGEST_QUOTE - 1] + "…"


class Report:
    """Collects the problems of ``file``, or of one of the sheets that it has."""

    def __init__(self, file: str, grid: Grid, sheet: str = "") -> None:
        self.file = file
        self.sheet = sheet
        self.grid = grid
        self._found: list[Problem] = []
        self._counts: Counter[Code] = Counter()
        self._last: dict[Code, SourceRef] = {}

    def at(self, row: int, cell: int | None = None) -> SourceRef:
        return SourceRef(self.file, *self.grid.place(row, cell), self.sheet)

    def add(
        self,
        code: Code,
        row: int | None = None,
        cell: int | None = None,
        offers: tuple[Offer, ...] = (),
        /,
        *,
        costs: Cost | None = None,
        rule: RowRule | None = None,
        **facts: str,
    ) -> None:
        self._counts[code] += 1
        if self._counts[code] > MOST_OF_A_KIND:
            return
        where = SourceRef(self.file, sheet=self.sheet) if row is None else self.at(row, cell)
        self._last[code] = where
        self._found.append(Problem(code, where, facts, costs, offers, rule=rule))

    def problems(self) -> tuple[Problem, ...]:
        more = [
            Problem(Code.SHOTS_MORE, self._last[code], {"count": str(count - MOST_OF_A_KIND)})
            for code, count in self._counts.items()
            if count > MOST_OF_A_KIND
        ]
        return (*self._found, *more)
