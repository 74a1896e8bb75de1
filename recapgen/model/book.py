"""The coach's private book: every student, every number, every problem."""

from datetime import date
from enum import StrEnum

from msgspec import Struct

from recapgen.model.evidence import IntentRow, Kept, Verdict
from recapgen.model.naming import file_stem
from recapgen.model.people import AgeBand, Hand
from recapgen.model.problem import Problem
from recapgen.model.public import PublicChange
from recapgen.model.quantity import Quantity
from recapgen.model.recap import StudentRecap


class TriedIntentLine(Struct, frozen=True):
    """One intent and one number it was tried on, over all lessons that had both.

    ``verdicts`` and ``kept`` count lessons; what moved together is not thereby caused.
    ``pooled`` is the gain over students, None where no lesson has an interval; the line is
    ranked where it says so.
    """

    intent: str
    quantity: Quantity
    lessons: int
    students: int
    verdicts: tuple[tuple[Verdict, int], ...]
    kept: tuple[tuple[Kept, int], ...]
    pooled: IntentRow | None = None


class TriedIntents(Struct, frozen=True):
    """``lines`` has those that are ranked first (``ranked`` of them), the rest by name.

    They count only lessons on which a verdict may rest, their number chosen beforehand.
    ``afterwards`` are the numbers chosen when the shots were hit, by name, never pooled;
    ``uncounted`` lessons have an intent, but their air or set-up hid what changed.
    """

    lines: tuple[TriedIntentLine, ...] = ()
    ranked: int = 0
    afterwards: tuple[TriedIntentLine, ...] = ()
    uncounted: int = 0


class LessonPlace(Struct, frozen=True):
    """Where a lesson stands: the student's folder, and the name of its page."""

    student: str
    page: str


class Endings(Struct, frozen=True):
    """How all lessons under one name ended.

    ``verdicts`` are of numbers that were chosen beforehand and that a verdict may rest on. With
    the lessons whose number was chosen ``afterwards``, those in which air or set-up had
    ``hidden`` any change, and the ``unnumbered`` they add up to ``lessons``. ``kept`` counts
    what was there at the start of later lessons. ``places`` are the lessons, newest first.
    """

    name: str
    lessons: int
    students: int
    verdicts: tuple[tuple[Verdict, int], ...]
    afterwards: int
    hidden: int
    unnumbered: int
    kept: tuple[tuple[Kept, int], ...]
    places: tuple[LessonPlace, ...]


class EndingsOfAll(Struct, frozen=True):
    """By what students come with, by what was tried, and by club."""

    misses: tuple[Endings, ...] = ()
    intents: tuple[Endings, ...] = ()
    clubs: tuple[Endings, ...] = ()


class Standing(StrEnum):
    """Whether a past lesson may be shown to somebody who asks."""

    SHOWN = "shown"  # a case, agreed and up
    UNTOLD = "untold"  # cases are agreed to, and this one is not written yet
    TO_ASK = "to-ask"  # a page is agreed to, cases are not


class Example(Struct, frozen=True):
    """A past lesson that may stand for somebody who asks; ``case`` is its page in site/cases/.

    ``miss`` and ``intent`` are under the coach's own names. ``guardian`` is asked for a junior.
    """

    place: LessonPlace
    name: str
    on: date
    standing: Standing
    title: str | None
    miss: str | None
    intent: str | None
    club: str | None
    club_kind: str | None
    age_band: AgeBand | None
    hand: Hand | None
    language: str | None
    guardian: str | None
    case: str | None


class Book(Struct, frozen=True):
    """``students`` in the coach's folder order; ``problems`` of the whole run, sorted by place.

    ``public`` is what this run changed of the published pages. ``examples`` are for somebody who
    asks, those that may be shown first.
    ``up`` are the paths below site/ that are really there to be linked ("q7w2/index.html");
    None where that is not known: then every published page is taken to be there.
    ``slips`` are folders of locked students, each with the words that open their site.
    """

    students: tuple[StudentRecap, ...]
    problems: tuple[Problem, ...]
    today: date
    tried_intents: TriedIntents = TriedIntents()
    up: frozenset[str] | None = None
    public: tuple[PublicChange, ...] = ()
    slips: tuple[tuple[str, str], ...] = ()
    endings: EndingsOfAll = EndingsOfAll()
    examples: tuple[Example, ...] = ()


def intent_key(intent: str) -> str:
    """Two intents are one where only case, spaces and the final stop differ."""
    return " ".join(intent.casefold().split()).rstrip(".! ")


def record_path(student_key: str, lesson_key: str) -> str:
    """Where a lesson's data lies inside the book's folder, with forward slashes."""
    return f"data/{student_key}/{file_stem(lesson_key)}.json"


def question_path(student_key: str, question_key: str) -> str:
    """The same of a question between lessons."""
    return f"questions/{student_key}/{file_stem(question_key)}.json"
