"""Finished films, ready to be copied into a student's site."""

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from recapgen.model.lesson import View
from recapgen.model.shots import Block


class ImpactFrom(StrEnum):
    NOTES = "notes"
    SOUND = "sound"
    GUESS = "guess"


@dataclass(frozen=True, slots=True)
class Strike:
    """When club met ball, in seconds from the first picture of the source clip."""

    at_s: float
    found_in: ImpactFrom


@dataclass(frozen=True, slots=True)
class FilmSide:
    """One of the clips in a film. ``nearest_of`` is how many clips there were to choose from."""

    source_name: str
    block: Block | None
    shot: int | None
    strike: Strike


@dataclass(frozen=True, slots=True)
class Film:
    """One video file: two clips side by side with impact on the same frame, or a single clip.

    ``video`` and ``poster`` are files in the cache; the poster shows ``impact_frame``.
    ``fingerprint`` names the content and is used for the published file names.
    """

    view: View | None
    sides: tuple[FilmSide, ...]
    video: Path
    poster: Path
    fingerprint: str
    fps: int
    frames: int
    impact_frame: int
    width: int
    height: int
