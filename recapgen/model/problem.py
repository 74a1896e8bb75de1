"""Faults in what the coach dropped, as values: all at once, never a traceback."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum, StrEnum
from typing import Generic, NamedTuple, TypeVar

from recapgen.model.source import SourceRef

T = TypeVar("T")


class Severity(StrEnum):
    """An error holds something back; a warning is published, but wants a look."""

    ERROR = "error"
    WARNING = "warning"


class Cost(StrEnum):
    """What a fault costs. A fault stays where it is: each costs no more than it must."""

    NOTHING = "nothing"
    ROW = "row"  # that row is left out, shown with the reason
    CLIP = "clip"
    CASE = "case"
    STUDENT = "student"  # the student's last good site stays up
    RUN = "run"


class Code(Enum):
    """Every problem the tool can report: its name in the README, and what it costs.

    The sentences (found, expected, fix) are in ``words``, under ``problem.<name>``.
    """

    slug: str
    cost: Cost

    def __init__(self, slug: str, cost: Cost) -> None:
        self.slug = slug
        self.cost = cost

    # the folder
    FOLDER_MISSING = ("folder-missing", Cost.RUN)


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault. ``facts`` fill the sentences of its code; ``found`` is usually among them."""

    code: Code
    where: SourceRef
    facts: Mapping[str, str] = field(default_factory=dict)

    @property
    def severity(self) -> Severity:
        quiet = self.code.cost in (Cost.NOTHING, Cost.ROW)
        return Severity.WARNING if quiet else Severity.ERROR


class Checked(NamedTuple, Generic[T]):
    """A stage's value, None where nothing usable was found, with the problems met."""

    value: T | None
    problems: tuple[Problem, ...]
