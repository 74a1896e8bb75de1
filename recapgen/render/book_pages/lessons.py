"""Lessons in the coach's book: a line in a table, and everything about one."""

from collections.abc import Callable, Collection, Iterator, Mapping
from operator import attrgetter
from types import MappingProxyType
from urllib.parse import quote

from markupsafe import Markup
from msgspec import Struct
from msgspec.structs import fields, replace

from recapgen.model.book import record_path
from recapgen.model.care import CareNote
from recapgen.model.evidence import Comparison, Retention
from recapgen.model.filled import FilledKey
from recapgen.model.people import Coach
from recapgen.model.recap import Recap, StudentRecap
from recapgen.model.rounding import whole
from recapgen.model.shots import ShotStatus
from recapgen.render.book_pages.lesson_brief import brief_html
from recapgen.render.book_pages.message import Message, messages
from recapgen.render.book_pages.number_facts import (
    BookFact,
    number_facts,
    single_readings,
    tell_change,
    tell_in_book,
)
from recapgen.render.book_pages.page_link import page_link
from recapgen.render.book_pages.questions import question_views
from recapgen.render.charts.load_chart import load_chart
from recapgen.render.coach_words import coach_words
from recapgen.render.diary import book_diary
from recapgen.render.environment import fill
from recapgen.render.practice_view import step_in_words
from recapgen.render.reader import Reader
from recapgen.render.worksheet_site import FOLDER
from recapgen.tools.cache import Cache
from recapgen.words.amounts import day, quantity_name, short_day
from recapgen.words.care_sentences import tell_level, tell_note, why_note
from recapgen.words.catalogue import Words, key_of
from recapgen.words.shot_sentences import tell_reason


class LessonLine(Struct, frozen=True):
    """One row; links are relative to the book's folder, None where there is nothing to open."""

    day: str
    date: str
    student: str
    intent: str
    number: str
    then_now: str
    verdict: str
    stuck: str
    anchor: str
    page: str | None
    data: str


facts_of_line: Callable[[LessonLine], tuple[str, ...]] = attrgetter(
    *(each.name for each in fields(LessonLine))
)
"""All that a line says, to be compared: thousands are, at every build."""


class OtherLine(Struct, frozen=True):
    name: str
    then: str
    now: str
    change: str
    dot: bool


class CareLine(Struct, frozen=True):
    level: str
    told: str
    shown: str
    because: str
    trigger: str


class SheetLink(Struct, frozen=True):
    """The lesson's worksheet from the book's pages, None where it has to be asked for.

    ``lesson`` is the lesson's folder from that of the lessons.
    """

    page: str | None
    lesson: str


class LessonView(Struct, frozen=True):
    line: LessonLine
    facts: tuple[BookFact, ...]
    readings: tuple[BookFact, ...]
    others: tuple[OtherLine, ...]
    words: Markup | None
    private: Markup | None
    load: Markup | None
    care: tuple[CareLine, ...]
    messages: tuple[Message, ...]
    sheet: SheetLink | None = None


class LessonsHtml(Struct, frozen=True):
    """The ``brief`` for the next lesson, and the log with all ``lessons``, newest first."""

    brief: str
    lessons: str


class FinishedLessons(Struct, frozen=True):
    """A student's lessons, newest first: their ``lines`` in a table, all of them as ``html``.

    ``made_of`` is a digest of what they are made of, where that is known without the whole of them.
    """

    lines: tuple[LessonLine, ...]
    html: Callable[[], LessonsHtml]
    made_of: str = ""


def reader_of_book(
    student: StudentRecap, coach: Coach, words: Words, kept: Cache | None = None
) -> Reader:
    """The coach reads every student's numbers in the coach's own units."""
    return Reader(coach.units, student.student.hand, words, coach, kept=kept)


