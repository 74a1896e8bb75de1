"""What a student agreed to on a day; what was not agreed is taken out of recaps and clips."""

from collections.abc import Iterable
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from recapgen.model.between_lessons import QuestionRecap, QuestionWords, StudentQuestion
from recapgen.model.care import CareNote
from recapgen.model.consent_on_file import (
    band_on,
    bands_by_year,
    child_in_doubt,
    counting,
    lacks_guardian,
    turning_days,
    word_ends,
)
from recapgen.model.fix import Offer, Put, one_of
from recapgen.model.lesson import Lesson
from recapgen.model.people import Agreed, Student
from recapgen.model.practice_log import PracticeLog
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.recap import LessonCase, Recap, StudentRecap
from recapgen.model.source import SourceRef


class Grants(Struct, frozen=True):
    """What may be shown on one day; nothing by silence.

    ``case_shots`` are the numbers of a case and the drawing of its shots: without them it is told
    in words alone.

    ``changes_on`` is the next day on which any of it will be different with nothing changed
    on disk, or None.
    """

    page: bool = False
    clips: bool = False
    body: bool = False
    cases: bool = False
    case_clips: bool = False
    case_shots: bool = False
    changes_on: date | None = None


def grants(student: Student, today: date) -> Grants:
    """What ``student`` agreed to, as it stands ``today``.

    Clips and body hang on the page they would be on. A case may show clips only where both
    were agreed: clips at all, and clips in cases. ``until`` is the last day that counts,
    ``withdrawn`` the first that does not, and a line that says withdrawn outweighs a later
    ``since`` of its own. Of several answers the newest counts. A junior's needs a guardian, whose
    word ends with the year in which they turn 18; a birth year against the age band is doubt.
    ``model/consent_on_file.py`` knows which and until when.
    """
    now, band = _grants_on(student, today), band_on(student, today)
    for day in turning_days(student):
        if day > today and (_grants_on(student, day), band_on(student, day)) != (now, band):
            return replace(now, changes_on=day)
    return now


def took_back(student: Student, today: date) -> bool:
    """Whether what was agreed to plainly says that there is to be no page, or not any more."""
    agreed = counting(student, today)
    withdrawn = agreed.withdrawn is not None and agreed.withdrawn <= today
    return not agreed.unclear and (withdrawn or not agreed.page)


def consent_problems(
    student: Student,
    lessons: Iterable[Lesson],
    granted: Grants,
    today: date,
    questions: Iterable[StudentQuestion] = (),
) -> tuple[Problem, ...]:
    """What the coach asked for or dropped that is not agreed, or not any more.

    ``lessons`` are those of questions, too, as far as clips go.
    """
    agreed = counting(student, today)
    found = [*_against_the_year(student, today), *_standing(student, today)]
    for question in questions:
        if question.words.settled and granted.page and not _may_tell(question.words, granted):
            facts, offers = {"student": student.name}, _agreed_to(student, "body")
            found.append(Problem(Code.PAIN_NOT_AGREED, question.where, facts, offers=offers))
    for lesson in lessons:
        case = lesson.notes.case
        if case is not None and not (agreed.cases or agreed.unclear):
            facts = {"student": student.name}
            offers = (*_agreed_to(student, "cases"), *_agreed_to(student, "cases", "words"))
            found.append(Problem(Code.CASE_NOT_AGREED, case.where, facts, offers=offers))
        if lesson.clips and granted.page and not granted.clips:
            facts = {"student": student.name, "clips": str(len(lesson.clips))}
            offers, where = _agreed_to(student, "clips"), lesson.clips[0].where
            found.append(Problem(Code.CLIPS_NOT_AGREED, where, facts, offers=offers))
        if lesson.notes.care_words and granted.page and not granted.body:
            facts, offers = {"student": student.name}, _agreed_to(student, "body")
            where = lesson.notes.where
            found.append(Problem(Code.CARE_LINES_NOT_AGREED, where, facts, offers=offers))
    return tuple(found)


def _agreed_to(student: Student, what: str, answer: str = "yes") -> tuple[Offer, ...]:
    """The line under ``agreed:``, or in the answer that counts, for a coach who has asked."""
    here = student.agreed.where
    if here is not None:
        return one_of([Put(here, (what,), answer)])
    return one_of([Put(SourceRef(student.where.file), ("agreed", what), answer)])


def withhold_clips(lesson: Lesson, granted: Grants) -> Lesson:
    """``lesson`` without its clips, unless its page or its case may show them."""
    for_case = granted.case_clips and lesson.notes.case is not None
    return lesson if granted.clips or for_case else replace(lesson, clips=())


