"""Pain in the log belongs to the plan that is being practised, and to no older one."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from recapgen.model.care import NoteCode
from recapgen.model.lesson import Lesson, Notes, Practice
from recapgen.model.people import Agreed, Student
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.source import SourceRef
from recapgen.recap.lesson_recaps import PreparedLesson, recap_lessons

WHERE = SourceRef("anna/2027-04-11/notes.md", 3, 1)
FIRST, SECOND = date(2027, 4, 11), date(2027, 5, 2)
NOTES = Notes(WHERE, "", practice=Practice(sessions_per_week=2, balls_per_session=40))
ANNA = Student("anna", "Anna", agreed=Agreed(page=True, body=True))


def prepared(on: date) -> PreparedLesson:
    lesson = Lesson(on.isoformat(), on, Path("anna"), WHERE, NOTES, None, None, None, ())
    return PreparedLesson(lesson, (), f"{on}.html", None)


@pytest.mark.parametrize(
    ("sore_on", "today", "told"),
    [
        (FIRST - timedelta(days=3), SECOND + timedelta(days=10), [True, False]),
        (FIRST + timedelta(days=3), SECOND + timedelta(days=10), [False, False]),
        (SECOND - timedelta(days=14), SECOND + timedelta(days=90), [False, True]),
        (SECOND + timedelta(days=3), SECOND + timedelta(days=10), [False, True]),
        (SECOND + timedelta(days=3), SECOND + timedelta(days=18), [False, False]),
        (SECOND + timedelta(days=3), SECOND + timedelta(days=2), [False, False]),
    ],
)
def test_each_page_tells_the_pain_of_its_own_time(
    sore_on: date, today: date, told: list[bool]
) -> None:
    log = PracticeLog((LogEntry(sore_on, WHERE, balls=40, pain=True),), kept=True)
    recaps = recap_lessons(ANNA, [prepared(SECOND), prepared(FIRST)], log, {}, today=today)
    pains = [
        any(note.code is NoteCode.PAIN_LOGGED and note.shown for note in recap.care)
        for recap in recaps
    ]
    assert pains == told