def _lesson_line(
    student: StudentRecap, recap: Recap, up: Collection[str] | None, reader: Reader
) -> LessonLine:
    words = reader.words
    compared = recap.number.comparison
    return LessonLine(
        day=day(recap.on, words),
        date=recap.on.isoformat(),
        student=student.student.name,
        intent=recap.notes.intent or words.say("book.no-intent"),
        number=quantity_name(compared.quantity, words) if compared else "",
        then_now=_then_now(compared, reader) if compared else "",
        verdict=tell_in_book("verdict", compared.verdict, words) if compared else "",
        stuck=_stuck(recap.number.retention, words),
        anchor=f"lesson-{recap.page.removesuffix('.html')}",
        page=page_link(student, recap.page, up),
        data=quote(record_path(student.student.key, recap.key)),
    )


def finish_lessons(
    student: StudentRecap,
    up: Collection[str] | None,
    reader: Reader,
    sheets: Mapping[str, str] = MappingProxyType({}),
) -> FinishedLessons:
    """The log, all lessons and questions of a student for the book: what no other day changes.

    ``sheets`` are the lessons that have a worksheet, by key, and its page.
    """
    views = [
        replace(_lesson_view(student, recap, up, reader), sheet=_sheet(student, recap, sheets))
        for recap in reversed(student.recaps)
    ]
    html = fill(
        "book/pages/student_lessons.html.jinja",
        reader.words,
        diary=book_diary(student.log, reader.words, reader.kept),
        lessons=views,
        unfinished=_unfinished(student, sheets),
        questions=question_views(student, up, reader),
    )
    whole = LessonsHtml(brief_html(student, reader), html)
    return FinishedLessons(tuple(view.line for view in views), lambda: whole)


def _unfinished(student: StudentRecap, sheets: Mapping[str, str]) -> tuple[SheetLink, ...]:
    """Lessons that the book cannot tell of yet: they have a worksheet and nothing else."""
    told = {recap.key for recap in student.recaps}
    return tuple(
        SheetLink(f"{FOLDER}/{page}", key) for key, page in sheets.items() if key not in told
    )


def _sheet(student: StudentRecap, recap: Recap, sheets: Mapping[str, str]) -> SheetLink:
    page = sheets.get(recap.key)
    return SheetLink(
        page=None if page is None else f"{FOLDER}/{page}",
        lesson=f"{student.student.key}/{recap.key}",
    )


def _lesson_view(
    student: StudentRecap, recap: Recap, up: Collection[str] | None, reader: Reader
) -> LessonView:
    compared = recap.number.comparison
    return LessonView(
        line=_lesson_line(student, recap, up, reader),
        facts=tuple(fact for fact in _facts(recap, reader) if fact.told),
        readings=single_readings(compared, reader)
        if compared and not recap.evidence.counted
        else (),
        others=_others(recap, reader),
        words=coach_words(recap.notes.words),
        private=coach_words(recap.private) if recap.private else None,
        load=load_chart(
            recap.practice.load,
            f"load-{recap.page.removesuffix('.html')}",
            reader.words,
            reader.kept,
            key="book.load",
        ),
        care=tuple(_care_line(note, student, reader) for note in recap.care),
        messages=messages(student, recap, up, reader),
    )


def _then_now(compared: Comparison, reader: Reader) -> str:
    middles = [
        reader.words.say("book.nothing")
        if sample.median is None
        else reader.middle(compared.quantity, sample)
        for sample in (compared.before, compared.after)
    ]
    return reader.words.say("book.before-after", before=middles[0], after=middles[1])


def _filled(filled: tuple[FilledKey, ...], words: Words) -> Iterator[str]:
    """What the notes left to be filled in, and where it stands."""
    for each in filled:
        on = "" if each.on is None else short_day(each.on, words)
        yield words.say(f"book.filled.{key_of(each.source)}", key=each.key, day=on)


def _stuck(retention: Retention | None, words: Words) -> str:
    if retention is None:
        return ""
    kept = tell_in_book("kept", retention.kept, words)
    return words.say("book.stuck", kept=kept, day=short_day(retention.from_lesson, words))


