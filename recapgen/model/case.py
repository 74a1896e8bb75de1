"""A past lesson as a case: nothing in it names the student."""

from dataclasses import dataclass
from datetime import date

from recapgen.model.evidence import Comparison, Retention
from recapgen.model.films import Film
from recapgen.model.people import Hand
from recapgen.model.units import Units


@dataclass(frozen=True, slots=True)
class Case:
    """What a stranger may read: no name, no folder, no exact day, no words meant for the student.

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
