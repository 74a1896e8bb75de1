"""Past lessons for somebody who asks: those that may be shown, and those one could ask for.

The newest of a student with the same miss and club stands for them, never the best, and three of
them are enough to ask for. Whoever
agreed to nothing, or took it back, is not among them and is not to be asked again.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from msgspec.structs import replace

from recapgen.book.lesson_endings import Joined, intent_of, names_of
from recapgen.model.book import Example, LessonPlace, Standing, intent_key
from recapgen.model.consent_on_file import (
    child_in_doubt,
    guardian_of,
    junior_on,
    lacks_guardian,
    word_ends,
)
from recapgen.model.people import Student
from recapgen.model.public import CASES, public_path
from recapgen.model.recap import Recap, StudentRecap

_MOST_OF_ONE = 3
"""Lessons that one could ask a student for."""


def find_examples(
    students: Iterable[StudentRecap],
    today: date,
    up: frozenset[str] | None,
    *,
    misses: Joined = (),
    intents: Joined = (),
) -> tuple[Example, ...]:
    """Those that may be shown first, then those to be written, then those to ask for; by day."""
    miss_names, intent_names = names_of(misses), names_of(intents)
    found = [
        example
        for student in students
        for example in _of_one(student, today, up, miss_names, intent_names)
    ]
    order = list(Standing)
    found.sort(key=lambda each: (each.on, each.name), reverse=True)
    return tuple(sorted(found, key=lambda each: order.index(each.standing)))


def _of_one(
    student: StudentRecap,
    today: date,
    up: frozenset[str] | None,
    misses: Mapping[str, str],
    intents: Mapping[str, str],
) -> Iterator[Example]:
    if not _may_be_asked(student.student, today):
        return
    met: set[tuple[str | None, str | None]] = set()
    for recap in reversed(student.recaps):
        standing = _standing(student, recap, today, up)
        alike = (recap.notes.usual_miss, recap.notes.club)
        if standing is not Standing.SHOWN:
            if alike in met or not intent_of(recap) or len(met) == _MOST_OF_ONE:
                continue
            met.add(alike)
        guardian = _who_agrees_for(student.student, today)
        yield replace(_example(student, recap, standing, misses, intents), guardian=guardian)


def _may_be_asked(student: Student, today: date) -> bool:
    agreed = student.agreed
    if not (agreed.page or agreed.cases) or agreed.unclear:
        return False
    if agreed.withdrawn is not None or (agreed.since is not None and agreed.since > today):
        return False
    return not (child_in_doubt(student, today) or lacks_guardian(student, today))


def _standing(
    student: StudentRecap, recap: Recap, today: date, up: frozenset[str] | None
) -> Standing:
    page, agreed = recap.case.page, student.student.agreed
    if page is not None and (up is None or public_path(CASES, page) in up):
        return Standing.SHOWN
    ends = [agreed.until, word_ends(student.student, today)]
    ended = any(day is not None and day < today for day in ends)
    return Standing.UNTOLD if agreed.cases and not ended else Standing.TO_ASK


def _example(
    student: StudentRecap,
    recap: Recap,
    standing: Standing,
    misses: Mapping[str, str],
    intents: Mapping[str, str],
) -> Example:
    who, club, case = student.student, recap.notes.club, recap.case
    return Example(
        place=LessonPlace(who.key, recap.page),
        name=who.name,
        on=recap.on,
        standing=standing,
        title=case.note.title if case.note is not None else None,
        miss=_joined(recap.notes.usual_miss, misses),
        intent=_joined(intent_of(recap), intents),
        club=club,
        club_kind=club.rsplit(" ", 1)[-1] if club else None,
        age_band=who.age_band,
        hand=who.hand,
        language=who.language,
        guardian=None,
        case=case.page if standing is Standing.SHOWN else None,
    )


def _who_agrees_for(student: Student, today: date) -> str | None:
    guardian = guardian_of(student, today) if junior_on(student, today) else None
    return None if guardian is None else guardian.name


def _joined(typed: str | None, names: Mapping[str, str]) -> str | None:
    return names.get(intent_key(typed), typed) if typed else None
