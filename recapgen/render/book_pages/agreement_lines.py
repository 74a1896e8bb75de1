"""What a student agreed to, in the coach's book: as it stands, before that, and what is to end."""

from collections.abc import Iterator
from datetime import date, timedelta

from recapgen.model.consent_on_file import (
    asked_themselves_from,
    child_in_doubt,
    junior_on,
    lacks_guardian,
    last_day_of_childhood,
    word_ends,
)
from recapgen.model.people import AgeBand, Agreed, GivenBy, Student
from recapgen.words.amounts import day
from recapgen.words.catalogue import Words

SOON_DAYS = 30
_ASK_AGAIN_DAYS = 365
_THINGS = ("page", "clips", "body", "cases", "case_clips")


def agreement(student: Student, today: date, words: Words) -> tuple[str, ...]:
    """What the student agreed to, since when, when it ends, and what came before, in sentences."""
    agreed = student.agreed
    return (
        *_standing(student, today, words),
        *_things(agreed, words),
        *_days(student, today, words),
        *_signed(agreed, words),
        *_asked(student, words),
        *_before(student, words),
    )


def consent_due(student: Student, today: date, words: Words) -> Iterator[str]:
    """What ended, what ends within 30 days, and whom to ask again."""
    agreed = student.agreed
    if agreed.withdrawn is not None and agreed.withdrawn <= today:
        return  # they said no; asking again is not a duty
    if agreed.withdrawn is not None and _soon(agreed.withdrawn, today):
        yield words.say("book.agreed.will-be-withdrawn", day=day(agreed.withdrawn, words))
    if agreed.until is not None and agreed.until < today:
        yield words.say("book.look.ended", day=day(agreed.until, words))
    elif agreed.until is not None and _soon(agreed.until, today):
        yield words.say("book.look.ends", day=day(agreed.until, words))
    yield from _growing_up(student, today, words)
    days = [on for on in (agreed.since, student.asked) if on is not None and on <= today]
    if not days:
        yield words.say("book.look.never-asked")
    elif today - max(days) > timedelta(days=_ASK_AGAIN_DAYS):
        yield words.say("book.look.ask-again", day=day(max(days), words))


def _growing_up(student: Student, today: date, words: Words) -> Iterator[str]:
    """Somebody who turns 18 is asked in their own name, from the first day of that year."""
    if student.born is None:
        if junior_on(student, today):
            yield words.say("book.look.birth-year")
        return
    last, told = last_day_of_childhood(student.born), word_ends(student, today)
    given = student.agreed.page or student.agreed.cases
    if told is not None and given and last < today:
        yield words.say("book.look.of-age", day=day(last, words))
    elif told is not None and given and asked_themselves_from(student.born) <= today:
        yield words.say("book.look.turns-18", day=day(last, words))
    written = student.age_band is AgeBand.JUNIOR and not student.band_by_year
    if written and _soon(last, today):
        yield words.say("book.look.junior-ends", day=day(last, words))


def _soon(last: date, today: date) -> bool:
    return timedelta(0) <= last - today <= timedelta(days=SOON_DAYS)


def _standing(student: Student, today: date, words: Words) -> Iterator[str]:
    agreed, ends = student.agreed, word_ends(student, today)
    if agreed.unclear:
        yield words.say("book.agreed.unclear")
    if child_in_doubt(student, today):
        yield words.say("book.agreed.age-in-doubt")
    if agreed.withdrawn is not None:
        key = "withdrawn" if agreed.withdrawn <= today else "will-be-withdrawn"
        yield words.say(f"book.agreed.{key}", day=day(agreed.withdrawn, words))
    elif agreed.until is not None and agreed.until < today:
        yield words.say("book.agreed.ended", day=day(agreed.until, words))
    elif ends is not None and ends < today:
        yield words.say("book.agreed.grown-up", day=day(ends, words))
    if lacks_guardian(student, today):
        yield words.say("book.agreed.no-guardian")


def _things(agreed: Agreed, words: Words) -> Iterator[str]:
    given = [name for name in _THINGS if getattr(agreed, name)]
    if not given:
        yield words.say("book.agreed.nothing")
        return
    refused = [name for name in _THINGS if name not in given]
    yield words.say("book.agreed.to", things=_named(given, agreed, words))
    if refused:
        yield words.say("book.agreed.not-to", things=_named(refused, agreed, words))


def _named(things: list[str], agreed: Agreed, words: Words) -> str:
    keys = {name: name.replace("_", "-") for name in _THINGS}
    keys["cases"] = "case-words" if agreed.case_words else "cases"
    return ", ".join(words.say(f"book.agreed.{keys[name]}") for name in things)


def _days(student: Student, today: date, words: Words) -> Iterator[str]:
    agreed, ends = student.agreed, word_ends(student, today)
    if agreed.since is not None:
        key = "since" if agreed.since <= today else "not-yet"
        yield words.say(f"book.agreed.{key}", day=day(agreed.since, words))
    if agreed.until is not None and agreed.until >= today:
        yield words.say("book.agreed.until", day=day(agreed.until, words))
    elif agreed.until is None and agreed.page and ends is None:
        yield words.say("book.agreed.no-end")
    if ends is not None and agreed.page and ends >= today:
        yield words.say("book.agreed.until-18", day=day(ends, words))


def _signed(agreed: Agreed, words: Words) -> Iterator[str]:
    """By whom, and on which sheet."""
    if agreed.by is GivenBy.STUDENT:
        yield words.say("book.agreed.own-word")
    guardian = agreed.guardian
    if guardian is not None and guardian.relation:
        name, relation = guardian.name, guardian.relation
        yield words.say("book.agreed.guardian.relation", name=name, relation=relation)
    elif guardian is not None:
        yield words.say("book.agreed.guardian", name=guardian.name)
    if agreed.sheet:
        yield words.say("book.agreed.sheet", sheet=agreed.sheet)


def _asked(student: Student, words: Words) -> Iterator[str]:
    for name, on in (("asked", student.asked), ("clinician", student.clinician_asked)):
        if on is not None:
            yield words.say(f"book.agreed.{name}", day=day(on, words))


def _before(student: Student, words: Words) -> Iterator[str]:
    """Every other answer on file, newest first."""
    for answer in reversed(student.answers):
        if answer.since is None or answer.since == student.agreed.since:
            continue
        given = [name for name in _THINGS if getattr(answer, name)]
        things = _named(given, answer, words) or words.say("book.agreed.not-a-thing")
        told = [words.say("book.agreed.answer", day=day(answer.since, words), things=things)]
        told += _signed(answer, words)
        if answer.withdrawn is not None:
            told.append(words.say("book.agreed.taken-back", day=day(answer.withdrawn, words)))
        yield words.together(told)
