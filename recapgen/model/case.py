"""A past lesson as a case: nothing in it names the student."""

from datetime import date

from msgspec import Struct

from recapgen.model.evidence import Comparison, Retention, Verdict
from recapgen.model.films import Film
from recapgen.model.people import AgeBand, Hand
from recapgen.model.units import Units


class Case(Struct, frozen=True):
    """What a stranger may read: no name, no folder, no exact day, no words meant for the student.

    ``miss`` is the name under which the coach joins such misses, never the words of the notes;
    ``age_band`` is there where the student agreed to have it mentioned.
    ``page`` is its stable file name in site/cases/. ``films`` is empty unless clips were agreed
    for cases.
    """

    page: str
    title: str
    story: str | None
    intent: str | None
    feels_like: str | None
    club: str | None
    hand: Hand | None
    month: date  # the first of the lesson's month
    comparison: Comparison | None
    retention: Retention | None
    films: tuple[Film, ...]
    units: Units
    miss: str | None = None
    age_band: AgeBand | None = None


class IntentTotals(Struct, frozen=True):
    """How all lessons with an intent ended, those of students who tell no case among them.

    There is none under five students, and nothing finer: not by club, hand, age or number.
    The verdicts, ``afterwards``, ``hidden`` and ``unnumbered`` (as in ``Endings``) add up to
    ``lessons``.
    """

    intent: str
    lessons: int
    students: int
    verdicts: tuple[tuple[Verdict, int], ...]
    afterwards: int
    hidden: int
    unnumbered: int
