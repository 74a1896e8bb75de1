"""The lesson that comes next, as long as its day is not over."""

from collections.abc import Sequence
from datetime import date, timedelta

from recapgen.model.people import Student
from recapgen.model.recap import ComingLesson, Recap


def coming_lesson(student: Student, recaps: Sequence[Recap], today: date) -> ComingLesson | None:
    """What the newest lesson's notes say; None for a past day and a student who is archived."""
    if not recaps or student.archived:
        return None
    notes = recaps[-1].notes
    if notes.next_on is None or notes.next_on < today:
        return None
    return ComingLesson(notes.next_on, notes.next_at)


def day_after(coming: ComingLesson | None) -> date | None:
    """The first day on which it is not told any more."""
    return None if coming is None else coming.on + timedelta(days=1)
