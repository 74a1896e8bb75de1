"""A plain lesson for the tests of care, and how to change one thing of it."""

from collections.abc import Sequence
from datetime import date, timedelta

from msgspec import Struct

from recapgen.care.safety_notes import care_for
from recapgen.model.care import CareNote, Load, NoteCode
from recapgen.model.lesson import Conditions, IntentKind, Notes, Practice
from recapgen.model.people import Agreed, Student
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.source import SourceRef

ON = date(2027, 4, 11)
HERE = SourceRef("a/practice.csv", 2)
OPEN = Student(key="a", name="A", agreed=Agreed(page=True, body=True))
INDOORS = Conditions(indoors=True)
SMALL_PLAN = Practice(sessions_per_week=2, balls_per_session=40)
NO_LOG = PracticeLog()
ALWAYS = {NoteCode.WARM_UP, NoteCode.SPACE, NoteCode.LIGHTNING, NoteCode.STOP_SIGNS}


class Setting(Struct, frozen=True):
    """A lesson with a small plan that fits its log, so that only what a test changes can fire."""

    student: Student = OPEN
    kinds: tuple[IntentKind, ...] = ()
    practice: Practice | None = SMALL_PLAN
    conditions: Conditions = INDOORS
    log: PracticeLog = NO_LOG

    def fired(self) -> dict[NoteCode, CareNote]:
        notes = care_for(self.student, self._notes(), self.log, ON)[1]
        return {note.code: note for note in notes}

    def load(self) -> Load | None:
        return care_for(self.student, self._notes(), self.log, ON)[0]

    def _notes(self) -> Notes:
        return Notes(
            where=SourceRef("a/l/notes.md"),
            words="",
            kinds=self.kinds,
            practice=self.practice,
            conditions=self.conditions,
        )


def sore(days_ago: int, place: str | None = None) -> LogEntry:
    """A line that says it hurt; less than nothing is a day after the lesson."""
    return LogEntry(ON - timedelta(days=days_ago), HERE, pain=True, pain_place=place)


def entry(
    days_ago: int, balls: int | None = None, minutes: int | None = None, rounds: int | None = None
) -> LogEntry:
    return LogEntry(ON - timedelta(days=days_ago), HERE, balls, minutes, rounds=rounds)


def log(*entries: LogEntry) -> PracticeLog:
    return PracticeLog(entries, kept=True)


def used_to(biggest: int, weeks: Sequence[int] = ()) -> PracticeLog:
    """A log whose biggest session of the month and last known weeks are these.

    Weeks are filled with sessions no bigger than ``biggest``; without weeks, one session.
    """
    entries = [] if weeks else [entry(3, biggest)]
    for back, total in enumerate(weeks):
        left, day = total, 1
        while left > 0:
            entries.append(entry(back * 7 + min(day, 7), min(left, biggest)))
            left, day = left - biggest, day + 1
    return log(*entries)


PLAIN = Setting(log=used_to(40, (80, 80, 80, 80)))


def plan(balls: int | None = None, sessions: int | None = None) -> Practice:
    return Practice(sessions_per_week=sessions, balls_per_session=balls)
