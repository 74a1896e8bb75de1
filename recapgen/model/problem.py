"""Faults in what the coach dropped, as values: all at once, never a traceback."""

from collections.abc import Iterable, Mapping
from typing import Generic, NamedTuple, TypeVar

from msgspec import Struct, field

from recapgen.model.cost import Cost, Severity
from recapgen.model.fix import Fix, Offer
from recapgen.model.problem_codes import Code
from recapgen.model.row_rules import RowRule
from recapgen.model.source import SourceRef

__all__ = ["Checked", "Code", "Cost", "Problem", "Severity", "in_order", "speaks_against"]

T = TypeVar("T")


class Problem(Struct, frozen=True):
    """One fault. ``facts`` fill the sentences of its code; ``found`` is usually among them.

    ``costs`` is given where the fault costs other than its code says by itself: a misspelt
    word costs the clip it describes, or the whole run in coach.yml. ``rule`` is the one that
    rows break where that is the fault. ``offers`` are its mends, ``fixes`` their lines.
    """

    code: Code
    where: SourceRef
    facts: Mapping[str, str] = field(default_factory=dict)
    costs: Cost | None = None
    offers: tuple[Offer, ...] = ()
    fixes: tuple[Fix, ...] = ()
    rule: RowRule | None = None

    @property
    def cost(self) -> Cost:
        return self.costs or self.code.cost

    @property
    def severity(self) -> Severity:
        quiet = self.cost in (Cost.NOTHING, Cost.ROW)
        return Severity.WARNING if quiet else Severity.ERROR


class Checked(NamedTuple, Generic[T]):
    """A stage's value, None where nothing usable was found, with the problems met."""

    value: T | None
    problems: tuple[Problem, ...]


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """``problems`` by file, line and column."""
    return tuple(
        sorted(
            problems,
            key=lambda p: (p.where.file, p.where.line or 0, p.where.column or 0, p.code.slug),
        )
    )


def speaks_against(problems: Iterable[Problem]) -> bool:
    """Whether one of ``problems`` is an error."""
    return any(problem.severity is Severity.ERROR for problem in problems)
