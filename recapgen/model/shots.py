"""Shots as read from the tables, before and after the lesson's notes sort them."""

from collections.abc import Mapping
from datetime import datetime
from enum import Enum, StrEnum, auto

from msgspec import Struct

from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import RowRule
from recapgen.model.source import SourceRef


class Block(StrEnum):
    """A stretch of the lesson; the closing block repeats the old feel."""

    WARM_UP = "warm-up"
    BEFORE = "before"
    DRILL = "drill"
    AFTER = "after"
    CLOSING = "closing"


class ShotStatus(StrEnum):
    """What became of a row; the counts of the four always add up to the rows read."""

    USED = "used"
    SET_ASIDE = "set aside"
    NOT_READ = "not read"
    LEFT_OUT = "left out"


class WorkedFrom(StrEnum):
    """From what a value was worked out."""

    SPEEDS = "club speed, ball speed and smash factor"
    FACE_AND_PATH = "face and path"
    STRIKE = "how club and ball met"
    ARC = "attack angle and a usual arc"
    FINISH = "carry, side and start line"
    FLIGHT = "a flight from the launch"


class WorkedOut(Struct, frozen=True):
    """What was not read but follows from what was; ``doubt`` is how far off it may well be."""

    value: float
    doubt: float
    way: WorkedFrom


class MissedTo(StrEnum):
    """Where a ball that was not in went, as the person who counted saw it."""

    LEFT = "left"
    RIGHT = "right"
    SHORT = "short"
    LONG = "long"


class Shot(Struct, frozen=True):
    """One data row.

    ``number`` is what "shot 12" means: the file's own number where it has a unique
    one, else the position in time order over all data rows, from 1.
    ``readings`` hold inside units (m/s, m, degrees, rpm), world frame (plus = right).
    ``tag`` is the coach's word for a mishit ("heel", "thin"), or None.
    ``impossible`` names the rule that a reading broke; the row is then left out.
    """

    number: int
    where: SourceRef
    readings: Mapping[Quantity, float]
    block: Block | None = None
    club: str | None = None
    time: datetime | None = None
    tag: str | None = None
    impossible: RowRule | None = None
    other: Mapping[str, str] | None = None  # unrecognised cells, for the coach's data only
    doubts: tuple[RowRule, ...] = ()  # rules that want a second look at the row; it is still used
    derived: Mapping[Quantity, WorkedOut] | None = None  # never a reading, and never over one
    club_written: str | None = None  # as the file has it: "Driver (9°)"
    missed_to: MissedTo | None = None  # of a ball that is in or out


class ReadAs(Enum):
    """How a column was read where nothing says so; ``SUMMARY`` is a row that is no shot."""

    UNIT = auto()
    QUANTITY = auto()
    SAME = auto()
    NOUGHTS = auto()
    COMMA_DECIMALS = auto()
    COMMA_THOUSANDS = auto()
    POINT_THOUSANDS = auto()
    BLOCKS = auto()
    COUNTED_DAYS = auto()
    SUMMARY = auto()


class Decision(Struct, frozen=True):
    """What reading a file settled without asking.

    ``heading`` is the column's, or the label of a row of totals. ``choice`` is the sign of the
    unit, or the heading of the column that says the same; "" for the rest.
    """

    heading: str
    read_as: ReadAs
    choice: str = ""
    quantity: Quantity | None = None  # of ReadAs.QUANTITY


class SetAside(Enum):
    """Why a shot is not part of the comparison, though nothing is wrong with it."""

    WARM_UP = auto()
    DRILL = auto()
    ANOTHER_CLUB = auto()
    NO_BLOCK = auto()


class FilePart(Struct, frozen=True):
    """A file of shots or a sheet of one, by the name that notes.md may use, and its block."""

    name: str
    block: Block | None


class ShotTable(Struct, frozen=True):
    """All shots of one lesson in time order, and what was decided while reading them.

    ``decided`` lists what was settled without asking, for the page of evidence.
    ``unknown`` lists headings that were kept but not understood.
    ``calculated`` are the quantities which the device, in the coach's word, does not measure.
    ``order_open`` are files or sheets, all of them, whose order in the lesson is not known,
    ``names_belied`` where that is since times or numbers go against the blocks in their names.
    ``asked`` are quantities of columns that cannot be read before the coach answers a question.
    ``worked_number`` says how the declared number was worked out where no column holds it.
    ``by_hand``: the notes hold the readings, no file does; ``counted``: they hold counts alone,
    so that the order of the balls within a block says nothing.
    """

    shots: tuple[Shot, ...]
    files: tuple[str, ...]
    decided: tuple[Decision, ...] = ()
    unknown: tuple[str, ...] = ()
    calculated: tuple[Quantity, ...] = ()
    worked_number: WorkedFrom | None = None
    order_open: tuple[FilePart, ...] = ()
    names_belied: bool = False
    asked: frozenset[Quantity] = frozenset()
    by_hand: bool = False
    counted: bool = False


class SortedShot(Struct, frozen=True):
    """A shot with its block and what became of it for the declared number.

    ``reason`` is the coach's typed words or the rule that the row broke, for one left out;
    ``aside`` is why one is set aside.
    """

    shot: Shot
    block: Block | None
    status: ShotStatus
    reason: str | RowRule | None = None
    left_out_by_coach: bool = False
    aside: SetAside | None = None
