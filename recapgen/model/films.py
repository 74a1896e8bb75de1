"""Finished films, ready to be copied into a student's site."""

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from recapgen.model.filming import Line, Position, Ring
from recapgen.model.lesson import View
from recapgen.model.shots import Block


class ImpactFrom(StrEnum):
    NOTES = "notes"
    BALL = "ball"
    SOUND = "sound"
    GUESS = "guess"


@dataclass(frozen=True, slots=True)
class Strike:
    """When club met ball, in seconds from the first picture of the source clip."""

    at_s: float
    found_in: ImpactFrom


@dataclass(frozen=True, slots=True)
class Moment:
    """A position of the swing, in seconds from the first picture of the source clip.

    ``stated`` where the coach read it off; else it is estimated from the movement.
    """

    position: Position
    at_s: float
    stated: bool


@dataclass(frozen=True, slots=True)
class Tempo:
    """How long the swing took back and down, in seconds of life, each give or take so much."""

    back_s: float
    down_s: float
    back_within_s: float
    down_within_s: float


class Standing(StrEnum):
    """Why this clip stands for its block."""

    TYPICAL = "typical"  # nearest to the middle of its block
    NEAREST = "nearest"  # nearest of those filmed, yet more than one spread off the middle
    ONLY = "only"  # there are no readings to choose by
    CHOSEN = "chosen"  # the coach's own choice


@dataclass(frozen=True, slots=True)
class FilmSide:
    """One of the clips in a film; it shows reading ``position`` of the ``of`` in its block.

    ``rank`` is its place among the ``filmed`` shots that could stand for the block, nearest
    to the middle first; None for a mishit, and where there are no readings.
    """

    source_name: str
    block: Block | None
    shot: int | None
    strike: Strike
    standing: Standing = Standing.ONLY
    position: int | None = None
    of: int | None = None
    rank: int | None = None
    filmed: int = 0
    moments: tuple[tuple[Position, int], ...] = ()  # with their frames in the film
    estimated: bool = True  # whether any of the moments is
    tempo: Tempo | None = None
    mark: Line | Ring | None = None  # in shares of the whole film
    mirrored: bool = False
    part_only: bool = False  # the recording is damaged, and only what is whole is shown


@dataclass(frozen=True, slots=True)
class Film:
    """One video file: two clips side by side with impact on the same frame, or a single clip.

    ``video``, ``poster`` and ``stills`` are files in the cache; the poster shows ``impact_frame``.
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
    stills: tuple[Path, ...] = ()  # a strip of pictures for each side, at ``positions``
    positions: tuple[Position, ...] = ()
