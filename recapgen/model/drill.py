"""A drill of the coach's own library, to be named in a plan."""

from pathlib import Path

from msgspec import Struct

from recapgen.model.lesson import DrillStep
from recapgen.model.source import SourceRef


class Drill(Struct, frozen=True):
    """``step`` is what a plan takes over where it says nothing else; ``words`` tell how."""

    name: str
    step: DrillStep
    where: SourceRef


class Demonstration(Struct, frozen=True):
    """A drill shown: ``name`` is the coach's file, never published; ``video`` None for a picture.

    ``picture`` and ``video`` are files in the cache; ``fingerprint`` names the content.
    """

    name: str
    picture: Path
    video: Path | None
    fingerprint: str
