"""What a lesson's notes left to be filled in, and from where."""

from datetime import date
from enum import StrEnum

from msgspec import Struct


class FilledFrom(StrEnum):
    LAST_TIME = "last time"  # the notes said "as last time"
    STUDENT = "student"  # ``usually:`` in student.yml
    COACH = "coach"  # ``usually:`` in coach.yml


class FilledKey(Struct, frozen=True):
    """A key of notes.md that is said elsewhere; ``on`` is the day of the lesson that says it."""

    key: str
    source: FilledFrom
    on: date | None = None
