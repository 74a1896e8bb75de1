"""Finished films, ready to be copied into a student's site."""

from enum import StrEnum
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.model.filming import Box, MarkLine, MarkRing, Position
from recapgen.model.lesson import ClipFile, View
from recapgen.model.shots import Block


class ImpactFrom(StrEnum):
    NOTES = "notes"
    BALL = "ball"
    SOUND = "sound"
    GUESS = "guess"


class Strike(Struct, frozen=True):
    """When club met ball, in seconds from the first picture of the source clip."""

    at_s: float
    found_in: ImpactFrom


class Moment(Struct, frozen=True):
    """A position of the swing, in seconds from the first picture of the source clip.

    ``stated`` where the coach read it off; else it is estimated from the movement.
    """

    position: Position
    at_s: float
    stated: bool


class Tempo(Struct, frozen=True):
    """How long the swing took back and down, in seconds of life, each give or take so much."""

    back_s: float
    down_s: float
    back_within_s: float
    down_within_s: float


class Travel(Struct, frozen=True):
    """How far a marked patch went from the first still to the strike, in its own widths.

    ``across`` is plus to the right of the picture as it is shown. ``score`` is the least likeness
    on the way, 0 to 1. Where it is not ``steady``, how far it went is not known.
    """

    across: float
    up: float
    score: float
    steady: bool


class ChosenBecause(StrEnum):
    """Why this clip stands for its block."""

    TYPICAL = "typical"  # nearest to the middle of its block
    NEAREST = "nearest"  # nearest of those filmed, yet more than one spread off the middle
    ONLY = "only"  # there are no readings to choose by
    CHOSEN = "chosen"  # the coach's own choice


class UnlikeIn(StrEnum):
    """In what two clips of a pair differ besides the swing."""

    SHAPE = "shape"  # width over height
    VIEW = "view"  # where nobody said from which side: now is how alike the two are, -1 to 1
    SIZE = "size"  # how large things look
    ASIDE = "aside"  # how far to the right they lie, in shares of the picture's height
    HEIGHT = "height"  # how far down, alike
    LEAN = "lean"  # of the horizon, in degrees
    RATE = "rate"  # pictures a second of life
    SHARPNESS = "sharpness"


class Unlike(Struct, frozen=True):
    """Size, place and lean of then count as 1, 0 and 0."""

    what: UnlikeIn
    then: float
    now: float


class FilmSide(Struct, frozen=True):
    """One of the clips in a film; it shows reading ``position`` of the ``of`` in its block.

    ``rank`` is its place among the ``filmed`` shots that could stand for the block, nearest
    to the middle first; None for a mishit, and where there are no readings.
    """

    source_name: str
    block: Block | None
    shot: int | None
    strike: Strike
    chosen_because: ChosenBecause = ChosenBecause.ONLY
    position: int | None = None
    of: int | None = None
    rank: int | None = None
    filmed: int = 0
    moments: tuple[tuple[Position, int], ...] = ()  # with their frames in the film
    estimated: bool = True  # whether any of the moments is
    tempo: Tempo | None = None
    mark: MarkLine | MarkRing | None = None  # in shares of the whole film
    patch: Box | None = None  # the same, where the followed patch was marked
    travel: Travel | None = None
    mirrored: bool = False
    part_only: bool = False  # the recording is damaged, and only what is whole is shown


class Download(Struct, frozen=True):
    """A clip to save: ``file`` is in the cache, has no sound and holds nothing but pictures.

    ``made_of`` is the content of the clip that it was made of (SHA-256).
    """

    file: Path
    size_bytes: int
    fingerprint: str
    block: Block | None
    shot: int | None
    made_of: tuple[str, ...] = ()


class Film(Struct, frozen=True):
    """One video file: two clips side by side with impact on the same frame, or a single clip.

    ``video``, ``poster`` and ``stills`` are files in the cache; the poster shows ``impact_frame``.
    ``fingerprint`` names the content and is used for the published file names. ``made_of`` are
    the contents of the clips that it was made of (SHA-256), as noted when it was.
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
    unlike: tuple[Unlike, ...] = ()  # how then and now were filmed differently
    downloads: tuple[Download, ...] = ()  # clips of this view that the student may save
    made_of: tuple[str, ...] = ()


class FilmedClip(Struct, frozen=True):
    """A clip that can be shown, and what was found in it.

    ``struck_at`` is its strike in seconds of the phone's clock, None where the phone wrote no
    time. ``travel`` is that of the patch that was to be followed, None where none was.
    """

    clip: ClipFile
    struck_at: float | None
    travel: Travel | None = None


class ClipChoice(Struct, frozen=True):
    """A clip, and why it stands for its block; the fields as in ``FilmSide``."""

    clip: ClipFile
    chosen_because: ChosenBecause = ChosenBecause.ONLY
    position: int | None = None
    of: int | None = None
    rank: int | None = None
    filmed: int = 0


class ClipPairing(Struct, frozen=True):
    """What one film shows: before and after, or the only clip there is."""

    view: View | None
    choices: tuple[ClipChoice, ...]

    def explain(self, film: Film) -> Film:
        """``film``, made of these clips or of one of them, with the reasons they were chosen."""
        chosen = {choice.clip.path.name: choice for choice in self.choices}
        return replace(film, sides=tuple(_explained(s, chosen[s.source_name]) for s in film.sides))


def _explained(side: FilmSide, choice: ClipChoice) -> FilmSide:
    return replace(
        side,
        chosen_because=choice.chosen_because,
        position=choice.position,
        of=choice.of,
        rank=choice.rank,
        filmed=choice.filmed,
    )
