"""The plan's sessions and the next lesson as a calendar file, days between sessions left free.

Written after RFC 5545: lines of at most 75 octets ended by CR LF, text escaped, each event with an
identity that never changes: one that was taken into a calendar before is moved, not doubled. A
session takes a whole day; so does a lesson of which no time is known. A time is that of the place
(no zone: "floating"). The stamp is the lesson's own day, so that the same lesson always gives the
same file.
"""

from collections.abc import Iterator
from datetime import date, timedelta

from msgspec import Struct

from recapgen.model.lesson import Practice
from recapgen.model.page import WrittenFile
from recapgen.model.recap import ComingLesson, Recap
from recapgen.render.practice_view import MOST_WEEKS, step_in_words, weeks_of
from recapgen.render.reader import Reader
from recapgen.words.catalogue import Words

CALENDAR_FILE = "practice.ics"
MOST_DAYS_A_WEEK = 6  # one day a week is always left free
_DAYS = 7
_FIRST_DAY = 2  # the lesson's own day had its balls; the day after it is free
_LONGEST_LINE = 75  # octets, the line's end not counted


def session_calendar(
    recap: Recap, reader: Reader, coming: ComingLesson | None = None
) -> WrittenFile | None:
    """The sessions of the recap's plan, and the lesson that is ``coming``; None without either."""
    events = [*_sessions(recap, reader), *(_lesson(recap, coming, reader) if coming else ())]
    if not events:
        return None
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:-//practice calendar//{reader.words.language.upper()}",
        *events,
        "END:VCALENDAR",
    ]
    return WrittenFile(
        CALENDAR_FILE, "".join(f"{part}\r\n" for line in lines for part in _fold(line))
    )


class Session(Struct, frozen=True):
    """``number`` counts from 1 over the whole plan, ``week`` from 1."""

    number: int
    week: int
    on: date


def session_days(lesson: date, sessions: int, weeks: int) -> Iterator[Session]:
    """Every session's day, spread over each week so that free days lie between them."""
    a_week = min(sessions, MOST_DAYS_A_WEEK)
    for number in range(weeks * a_week):
        week, place = divmod(number, a_week)
        after = _FIRST_DAY + week * _DAYS + place * _DAYS // a_week
        yield Session(number + 1, week + 1, lesson + timedelta(days=after))


def _sessions(recap: Recap, reader: Reader) -> Iterator[str]:
    """Every session's event, where something says how many there are."""
    practice = recap.notes.practice
    if practice is None or not practice.sessions_per_week:
        return
    weeks = min(weeks_of(practice), MOST_WEEKS)
    for session in session_days(recap.on, practice.sessions_per_week, weeks):
        yield from _event(recap, practice, session, reader)


def _lesson(recap: Recap, coming: ComingLesson, reader: Reader) -> Iterator[str]:
    """The next lesson. How long it takes is not known, so with a time it has no end."""
    title = reader.words.say("page.calendar.lesson", coach=reader.coach.name)
    yield "BEGIN:VEVENT"
    yield f"UID:{recap.page.removesuffix('.html')}-next@practice.invalid"
    yield f"DTSTAMP:{recap.on:%Y%m%d}T000000Z"
    if coming.at is None:
        yield from _whole_day(coming.on)
    else:
        yield f"DTSTART:{coming.on:%Y%m%d}T{coming.at:%H%M%S}"
    yield f"SUMMARY:{_escaped(title)}"
    yield "END:VEVENT"


def _whole_day(on: date) -> Iterator[str]:
    yield f"DTSTART;VALUE=DATE:{on:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{on + timedelta(days=1):%Y%m%d}"


def _event(recap: Recap, practice: Practice, session: Session, reader: Reader) -> Iterator[str]:
    words = reader.words
    intent = recap.notes.intent
    title = words.say("page.calendar.title", intent=intent) if intent else ""
    yield "BEGIN:VEVENT"
    yield f"UID:{recap.page.removesuffix('.html')}-{session.number}@practice.invalid"
    yield f"DTSTAMP:{recap.on:%Y%m%d}T000000Z"
    yield from _whole_day(session.on)
    yield f"SUMMARY:{_escaped(title or words.say('page.calendar.no-intent'))}"
    yield f"DESCRIPTION:{_escaped(_told(practice, session.week, words))}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def _told(practice: Practice, week: int, words: Words) -> str:
    steps = [
        step_in_words(step, words)
        for step in practice.steps
        if step.weeks is None or step.weeks[0] <= week <= step.weeks[1]
    ]
    return "\n".join((*steps, words.say("page.calendar.stop")))


def _escaped(text: str) -> str:
    plain = text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    return plain.replace("\r\n", "\n").replace("\r", "\n").replace("\n", "\\n")


def _fold(line: str) -> Iterator[str]:
    """The line in pieces that fit; each further one begins with a blank. No letter is cut."""
    piece, room = "", _LONGEST_LINE
    for letter in line:
        octets = len(letter.encode("utf-8"))
        if octets > room:
            yield piece
            piece, room = " ", _LONGEST_LINE - 1
        piece += letter
        room -= octets
    yield piece
