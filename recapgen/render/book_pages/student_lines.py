"""Students in the coach's book: what to mind before the next lesson."""

from collections.abc import Iterator
from datetime import date, timedelta

from recapgen.model.book import Book
from recapgen.model.care import Level, NoteCode, WeekSoFar
from recapgen.model.problem import Cost
from recapgen.model.recap import StudentRecap
from recapgen.model.rounding import whole
from recapgen.render.book_pages.agreement_lines import consent_due
from recapgen.render.question_page import question_in_brief
from recapgen.render.reader import Reader
from recapgen.words.amounts import day
from recapgen.words.care_sentences import remind_coach
from recapgen.words.catalogue import Words

LATELY_DAYS = 30
_PAINS_MOST = 3
_RAISED = frozenset(
    {NoteCode.SESSION_STEP, NoteCode.WEEK_STEP, NoteCode.WEEK_VOLUME, NoteCode.NO_REST_DAY}
)


def lately(on: date, book: Book) -> bool:
    return timedelta(0) <= book.today - on <= timedelta(days=LATELY_DAYS)


def held_back(book: Book) -> frozenset[str]:
    """The folders of students of whom a fault keeps what is new from being published."""
    return frozenset(
        problem.where.file.partition("/")[0]
        for problem in book.problems
        if problem.cost is Cost.STUDENT
    )


def waiting(student: StudentRecap, book: Book, reader: Reader) -> tuple[str, ...]:
    """What the coach should do, say or ask before the next lesson, in sentences."""
    return (
        *_questions(student, reader.words),
        *_ask_firsts(student, reader),
        *_loads(student, book, reader),
        *_week(student.week, reader.words),
        *_pains(student, book, reader.words),
        *consent_due(student.student, book.today, reader.words),
    )


def _questions(student: StudentRecap, words: Words) -> Iterator[str]:
    """Those that wait for an answer, and those that are to be answered in person."""
    for question in student.questions:
        facts = {"day": day(question.on, words), "asked": question_in_brief(question, words)}
        if not question.words.settled:
            yield words.say("book.look.question", **facts)
        elif student.published and not student.tells(question):
            yield words.say("book.look.question.in-person", **facts)


def _ask_firsts(student: StudentRecap, reader: Reader) -> Iterator[str]:
    """Those of the latest plan: it is the one that is being practised.

    They stand until the student has said that a clinician was asked about it.
    """
    asked = student.student.clinician_asked
    for recap in student.recaps[-1:]:
        if asked is not None and asked >= recap.on:
            continue
        for note in recap.care:
            if note.level is Level.ASK_FIRST:
                told = student.published and note.shown
                yield reader.words.say(
                    "book.look.ask-first" if told else "book.look.ask-first.in-person",
                    day=day(recap.on, reader.words),
                    note=remind_coach(note, reader.hand, reader.words),
                )


def _loads(student: StudentRecap, book: Book, reader: Reader) -> Iterator[str]:
    for recap in student.recaps[-1:]:
        for note in recap.care:
            if note.code in _RAISED and lately(recap.on, book):
                yield reader.words.say(
                    "book.look.load",
                    day=day(recap.on, reader.words),
                    note=remind_coach(note, reader.hand, reader.words),
                )


def _week(week: WeekSoFar | None, words: Words) -> Iterator[str]:
    """What the log of the last seven days says beside the time before it."""
    if week is None:
        return
    if NoteCode.SESSION_STEP in week.raised:
        yield words.say(
            "book.look.week.session", balls=week.biggest, before=week.biggest_before or 0
        )
    if NoteCode.WEEK_STEP in week.raised:
        yield words.say("book.look.week.usual", balls=week.balls, usual=whole(week.usual_week or 0))
    elif NoteCode.WEEK_VOLUME in week.raised:
        yield words.say("book.look.week.full", balls=week.balls)


def _pains(student: StudentRecap, book: Book, words: Words) -> Iterator[str]:
    """Pain of the last month and since the last lesson: the newest days, and how many more."""
    last = student.recaps[-1].on if student.recaps else book.today
    told = [
        entry
        for entry in student.log.entries
        if entry.pain and (last < entry.on <= book.today or lately(entry.on, book))
    ]
    for entry in told[-_PAINS_MOST:]:
        on = day(entry.on, words)
        if entry.pain_place:
            yield words.say("book.look.pain.where", day=on, place=entry.pain_place)
        else:
            yield words.say("book.look.pain", day=on)
    if len(told) > _PAINS_MOST:
        yield words.count("book.look.pain.more", len(told) - _PAINS_MOST)
