"""Rounds beside lessons, in the order of their days. Nothing is concluded from them."""

from msgspec import Struct

from recapgen.model.practice_log import LogEntry
from recapgen.model.recap import StudentRecap
from recapgen.render.reader import Reader
from recapgen.words.amounts import day, number

_ROUNDS_TOLD = 12


class RoundsRow(Struct, frozen=True):
    """A round with its score and how often the old miss turned up, or a lesson with its page."""

    when: str
    lesson: str = ""
    page: str = ""
    score: str = ""
    miss: str = ""


def rounds_beside_lessons(student: StudentRecap, reader: Reader) -> tuple[RoundsRow, ...]:
    """The last rounds with the lessons around them, newest first; empty without rounds."""
    played = [e for e in student.log.entries if e.score is not None or e.rounds][-_ROUNDS_TOLD:]
    if not played:
        return ()
    words = reader.words
    rows = [(e.on, 1, _round(e, reader)) for e in played]
    lessons = [recap for recap in student.recaps if recap.on >= played[0].on]
    before = [recap for recap in student.recaps if recap.on < played[0].on][-1:]
    for recap in (*before, *lessons):
        on = day(recap.on, words)
        title = recap.notes.intent or words.say("page.lesson.no-intent", day=on)
        rows.append((recap.on, 0, RoundsRow(on, lesson=title, page=recap.page)))
    rows.sort(key=lambda row: row[:2], reverse=True)
    return tuple(row for _, _, row in rows)


def _round(entry: LogEntry, reader: Reader) -> RoundsRow:
    words = reader.words
    score, miss = (
        words.say("page.rounds.unknown") if value is None else number(value, 0, words)
        for value in (entry.score, entry.miss_count)
    )
    return RoundsRow(day(entry.on, words), score=score, miss=miss)
