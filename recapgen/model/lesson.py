"""One lesson as the coach wrote it down, checked."""

from datetime import date, datetime, time
from enum import StrEnum
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.model.clock_marks import TimedBlock, TimedMark
from recapgen.model.filled import FilledKey
from recapgen.model.filming import AS_FILMED, Directions
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, ShotTable
from recapgen.model.source import SourceRef


class Direction(StrEnum):
    HIGHER = "higher"
    LOWER = "lower"
    WINDOW = "window"
    ZERO = "zero"  # square, straight: the nearer the better, from either side


class Want(Struct, frozen=True):
    """What the declared number should do; a window has both ends, in inside units.

    Higher and lower have no end. "Less open" ends at square: that is ZERO.
    """

    direction: Direction
    low: float | None = None
    high: float | None = None


class GuardKind(StrEnum):
    """Of the guarded number: its level, or its spread."""

    LEVEL = "level"
    SPREAD = "spread"


class Guard(Struct, frozen=True):
    """``must not lose:`` what the change may not cost, and by how much (inside units)."""

    quantity: Quantity
    kind: GuardKind
    margin: float
    where: SourceRef


class Declaration(Struct, frozen=True):
    """The one number, as the notes state it.

    ``smallest_change`` is the smallest that is worth having, as the notes' key ``matters`` says;
    ``stated`` is the coach's word that it was chosen before the after-shots.
    """

    quantity: Quantity
    want: Want
    smallest_change: float | None
    guard: Guard | None
    stated: bool
    where: SourceRef
    noted_s: int | None = None  # when it was noted on a phone, in seconds after midnight

    @property
    def judged(self) -> tuple[Quantity, ...]:
        """The number and the guarded one."""
        return (self.quantity, *((self.guard.quantity,) if self.guard else ()))

    @property
    def sided(self) -> tuple[Quantity, ...]:
        """Those of the judged that are another number once left and right are exchanged."""
        level = self.guard is not None and self.guard.kind is GuardKind.LEVEL
        return self.judged if level else (self.quantity,)

    @property
    def in_clips(self) -> tuple[Quantity, ...]:
        """Those of the judged that are read from clips."""
        return tuple(quantity for quantity in self.judged if quantity.in_clips)


class Seal(Struct, frozen=True):
    """seal.json: the declaration fixed before the after-shots, with its time."""

    quantity: Quantity
    want: Want
    smallest_change: float | None
    guard: Guard | None
    planned_before: int | None
    planned_after: int | None
    sealed_at: datetime
    where: SourceRef
    earlier_at: tuple[datetime, ...] = ()  # when the seals it replaced were made, oldest first


MOST_PLANNED = 1000


class Planned(Struct, frozen=True):
    """``planned:`` how many balls are meant for each block."""

    before: int | None = None
    after: int | None = None


class IntentKind(StrEnum):
    """What an intent asks of the body; drives the safety notes."""

    WRIST = "more wrist action"
    STEEPER = "steeper strike"
    ROTATION = "more rotation"
    SIDE_BEND = "more side bend"
    LEAD_SIDE = "more lead-side pressure"
    BACKSWING = "longer or wider backswing"
    SPEED = "more speed"
    GRIP = "firmer grip"
    POSTURE = "posture"
    BALANCE = "balance"
    SETUP = "aim or setup"
    SHORT_GAME = "short game"
    PUTTING = "putting"


class Swing(StrEnum):
    """How the balls of a block were swung; only like is compared with like."""

    REHEARSAL = "rehearsal"
    HALF = "half swing"
    PART = "part swing"
    FULL = "full swing"


class BlockSwing(Struct, frozen=True):
    block: Block
    swing: Swing
    where: SourceRef


class Surface(StrEnum):
    MAT = "mat"
    GRASS = "grass"
    TEE = "tee"
    FIRM = "firm ground"


class Wind(Struct, frozen=True):
    """``from_deg`` is where it comes from; ``height_m`` the height it was quoted for."""

    speed_mps: float
    from_deg: float
    height_m: float


class Conditions(Struct, frozen=True):
    surface: Surface | None = None
    indoors: bool | None = None
    ball: str | None = None
    balls: tuple[tuple[Block, str], ...] = ()  # where it differed from block to block
    temperature_c: float | None = None
    humidity_percent: float | None = None
    pressure_hpa: float | None = None
    pressure_at_sea_level: bool = False
    wind: Wind | None = None
    target_deg: float | None = None
    altitude_m: float | None = None
    blocks: tuple[tuple[Block, "Conditions"], ...] = ()  # what was other in one block, all told


def conditions_in(
    conditions: Conditions, block: Block | None, place_altitude_m: float | None = None
) -> Conditions:
    """The conditions of one block; the closing block, where nothing is said, is as the after.

    ``place_altitude_m`` holds where the notes give no altitude of their own.
    """
    told = dict(conditions.blocks)
    fallback = told.get(Block.AFTER) if block is Block.CLOSING else None
    found = (told.get(block) if block is not None else None) or fallback or conditions
    altitude_m = place_altitude_m if found.altitude_m is None else found.altitude_m
    return replace(found, blocks=(), altitude_m=altitude_m)


class View(StrEnum):
    FACE_ON = "face on"
    DOWN_THE_LINE = "down the line"


