"""What may be shown, day by day."""

from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.model.care import CareNote, Level, NoteCode, NoteFacts
from recapgen.model.films import Film
from recapgen.model.lesson import CaseNote, ClipFile, Lesson, Notes
from recapgen.model.people import AgeBand, Agreed, Area, Condition, Guardian, Student
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.problem import Code, Cost, Severity
from recapgen.model.recap import LessonCase, LessonEvidence, Recap, StudentRecap
from recapgen.model.source import SourceRef
from recapgen.model.units import Units
from recapgen.privacy.consent import (
    Grants,
    consent_problems,
    grants,
    page_view,
    withhold_clips,
)

DAY = date(2027, 4, 11)
EVERYTHING = Agreed(page=True, clips=True, body=True, cases=True, case_clips=True)
ALL = Grants(page=True, clips=True, body=True, cases=True, case_clips=True, case_shots=True)
NONE = Grants()


def student(agreed: Agreed, age_band: AgeBand | None = AgeBand.ADULT) -> Student:
    return Student("marta-k", "Marta", age_band=age_band, agreed=agreed)


def lesson(*, case: bool = False, clips: int = 0) -> Lesson:
    where = SourceRef("marta-k/2027-04-11/notes.md", 4, 1)
    note = CaseNote("starts-right", "The driver", None, where) if case else None
    return Lesson(
        key="2027-04-11",
        on=DAY,
        folder=Path("marta-k/2027-04-11"),
        where=where,
        notes=Notes(where, "words", case=note),
        private="private words",
        seal=None,
        shots=None,
        clips=tuple(
            ClipFile(Path(f"{n}.mov"), SourceRef(f"{n}.mov"), None, None, None, None, where)
            for n in range(clips)
        ),
    )


@pytest.mark.parametrize(
    ("agreed", "day", "expected"),
    [
        (Agreed(), DAY, NONE),
        (EVERYTHING, DAY, ALL),
        (replace(EVERYTHING, unclear=True), DAY, NONE),
        (replace(EVERYTHING, since=DAY), DAY, ALL),
        (replace(EVERYTHING, since=DAY), DAY - timedelta(days=1), replace(NONE, changes_on=DAY)),
        (
            replace(EVERYTHING, until=DAY),
            DAY,
            replace(ALL, changes_on=DAY + timedelta(days=1)),
        ),
        (replace(EVERYTHING, until=DAY), DAY + timedelta(days=1), NONE),
        (
            replace(EVERYTHING, withdrawn=DAY),
            DAY - timedelta(days=1),
            replace(ALL, changes_on=DAY),
        ),
        (replace(EVERYTHING, withdrawn=DAY), DAY, NONE),
        (replace(EVERYTHING, withdrawn=DAY, since=DAY + timedelta(days=9)), DAY, NONE),
        (replace(EVERYTHING, until=date.max), DAY, ALL),
        (Agreed(clips=True, body=True, case_clips=True), DAY, NONE),
        (Agreed(page=True), DAY, Grants(page=True)),
        (Agreed(cases=True, case_clips=True), DAY, Grants(cases=True, case_shots=True)),
        (
            Agreed(cases=True, clips=True, case_clips=True),
            DAY,
            Grants(cases=True, case_clips=True, case_shots=True),
        ),
    ],
)
def test_what_holds_on_a_day(agreed: Agreed, day: date, expected: Grants) -> None:
    assert grants(student(agreed), day) == expected


@pytest.mark.parametrize("guardian", [None, Guardian(""), Guardian("   ")])
def test_a_junior_without_a_guardian_gets_nothing(guardian: Guardian | None) -> None:
    junior = student(replace(EVERYTHING, guardian=guardian), AgeBand.JUNIOR)
    assert grants(junior, DAY) == NONE
    (problem,) = consent_problems(junior, (), NONE, DAY)
    assert problem.code is Code.JUNIOR_WITHOUT_GUARDIAN
    assert problem.cost is Cost.STUDENT


def test_a_junior_with_a_guardian_is_like_anybody() -> None:
    junior = student(replace(EVERYTHING, guardian=Guardian("Rosa Lind")), AgeBand.JUNIOR)
    assert grants(junior, DAY) == ALL
    assert consent_problems(junior, (), ALL, DAY) == ()


DAYS = st.none() | st.dates(DAY - timedelta(days=5), DAY + timedelta(days=5))


@given(since=DAYS, until=DAYS, withdrawn=DAYS, guardian=st.none() | st.just(Guardian("Rosa")))
def test_the_answer_holds_until_the_day_it_names(
    since: date | None, until: date | None, withdrawn: date | None, guardian: Guardian | None
) -> None:
    agreed = replace(EVERYTHING, since=since, until=until, withdrawn=withdrawn, guardian=guardian)
    one = student(agreed, AgeBand.JUNIOR)
    now = grants(one, DAY)
    later = [DAY + timedelta(days=n) for n in range(1, 12)]
    answers = [replace(grants(one, day), changes_on=None) for day in later]
    first = next(
        (d for d, a in zip(later, answers, strict=True) if a != replace(now, changes_on=None)),
        None,
    )
    assert now.changes_on == first


@pytest.mark.parametrize(
    ("agreed", "code", "day"),
    [
        (replace(EVERYTHING, until=date(2027, 4, 10)), Code.CONSENT_ENDED, "2027-04-10"),
        (replace(EVERYTHING, withdrawn=DAY), Code.CONSENT_WITHDRAWN, "2027-04-11"),
        (
            replace(EVERYTHING, withdrawn=date(2027, 4, 12)),
            Code.CONSENT_WITHDRAWN_LATER,
            "2027-04-12",
        ),
        (replace(EVERYTHING, since=date(2027, 4, 12)), Code.CONSENT_NOT_YET, "2027-04-12"),
    ],
)
def test_an_agreement_not_in_force_is_named_with_its_day(
    agreed: Agreed, code: Code, day: str
) -> None:
    (problem,) = consent_problems(student(agreed), (), grants(student(agreed), DAY), DAY)
    assert (problem.code, problem.facts["day"]) == (code, day)
    assert problem.severity is Severity.WARNING


