"""A lesson told: codes and values for the pages, never sentences."""

from dataclasses import dataclass, field
from datetime import date

from recapgen.model.care import CareNote, Load, WeekSoFar
from recapgen.model.carry import FairCarry, FlightLines, LoftAtStrike
from recapgen.model.drill import Demonstration
from recapgen.model.evidence import Comparison, Retention
from recapgen.model.films import Film
from recapgen.model.lesson import CaseNote, Conditions, Notes
from recapgen.model.people import Student
from recapgen.model.practice_log import PracticeLog
from recapgen.model.problem import Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Decision, SortedShot, WorkedFrom
from recapgen.model.units import Units


@dataclass(frozen=True, slots=True)
class Tally:
    """Rows read, by what became of them; the four add up to ``read``."""

    read: int
    used: int
    set_aside: int
    not_read: int
    left_out: int


@dataclass(frozen=True, slots=True)
class OtherNumber:
    """A number that was looked at but not declared: medians and an interval, no verdict."""

    quantity: Quantity
    before_median: float
    after_median: float
    estimate: float
    low90: float
    high90: float
    dot: bool  # Holm at .10 across the family


@dataclass(frozen=True, slots=True)
class CaseLink:
    """A past case a lesson points at; ``address`` is the whole of it, as a reader follows it."""

    title: str
    address: str


@dataclass(frozen=True, slots=True)
class Recap:
    """One lesson of one student, consent already applied.

    ``page`` is the lesson page's file name, which never changes. ``key`` and ``private``
    are the coach's own and are never rendered on a student's page.
    """

    key: str
    on: date
    page: str
    notes: Notes
    private: str | None
    shots: tuple[SortedShot, ...]
    tally: Tally | None
    comparison: Comparison | None
    others: tuple[OtherNumber, ...]
    retention: Retention | None
    films: tuple[Film, ...]
    conditions: Conditions
    load: Load | None
    care: tuple[CareNote, ...]
    case: CaseNote | None
    case_page: str | None
    see_also: tuple[CaseLink, ...]
    decided: tuple[Decision, ...]
    unknown_columns: tuple[str, ...]
    demonstrations: tuple[Demonstration, ...] = ()
    calculated: tuple[Quantity, ...] = ()  # by the device, in the coach's word, not measured
    worked_number: WorkedFrom | None = None  # how the declared number follows from other readings
    fair_carry: FairCarry | None = None  # the carries in standard air, or why they are not told
    flights: FlightLines | None = None
    loft: LoftAtStrike | None = None
    case_films: tuple[Film, ...] = ()  # the same clips with their faces hidden


@dataclass(frozen=True, slots=True)
class StudentRecap:
    """All lessons of one student, oldest first; ``address`` is the unguessable folder name.

    ``published`` is False where the student has not agreed to a page (any more): then
    only the coach's book tells of them.
    """

    student: Student
    units: Units
    address: str
    published: bool
    recaps: tuple[Recap, ...]
    problems: tuple[Problem, ...]
    log: PracticeLog = field(default_factory=PracticeLog)
    week: WeekSoFar | None = None  # for the coach's book: what was hit lately
