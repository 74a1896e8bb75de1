"""A lesson worked out: codes and values for its pages, never sentences."""

from datetime import date, time

from msgspec import Struct, field

from recapgen.model.between_lessons import QuestionRecap
from recapgen.model.care import CareNote, Load, WeekSoFar
from recapgen.model.carry import FairCarry, FlightLines, LoftAtStrike
from recapgen.model.drill import Demonstration
from recapgen.model.evidence import Comparison, Retention
from recapgen.model.films import Film
from recapgen.model.lesson import CaseNote, Notes
from recapgen.model.people import Student
from recapgen.model.practice_log import PracticeLog
from recapgen.model.problem import Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Decision, SortedShot, WorkedFrom
from recapgen.model.units import Units


class Tally(Struct, frozen=True):
    """Rows read, by what became of them; the four add up to ``read``."""

    read: int
    used: int
    set_aside: int
    not_read: int
    left_out: int


class OtherNumber(Struct, frozen=True):
    """A number that was looked at but not declared: medians and an interval, no verdict."""

    quantity: Quantity
    before_median: float
    after_median: float
    estimate: float
    low90: float
    high90: float
    dot: bool  # Holm at .10 across the family


class CaseLink(Struct, frozen=True):
    """A past case a lesson points at; ``address`` is the whole of it, as a reader follows it."""

    title: str
    address: str


class LessonNumber(Struct, frozen=True):
    """The declared number: what changed, and what was still there of the lesson before.

    ``worked_from`` is how its readings follow from others, None where they were measured.
    """

    comparison: Comparison | None = None
    retention: Retention | None = None
    worked_from: WorkedFrom | None = None


class LessonPractice(Struct, frozen=True):
    """What goes with the plan in the notes: how much it is, and its drills as they are shown."""

    load: Load | None = None
    demonstrations: tuple[Demonstration, ...] = ()


class LessonEvidence(Struct, frozen=True):
    """What the folds of the page show: the shots, how they were read, and what else follows.

    ``tally`` is None where there was no table of shots. ``decided``, ``unknown_columns`` and
    ``calculated`` (by the device, in the coach's word, not measured) tell how it was read.
    ``fair_carry`` are the carries in standard air, or why they are withheld. ``counted``: the
    balls were only counted, so that no ball has a place of its own.
    """

    shots: tuple[SortedShot, ...] = ()
    tally: Tally | None = None
    others: tuple[OtherNumber, ...] = ()
    decided: tuple[Decision, ...] = ()
    unknown_columns: tuple[str, ...] = ()
    calculated: tuple[Quantity, ...] = ()
    fair_carry: FairCarry | None = None
    flights: FlightLines | None = None
    loft: LoftAtStrike | None = None
    counted: bool = False


class LessonCase(Struct, frozen=True):
    """The lesson as a case for strangers, and the cases that it points at.

    ``note`` and ``page`` (its file name in site/cases/) are None where it is no case.
    ``films`` are the lesson's films with the faces hidden.
    """

    note: CaseNote | None = None
    page: str | None = None
    films: tuple[Film, ...] = ()
    links: tuple[CaseLink, ...] = ()


class Recap(Struct, frozen=True):
    """One lesson of one student, consent already applied, grouped as its page is.

    ``page`` is the lesson page's file name, which never changes. ``notes`` are the coach's words
    and settings. ``key`` and ``private`` are the coach's own and are never rendered on a
    student's page.
    """

    key: str
    on: date
    page: str
    notes: Notes
    private: str | None = None
    number: LessonNumber = LessonNumber()
    films: tuple[Film, ...] = ()
    practice: LessonPractice = LessonPractice()
    care: tuple[CareNote, ...] = ()
    evidence: LessonEvidence = LessonEvidence()
    case: LessonCase = LessonCase()
    corrected_on: date | None = None  # changed on that day, after the page was first up


class ComingLesson(Struct, frozen=True):
    """When the student comes next; ``at`` is a time of day where one was agreed."""

    on: date
    at: time | None = None


class StudentRecap(Struct, frozen=True):
    """All lessons and questions of one student, oldest first.

    ``address`` is the unguessable folder name.

    ``published`` is False where the student has not agreed to a page (any more): then
    only the coach's book shows them.
    """

    student: Student
    units: Units
    address: str
    published: bool
    recaps: tuple[Recap, ...]
    problems: tuple[Problem, ...]
    log: PracticeLog = field(default_factory=PracticeLog)
    week: WeekSoFar | None = None  # for the coach's book: what was hit lately
    coming: ComingLesson | None = None  # as of the day of the build
    questions: tuple[QuestionRecap, ...] = ()

    def tells(self, question: QuestionRecap) -> bool:
        """Whether a question has a page: answered, and of no body that is not to be told of."""
        told = question.words.settled and (self.student.agreed.body or not question.words.pain)
        return self.published and told

    @property
    def private(self) -> tuple[str, ...]:
        """All words that are for the coach's book alone."""
        told: tuple[Recap | QuestionRecap, ...] = (*self.recaps, *self.questions)
        return tuple(each.private for each in told if each.private)

    @property
    def films(self) -> tuple[Film, ...]:
        """All films of the student's own pages."""
        told: tuple[Recap | QuestionRecap, ...] = (*self.recaps, *self.questions)
        return tuple(film for each in told for film in each.films)