class ClipFile(Struct, frozen=True):
    """A film in the lesson's folder and what is known of it.

    From a line under ``clips:`` or from a natural file name ("face on before shot 12.mov").
    ``impact_s`` is seconds from the first picture, where the coach gave it. ``beside`` names the
    other clips of a folder whose notes list none.
    """

    path: Path
    where: SourceRef
    view: View | None
    block: Block | None
    shot: int | None
    impact_s: float | None
    impact_where: SourceRef  # where a line for the impact time would be written
    chosen: bool = False  # the coach wants this one shown
    directions: Directions = AS_FILMED
    beside: tuple[str, ...] = ()


class PracticeOrder(StrEnum):
    """Blocked: the same shot again and again. Varied: a new club or target every ball."""

    BLOCKED = "blocked"
    VARIED = "varied"


class DrillStep(Struct, frozen=True):
    """One line of the practice plan; ``balls`` is None for rehearsals without a ball.

    ``balls`` and ``times`` are those of one set. ``speed_percent`` is the share of the
    student's full speed; ``weeks`` the first and last week of the plan in which the step is
    due, None for all. ``drill`` names the drill it was taken from and ``words`` (Markdown,
    hostile until escaped) is what that drill's file says.
    """

    what: str
    balls: int | None
    times: int | None
    sets: int | None = None
    rest_s: int | None = None
    club: str | None = None
    speed_percent: int | None = None
    right_when: str | None = None
    stop_when: str | None = None
    way: PracticeOrder | None = None
    weeks: tuple[int, int] | None = None
    drill: str | None = None
    words: str = ""
    show: str | None = None  # a picture or clip of drills/, from the lessons folder

    @property
    def balls_in_all(self) -> int | None:
        """Over all sets."""
        return None if self.balls is None else self.balls * (self.sets or 1)


class Practice(Struct, frozen=True):
    """``test`` is the coach's own form of the test of what stuck, where there is one."""

    sessions_per_week: int | None = None
    balls_per_session: int | None = None
    rounds_per_week: int | None = None
    minutes_per_session: int | None = None
    weeks: int | None = None
    steps: tuple[DrillStep, ...] = ()
    test: DrillStep | None = None


class CaseNote(Struct, frozen=True):
    """The notes' key ``case``: a lesson to be published without a name, called ``handle``."""

    handle: str
    title: str
    story: str | None
    where: SourceRef


class SeeAlso(Struct, frozen=True):
    handle: str
    where: SourceRef


class ShotSpan(Struct, frozen=True):
    """Shots ``first`` to ``last``, both included, belong to ``block``."""

    block: Block
    first: int
    last: int
    where: SourceRef


class LeftOut(Struct, frozen=True):
    """A shot the coach leaves out, with the typed reason."""

    shot: int
    reason: str
    where: SourceRef


class MishitTag(Struct, frozen=True):
    """A shot the coach calls a mishit ("thin", "heel")."""

    shot: int
    tag: str
    where: SourceRef


class FileSaid(Struct, frozen=True):
    """What the notes say of a file of shots, or of one sheet of it ("lesson.xlsx/Range").

    ``block`` is that of its shots, ``place`` the file's place in the lesson, from 1. Without
    either the file is not to be read.
    """

    name: str
    block: Block | None
    place: int | None
    where: SourceRef

    @property
    def ignored(self) -> bool:
        return self.block is None and self.place is None


class Notes(Struct, frozen=True):
    """notes.md: the front matter and the coach's words (Markdown, hostile until escaped)."""

    where: SourceRef
    words: str
    intent: str | None = None
    short_name: str | None = None  # the coach's own name for the intent, by which it is pooled
    feels_like: str | None = None
    student_says: str | None = None
    letting_go_of: str | None = None
    kinds: tuple[IntentKind, ...] = ()
    club: str | None = None
    declaration: Declaration | None = None
    planned: Planned = Planned()
    swings: tuple[BlockSwing, ...] = ()
    compare: tuple[Swing, Swing] | None = None  # swings the coach asks to be set side by side
    files: tuple[FileSaid, ...] = ()  # what is said of whole files of shots
    spans: tuple[ShotSpan, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    mishits: tuple[MishitTag, ...] = ()
    timed: tuple[TimedBlock, ...] = ()  # blocks by the clock; ``spans`` once shots have times
    marks: tuple[TimedMark, ...] = ()
    moved: tuple[str, ...] = ()  # what was moved between before and after; empty = nothing
    conditions: Conditions = Conditions()
    practice: Practice | None = None
    care_words: tuple[str, ...] = ()  # what the coach adds to the safety notes
    case: CaseNote | None = None
    see_also: tuple[SeeAlso, ...] = ()
    usual_miss: str | None = None  # what they come with, in the coach's words; for the book alone
    next_on: date | None = None  # when the next lesson is to be
    next_at: time | None = None  # and at what time of day, by the clock of the place
    filled: tuple[FilledKey, ...] = ()  # what is said elsewhere, and where


class Lesson(Struct, frozen=True):
    """One lesson folder, read and checked.

    ``key`` is the folder's name (the coach's own, never published); ``on`` its date.
    ``private`` is private.md, only ever for the coach's book.
    """

    key: str
    on: date
    folder: Path
    where: SourceRef
    notes: Notes
    private: str | None
    seal: Seal | None
    shots: ShotTable | None
    clips: tuple[ClipFile, ...]
