"""A table once it was read: what the tests look at."""

from collections.abc import Sequence

from recapgen.intake.yaml_words import in_line, scalar
from recapgen.model.fix import Put
from recapgen.model.people import Coach, ColumnRule
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.shots import ShotTable
from recapgen.model.source import SourceRef

UNSAID = Coach("Ines Falk", units_unsaid=(Dimension.SPEED, Dimension.LENGTH))


def table_of(checked: Checked[ShotTable], *expected: Code) -> ShotTable:
    """The table, once the problems are the expected ones."""
    assert [p.code for p in checked.problems] == list(expected), checked.problems
    assert checked.value is not None
    return checked.value


def column(table: ShotTable, quantity: Quantity) -> list[float | None]:
    found = (shot.readings.get(quantity) for shot in table.shots)
    return [None if value is None else round(value, 3) for value in found]


def rule(heading: str, quantity: Quantity | None, **more: str | None) -> ColumnRule:
    return ColumnRule(
        heading,
        quantity,
        more.get("role"),
        more.get("unit"),
        more.get("plus"),
        SourceRef("coach.yml"),
    )


def lines_offered(problem: Problem) -> list[str]:
    """The ways to mend it, each as the lines that stand below the key of the file."""
    return [
        "; ".join(
            f"{scalar(put.keys[-1])}: {in_line(put.value)}"
            for put in offer.changes
            if isinstance(put, Put)
        )
        for offer in problem.offers
    ]


def rows(heading: str, values: Sequence[object]) -> str:
    return "\n".join([heading, *map(str, values)])
