"""What the columns of a section are read from, and what they give."""

from collections.abc import Sequence
from datetime import date

from msgspec import Struct, field

from recapgen.golf.written_amounts import Unit
from recapgen.intake.table.header import Heading
from recapgen.model.lesson import FileSaid
from recapgen.model.people import Coach, Hand
from recapgen.model.problem import Cost
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Decision
from recapgen.model.source import SourceRef


class Guess(Struct, frozen=True):
    """What an unknown column may be: ``near`` fits its heading and its numbers.

    ``wanted``: it may hold a number that a verdict will rest on and no other column holds.
    ``blocks``: it may say which shots are before and after, where nothing else does. ``role``:
    all its cells are clubs, or times of day, and no other column has these.
    """

    near: Quantity | None
    wanted: bool
    blocks: bool = False
    role: str | None = None


class Columns(Struct):
    """A section's columns, settled; ``kept`` are the indexes of those kept but not read.

    ``asked`` are quantities that a column holds, but not so that it can be read without a word.

    ``written`` says where the cells of a quantity stand, and the sign of their unit.
    """

    readings: dict[Quantity, list[float]]
    roles: dict[str, list[int]]
    kept: list[int]
    decided: list[Decision] = field(default_factory=list)
    unknown: dict[str, Guess] = field(default_factory=dict)
    calculated: set[Quantity] = field(default_factory=set)
    asked: set[Quantity] = field(default_factory=set)
    written: dict[Quantity, tuple[int, str]] = field(default_factory=dict)


class Setting(Struct, frozen=True):
    """What holds for a whole file; ``on`` and ``club`` are the lesson's day and club.

    ``players`` are names by which a file may call the student, ``known_as`` those of them that
    student.yml gives for it; ``notes`` and ``student`` are the files for answers.
    ``files`` is what notes.md says of whole files, ``numbers`` what a verdict will rest on,
    ``sides`` those of them that are another number once left and right are exchanged;
    ``placed`` says that notes or names tell which shots are before and after.
    """

    coach: Coach
    hand: Hand | None = None
    club: str | None = None
    on: date | None = None
    files: tuple[FileSaid, ...] = ()
    numbers: frozenset[Quantity] = frozenset()
    sides: frozenset[Quantity] = frozenset()
    placed: bool = False
    notes: SourceRef = SourceRef("notes.md")
    players: tuple[str, ...] = ()
    known_as: tuple[str, ...] = ()
    student: SourceRef = SourceRef("student.yml")


class Source(Struct, frozen=True):
    """What the columns of a section are read from.

    ``cells`` are columns of text, ``decimal`` the mark they use, ``units`` those of a title line,
    ``row`` the grid row of the headings, ``rows`` those of the shots.
    """

    headings: Sequence[Heading]
    cells: Sequence[Sequence[str]]
    row: int
    rows: Sequence[int]
    decimal: str | None
    units: Sequence[Unit]
    setting: Setting


def cost_of(source: Source, columns: Columns, *quantities: Quantity) -> Cost | None:
    """What an open question costs: the student's page where a verdict rests on the answer."""
    columns.asked.update(quantities)
    return Cost.STUDENT if source.setting.numbers & set(quantities) else None
