"""The brief for a student's next lesson: what was said, felt, planned and left to ask."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from markupsafe import Markup
from msgspec import Struct

from recapgen.model.evidence import Verdict
from recapgen.model.practice_log import LogEntry
from recapgen.model.recap import Recap, StudentRecap
from recapgen.render.book_pages.for_next_time import left_open, said_for_next_time, shortened
from recapgen.render.book_pages.number_facts import tell_in_book
from recapgen.render.coach_words import coach_words
from recapgen.render.environment import fill
from recapgen.render.practice_view import step_in_words, weeks_of
from recapgen.render.reader import Reader
from recapgen.words.amounts import day, quantity_name
from recapgen.words.care_sentences import tell_area
from recapgen.words.catalogue import key_of

# What a printed sheet has room for; the rest is told to be there, with the lesson.
_WORDS_MOST, _PRIVATE_MOST, _SENTENCE_MOST, _STEP_MOST = 500, 300, 180, 110
_SENTENCES_MOST, _STEPS_MOST, _LOOKED_BACK = 4, 4, 3
_TEST_BALLS = 10


class BriefFact(Struct, frozen=True):
    """``told`` are sentences; ``rest`` is the anchor where more of it stands, or empty."""

    name: str
    told: tuple[str, ...] = ()
    words: Markup | None = None
    rest: str = ""


def brief_html(student: StudentRecap, reader: Reader) -> str:
    """All that the last lessons left for the next one, whatever the day; "" without a lesson."""
    if not student.recaps:
        return ""
    last = student.recaps[-1]
    return fill(
        "book/pages/brief.html.jinja",
        reader.words,
        day=day(last.on, reader.words),
        date=last.on.isoformat(),
        intent=last.notes.intent,
        anchor=_anchor(last),
        facts=[fact for fact in _facts(student, last, reader) if fact.told or fact.words],
    )


def plan_ends(recap: Recap) -> date | None:
    """The last day of the lesson's plan; None without one, or beyond the calendar."""
    practice = recap.notes.practice
    if practice is None:
        return None
    try:
        return recap.on + timedelta(weeks=weeks_of(practice))
    except OverflowError:
        return None


def _anchor(recap: Recap) -> str:
    return f"lesson-{recap.page.removesuffix('.html')}"


def _facts(student: StudentRecap, last: Recap, reader: Reader) -> Iterator[BriefFact]:
    say, notes = reader.words.say, last.notes
    yield BriefFact(say("book.brief.feel"), _given(notes.feels_like))
    yield BriefFact(say("book.brief.theirs"), _quoted(notes.student_says, reader))
    yield BriefFact(say("book.brief.letting-go"), _given(notes.letting_go_of))
    yield _miss(student, reader)
    yield BriefFact(say("book.brief.test"), tuple(_test(student.recaps, reader)))
    yield _for_next_time(student.recaps, reader)
    yield BriefFact(say("book.brief.plan"), tuple(_plan(last, reader)))
    yield BriefFact(say("book.brief.since"), tuple(_since(student, last, reader)))
    yield BriefFact(say("book.brief.body"), tuple(_body(student, reader)))
    yield BriefFact(say("book.brief.open"), tuple(_open(student, last, reader)))
    yield _private(last, reader)
    words, cut = shortened(notes.words, _WORDS_MOST)
    yield BriefFact(say("book.brief.words"), (), coach_words(words), _anchor(last) if cut else "")


def _given(text: str | None) -> tuple[str, ...]:
    return (_line(text),) if text else ()


def _quoted(text: str | None, reader: Reader) -> tuple[str, ...]:
    return (reader.words.say("book.brief.quoted", words=_line(text)),) if text else ()


def _miss(student: StudentRecap, reader: Reader) -> BriefFact:
    """The newest that was written, with its day where that is not the last lesson's."""
    words = reader.words
    recap = next((each for each in reversed(student.recaps) if each.notes.usual_miss), None)
    miss = "" if recap is None else recap.notes.usual_miss or ""
    if recap is not None and recap is not student.recaps[-1]:
        miss = words.say("book.brief.dated", day=day(recap.on, words), words=miss)
    return BriefFact(words.say("book.brief.miss"), (miss,) if miss else ())


def _test(recaps: Sequence[Recap], reader: Reader) -> Iterator[str]:
    """What stuck is read from uncued balls: same club, no hurry, before either says a word."""
    say, words = reader.words.say, reader.words
    recap = next((each for each in reversed(recaps) if each.number.comparison), None)
    last = recaps[-1]
    if last.notes.practice is not None and last.notes.practice.test is not None:
        yield words.say("book.brief.test.own", test=step_in_words(last.notes.practice.test, words))
    if recap is None or recap.number.comparison is None:
        return
    compared, name = recap.number.comparison, quantity_name(recap.number.comparison.quantity, words)
    middles = [
        say("book.nothing") if block.median is None else reader.middle(compared.quantity, block)
        for block in (compared.before, compared.after)
    ]
    yield say(
        "book.brief.test.number",
        number=name,
        day=day(recap.on, words),
        verdict=tell_in_book("verdict", compared.verdict, words),
        before=middles[0],
        after=middles[1],
        goal=reader.goal(compared),
    )
    if recap.notes.club:
        yield say("book.brief.test.how", balls=_TEST_BALLS, club=reader.club(recap.notes.club))
    else:
        yield say("book.brief.test.how.any-club", balls=_TEST_BALLS)
    if compared.quantity.is_outcome:
        yield say("book.brief.test.counted")