def _facts(recap: Recap, reader: Reader) -> Iterator[BookFact]:
    say, notes = reader.words.say, recap.notes
    for name, typed in (
        ("feel", notes.feels_like),
        ("theirs", notes.student_says),
        ("letting-go", notes.letting_go_of),
        ("miss", notes.usual_miss),
    ):
        yield BookFact(say(f"book.brief.{name}"), (typed,) if typed else ())
    if recap.number.comparison is not None:
        yield from number_facts(recap.number.comparison, reader)
    if recap.number.retention is not None:
        yield BookFact(say("book.lesson.stuck"), (_stuck_in_full(recap.number.retention, reader),))
    steps = notes.practice.steps if notes.practice is not None else ()
    drills = tuple(step_in_words(step, reader.words) for step in steps)
    yield BookFact(say("book.lesson.drills"), drills)
    yield BookFact(say("book.lesson.plan"), _plan(recap, reader.words))
    yield BookFact(say("book.lesson.filled"), tuple(_filled(notes.filled, reader.words)))
    if notes.practice is not None and notes.declaration is not None:
        yield BookFact(say("book.lesson.test"), (say("book.lesson.test.how"),))
    yield BookFact(say("book.lesson.care-words"), notes.care_words)
    if recap.evidence.tally is not None:
        t = recap.evidence.tally
        tally = say(
            "book.tally",
            read=t.read,
            used=t.used,
            set_aside=t.set_aside,
            not_read=t.not_read,
            left_out=t.left_out,
        )
        yield BookFact(say("book.lesson.shots"), (tally,))
    left_out = tuple(
        say(
            "book.left-out",
            shot=s.shot.number,
            place=s.shot.where,
            reason=tell_reason(s, reader.words),
        )
        for s in recap.evidence.shots
        if s.status is ShotStatus.LEFT_OUT
    )
    yield BookFact(say("book.lesson.left-out"), left_out)
    yield BookFact(say("book.lesson.headings"), recap.evidence.unknown_columns)


def _stuck_in_full(retention: Retention, reader: Reader) -> str:
    return reader.words.say(
        "book.stuck.full",
        kept=tell_in_book("kept", retention.kept, reader.words),
        gained=reader.signed(retention.quantity, retention.gained),
        there=reader.signed(retention.quantity, retention.still_there),
        day=day(retention.from_lesson, reader.words),
    )


def _plan(recap: Recap, words: Words) -> tuple[str, ...]:
    load = recap.practice.load
    if load is None:
        return ()
    usual = None if load.usual_week is None else whole(load.usual_week)
    counts = {
        "balls": load.balls_per_session,
        "sessions": load.sessions_per_week,
        "week": load.balls_per_week,
        "biggest": load.biggest_session_30d,
        "usual": usual,
    }
    told = [words.count(f"book.plan.{name}", n) for name, n in counts.items() if n is not None]
    unknown = [words.say("book.plan.usual-open")] if load.usual_week_open else []
    return (*told, *unknown)


def _others(recap: Recap, reader: Reader) -> tuple[OtherLine, ...]:
    return tuple(
        OtherLine(
            name=quantity_name(other.quantity, reader.words),
            then=reader.amount(other.quantity, other.before_median),
            now=reader.amount(other.quantity, other.after_median),
            change=tell_change(other.quantity, (other.estimate, other.low90, other.high90), reader),
            dot=other.dot,
        )
        for other in recap.evidence.others
    )


def _care_line(note: CareNote, student: StudentRecap, reader: Reader) -> CareLine:
    words = reader.words
    if not student.published:
        shown = "no-page"
    elif note.shown:
        shown = "yes"
    elif note.body and not student.student.agreed.body:
        shown = "not-agreed"
    else:
        shown = "no-room"
    return CareLine(
        level=tell_level(note.level, words),
        told=tell_note(note, reader.hand, words, reader.coach.emergency_number),
        shown=words.say(f"book.shown.{shown}"),
        because=why_note(note, reader.hand, words).because,
        trigger=note.trigger,
    )
