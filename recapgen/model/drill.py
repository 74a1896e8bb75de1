"""A drill of the coach's own library, to be named in a plan."""

from dataclasses import dataclass

from recapgen.model.lesson import DrillStep
from recapgen.model.source import SourceRef


@dataclass(frozen=True, slots=True)
class Drill:
    """``step`` is what a plan takes over where it says nothing else; ``words`` tell how."""

    name: str
    step: DrillStep
    where: SourceRef
