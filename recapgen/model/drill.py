"""A drill of the coach's own library, to be named in a plan."""

from dataclasses import dataclass
from pathlib import Path

from recapgen.model.lesson import DrillStep
from recapgen.model.source import SourceRef


@dataclass(frozen=True, slots=True)
class Drill:
    """``step`` is what a plan takes over where it says nothing else; ``words`` tell how."""

    name: str
    step: DrillStep
    where: SourceRef


@dataclass(frozen=True, slots=True)
class Demonstration:
    """A drill shown: ``name`` is the coach's file, never published; ``video`` None for a picture.

    ``picture`` and ``video`` are files in the cache; ``fingerprint`` names the content.
    """

    name: str
    picture: Path
    video: Path | None
    fingerprint: str