def test_a_refusal_is_no_problem() -> None:
    assert consent_problems(student(Agreed()), (lesson(),), NONE, DAY) == ()


def test_a_case_needs_consent() -> None:
    only_page = Agreed(page=True, clips=True)
    granted = grants(student(only_page), DAY)
    (problem,) = consent_problems(student(only_page), (lesson(case=True),), granted, DAY)
    assert (problem.code, problem.cost) == (Code.CASE_NOT_AGREED, Cost.CASE)
    assert problem.where == SourceRef("marta-k/2027-04-11/notes.md", 4, 1)


def test_the_coach_s_care_lines_wait_for_a_yes_to_notes_about_the_body() -> None:
    agreed = Agreed(page=True)
    lines = lesson()
    lines = replace(lines, notes=replace(lines.notes, care_words=("Mind the bad wrist.",)))
    (problem,) = consent_problems(student(agreed), (lines,), grants(student(agreed), DAY), DAY)
    assert (problem.code, problem.cost) == (Code.CARE_LINES_NOT_AGREED, Cost.NOTHING)
    with_body = Agreed(page=True, body=True)
    granted = grants(student(with_body), DAY)
    assert consent_problems(student(with_body), (lines,), granted, DAY) == ()
    recap = told().recaps[0]
    spoken = replace(told(), recaps=(replace(recap, notes=lines.notes),))
    assert page_view(spoken, Grants(page=True)).recaps[0].notes.care_words == ()
    assert page_view(spoken, ALL).recaps[0].notes.care_words == ("Mind the bad wrist.",)


def test_clips_that_were_not_agreed_are_named_and_withheld() -> None:
    granted = grants(student(Agreed(page=True)), DAY)
    filmed = lesson(clips=3)
    (problem,) = consent_problems(student(Agreed(page=True)), (filmed,), granted, DAY)
    assert (problem.code, problem.facts["clips"]) == (Code.CLIPS_NOT_AGREED, "3")
    assert withhold_clips(filmed, granted).clips == ()


@pytest.mark.parametrize(
    ("granted", "case", "kept"),
    [
        (Grants(page=True, clips=True), False, 2),
        (Grants(cases=True, case_clips=True), False, 0),
        (Grants(cases=True, case_clips=True), True, 2),
        (Grants(cases=True), True, 0),
    ],
)
def test_clips_stay_only_for_what_may_show_them(granted: Grants, case: bool, kept: int) -> None:
    assert len(withhold_clips(lesson(case=case, clips=2), granted).clips) == kept


def told() -> StudentRecap:
    film = Film(None, (), Path("a.mp4"), Path("a.jpg"), "f00", 30, 90, 45, 640, 360)
    notes = [
        CareNote(NoteCode.FLAGGED_AREA, Level.CARE, NoteFacts(), "flag", body=True, shown=True),
        CareNote(NoteCode.WARM_UP, Level.INFO, NoteFacts(), "always", body=False, shown=True),
        CareNote(NoteCode.SUN, Level.INFO, NoteFacts(), "always", body=False, shown=False),
    ]
    recap = Recap(
        key="2027-04-11 wet",
        on=DAY,
        page="2027-04-11-bcdf.html",
        notes=lesson().notes,
        private="she is moving house",
        films=(film,),
        care=tuple(notes),
        evidence=LessonEvidence(unknown_columns=("Secret heading",)),
        case=LessonCase(lesson(case=True).notes.case, "bcdf.html", (film,)),
    )
    person = Student(
        "marta-k",
        "Marta",
        age_band=AgeBand.SENIOR,
        areas=(Area.LOW_BACK,),
        conditions=(Condition.HEART,),
        agreed=replace(EVERYTHING, guardian=Guardian("Rosa Lind", "mother")),
        answers=(Agreed(page=True, since=DAY), replace(EVERYTHING, since=DAY, sheet="1")),
        born=1960,
    )
    log = PracticeLog(
        (LogEntry(DAY, SourceRef("practice.csv", 2), balls=40, pain=True, pain_place="wrist"),),
        kept=True,
    )
    return StudentRecap(person, Units(), "bcdf", True, (recap,), (), log)


def test_a_page_is_made_from_nothing_that_was_not_agreed() -> None:
    view = page_view(told(), Grants(page=True))
    assert view.student == Student("", "Marta")
    (recap,) = view.recaps
    assert recap.films == ()
    assert (recap.key, recap.private, recap.case) == ("", None, LessonCase())
    assert recap.evidence.unknown_columns == ()
    assert [note.code for note in recap.care] == [NoteCode.WARM_UP]
    assert view.log.entries[0].balls == 40
    assert (view.log.entries[0].pain, view.log.entries[0].pain_place) == (None, None)


def test_a_page_shows_all_that_was_agreed() -> None:
    view = page_view(told(), ALL)
    (recap,) = view.recaps
    assert len(recap.films) == 1
    assert [note.code for note in recap.care] == [NoteCode.FLAGGED_AREA, NoteCode.WARM_UP]
    assert view.student.areas == (Area.LOW_BACK,)
    assert view.log.entries[0].pain_place == "wrist"
    assert recap.private is None
    assert view.student.key == ""