def _for_next_time(recaps: Sequence[Recap], reader: Reader) -> BriefFact:
    """Of the newest lesson that has any: older plans were for lessons that have been."""
    words = reader.words
    for recap in reversed(recaps):
        told = said_for_next_time((recap.private, recap.notes.words))
        if told:
            newest, on = recap is recaps[-1], day(recap.on, words)
            lines = (
                each if newest else words.say("book.brief.dated", day=on, words=each)
                for each in told[:_SENTENCES_MOST]
            )
            kept = tuple(_line(each) for each in lines)
            more = any(len(each) > _SENTENCE_MOST for each in told) or len(told) > len(kept)
            return BriefFact(words.say("book.brief.next-time"), kept, None, _more(recap, more))
    return BriefFact(words.say("book.brief.next-time"))


def _more(recap: Recap, more: bool) -> str:
    return _anchor(recap) if more else ""


def _private(last: Recap, reader: Reader) -> BriefFact:
    private, cut = shortened(last.private or "", _PRIVATE_MOST)
    name = reader.words.say("book.lesson.private")
    return BriefFact(name, (), coach_words(private), _more(last, cut))


def _plan(last: Recap, reader: Reader) -> Iterator[str]:
    words, practice = reader.words, last.notes.practice
    if practice is None:
        return
    yield from (
        _line(step_in_words(step, words), _STEP_MOST) for step in practice.steps[:_STEPS_MOST]
    )
    if len(practice.steps) > _STEPS_MOST:
        yield words.count("book.brief.plan.more", len(practice.steps) - _STEPS_MOST)
    if practice.sessions_per_week:
        weeks = words.count("book.brief.weeks", weeks_of(practice))
        yield words.count("book.brief.plan.often", practice.sessions_per_week, weeks=weeks)
    ends = plan_ends(last)
    if ends is not None:
        yield words.say("book.brief.plan.ends", day=day(ends, words))


def _since(student: StudentRecap, last: Recap, reader: Reader) -> Iterator[str]:
    words = reader.words
    entries = [entry for entry in student.log.entries if entry.on > last.on]
    if not student.log.kept:
        return
    if not entries:
        yield words.say("book.brief.since.nothing")
        return
    yield words.say(
        "book.brief.since.days",
        days=words.count("book.brief.days", len({entry.on for entry in entries})),
        day=day(entries[-1].on, words),
    )
    yield from _sums(entries, reader)


def _sums(entries: Sequence[LogEntry], reader: Reader) -> Iterator[str]:
    words = reader.words
    balls = [entry.balls for entry in entries if entry.balls is not None]
    if balls:
        yield words.count("book.brief.since.balls", sum(balls))
    rounds = sum(entry.rounds or 0 for entry in entries)
    if rounds:
        yield words.count("book.brief.since.rounds", rounds)
    misses = [entry.miss_count for entry in entries if entry.miss_count is not None]
    if misses:
        told = ", ".join(str(count) for count in misses[-_SENTENCES_MOST:])
        yield words.say("book.brief.since.misses", counts=told)


def _body(student: StudentRecap, reader: Reader) -> Iterator[str]:
    """What they told the coach, whatever a page may say of it."""
    who = student.student
    areas = (tell_area(area, who.hand, reader.words) for area in who.areas)
    conditions = (reader.words.say(f"care.condition.{key_of(c)}") for c in who.conditions)
    told = (*areas, *conditions)
    if told:
        yield reader.words.listed(told)


def _open(student: StudentRecap, last: Recap, reader: Reader) -> Iterator[str]:
    words = reader.words
    newest = student.recaps[-_LOOKED_BACK:]
    asked = [(recap, left_open((recap.private,))) for recap in reversed(newest)]
    told = [
        question
        if recap is last
        else words.say("book.brief.dated", day=day(recap.on, words), words=question)
        for recap, questions in asked
        for question in questions
    ]
    yield from (_line(each) for each in told[:_SENTENCES_MOST])
    compared = last.number.comparison
    if compared is not None and compared.verdict is Verdict.TOO_EARLY:
        name = quantity_name(compared.quantity, words)
        if compared.balls_needed is not None:
            yield words.say("book.brief.open.early", number=name, n=compared.balls_needed)
        else:
            yield words.say("book.brief.open.hidden", number=name)
    if not any(recap.notes.usual_miss for recap in student.recaps):
        yield words.say("book.brief.open.miss")


def _line(text: str, most: int = _SENTENCE_MOST) -> str:
    kept, cut = shortened(" ".join(text.split()), most)
    return f"{kept} …" if cut else kept