def page_view(student: StudentRecap, granted: Grants) -> StudentRecap:
    """The only thing a student's page may be made from.

    Without the coach's own (folder names, private words, problems, questions that wait), and
    without what was not agreed: clips; body flags, age, health, every note that gives one of them
    away, the coach's own lines beside those notes and questions that speak of pain, which may.
    """
    return replace(
        student,
        student=_shown_student(student.student, granted),
        recaps=tuple(_shown_recap(recap, granted) for recap in student.recaps),
        questions=tuple(
            _shown_question(question, granted)
            for question in student.questions
            if _may_tell(question.words, granted)
        ),
        problems=(),
        log=student.log if granted.body else _without_pain(student.log),
    )


def _grants_on(student: Student, day: date) -> Grants:
    agreed, ends = counting(student, day), word_ends(student, day)
    over = ends is not None and ends < day
    doubtful = over or child_in_doubt(student, day) or lacks_guardian(student, day)
    if doubtful or not _holds(agreed, day):
        return Grants()
    return Grants(
        page=agreed.page,
        clips=agreed.page and agreed.clips,
        body=agreed.page and agreed.body,
        cases=agreed.cases,
        case_clips=agreed.cases and agreed.clips and agreed.case_clips and not agreed.case_words,
        case_shots=agreed.cases and not agreed.case_words,
    )


def _holds(agreed: Agreed, day: date) -> bool:
    return not agreed.unclear and (
        (agreed.since is None or agreed.since <= day)
        and (agreed.until is None or day <= agreed.until)
        and (agreed.withdrawn is None or day < agreed.withdrawn)
    )


def _against_the_year(student: Student, today: date) -> Iterable[Problem]:
    """An age band that a birth year rules out; only where it may be a child's does it hold back."""
    if student.born is None or student.age_band is None:
        return
    fitting = bands_by_year(student.born, today)
    if student.age_band in fitting:
        return
    costs = None if child_in_doubt(student, today) else Cost.NOTHING
    facts = {"student": student.name, "born": str(student.born), "band": student.age_band}
    offers = one_of(Put(SourceRef(student.where.file), ("age band",), band) for band in fitting)
    yield Problem(Code.BORN_AGAINST_BAND, student.where, facts, costs, offers)


def _standing(student: Student, today: date) -> Iterable[Problem]:
    """The agreement as a whole: asked for, but not in force."""
    agreed, ends = counting(student, today), word_ends(student, today)
    if not (agreed.page or agreed.cases):
        return
    facts = {"student": student.name}
    if lacks_guardian(student, today):
        yield Problem(Code.JUNIOR_WITHOUT_GUARDIAN, student.where, facts)
    if agreed.withdrawn is not None:
        later = agreed.withdrawn > today
        code = Code.CONSENT_WITHDRAWN_LATER if later else Code.CONSENT_WITHDRAWN
        offers = _agreed_to(student, "withdrawn", today.isoformat()) if later else ()
        facts |= {"day": agreed.withdrawn.isoformat()}
        yield Problem(code, student.where, facts, offers=offers)
    elif agreed.until is not None and agreed.until < today:
        day = agreed.until.isoformat()
        yield Problem(Code.CONSENT_ENDED, student.where, facts | {"day": day})
    elif ends is not None and ends < today:
        day = ends.isoformat()
        yield Problem(Code.CONSENT_OF_A_CHILD, student.where, facts | {"day": day})
    elif agreed.since is not None and agreed.since > today:
        day = agreed.since.isoformat()
        yield Problem(Code.CONSENT_NOT_YET, student.where, facts | {"day": day})


def _shown_student(student: Student, granted: Grants) -> Student:
    shown = replace(student, key="", agreed=Agreed(), answers=(), born=None, band_by_year=False)
    if granted.body:
        return shown
    return replace(shown, age_band=None, areas=(), conditions=())


def _shown_recap(recap: Recap, granted: Grants) -> Recap:
    return replace(
        recap,
        key="",
        private=None,
        notes=recap.notes if granted.body else replace(recap.notes, care_words=()),
        films=recap.films if granted.clips else (),
        care=tuple(note for note in recap.care if _may_show(note, granted)),
        evidence=replace(recap.evidence, unknown_columns=()),
        case=LessonCase(links=recap.case.links),
    )


def _may_tell(question: QuestionWords, granted: Grants) -> bool:
    """Whether a question may have a page: it has its answer, and tells of no body unagreed."""
    return question.settled and (granted.body or not question.pain)


def _shown_question(question: QuestionRecap, granted: Grants) -> QuestionRecap:
    films = question.films if granted.clips else ()
    return replace(question, key="", private=None, films=films)


def _without_pain(log: PracticeLog) -> PracticeLog:
    return replace(log, entries=tuple(replace(e, pain=None, pain_place=None) for e in log.entries))


def _may_show(note: CareNote, granted: Grants) -> bool:
    return note.shown and (granted.body or not note.body)
