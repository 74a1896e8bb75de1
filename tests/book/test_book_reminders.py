"""What the book asks the coach to look after: ask-firsts, loads, pains, agreements, sheets."""

from datetime import date, timedelta

import pytest
from msgspec.structs import replace

from recapgen.model.care import CareNote, Level, NoteCode, NoteFacts, WeekSoFar
from recapgen.model.evidence import GuardFinding, Kept, SmallestChangeFrom, Verdict
from recapgen.model.people import AgeBand, Agreed, Guardian
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.recap import Recap, StudentRecap
from recapgen.model.source import SourceRef
from recapgen.render.book_pages.agreement_lines import agreement
from recapgen.words.catalogue import key_of
from tests.book.test_book_site import EN, TODAY, page, site, text, two_lessons
from tests.book.told import SECOND, comparison, recap, student


def _waiting(marta: StudentRecap) -> str:
    return text(page(site(marta), "student-marta.html").split('<h2 id="agreed"')[0])


def _with_care(note: CareNote, told: Recap, published: bool = True) -> StudentRecap:
    return student(replace(told, care=(note,)), published=published)


def test_an_ask_first_of_the_latest_plan_waits_and_must_be_said_where_the_page_is_silent() -> None:
    told = recap("2027-04-25", SECOND, compared=comparison())
    note = told.care[0]
    asked = "Ask first (25 April 2027): right wrist: this feel may ask a bit more there."
    assert f"{asked} The page says so." in _waiting(_with_care(note, told))
    alone = f"{asked} The page doesn't say so, so tell them yourself."
    assert alone in _waiting(_with_care(replace(note, shown=False), told))
    assert alone in _waiting(_with_care(note, told, published=False))
    older = recap(compared=comparison())
    newer = replace(told, care=())
    assert "Nothing's waiting." in _waiting(student(older, newer))


def test_raised_loads_and_pains_of_the_last_month_are_told() -> None:
    step = CareNote(
        NoteCode.SESSION_STEP,
        Level.NOTE,
        NoteFacts(balls=80, biggest=60),
        "balls",
        body=False,
        shown=True,
    )
    marta = _with_care(step, recap("2027-04-25", SECOND))
    assert "Practice load (25 April 2027): the plan has 80 balls a session" in _waiting(marta)
    assert "Practice load" not in _waiting(_with_care(step, recap(on=TODAY - timedelta(days=31))))
    pains = tuple(
        LogEntry(TODAY - timedelta(days=ago), SourceRef("log"), pain=pain, pain_place=place)
        for ago, pain, place in (
            (31, True, "knee"),
            (30, True, "elbow"),
            (2, True, None),
            (1, False, None),
        )
    )
    read = _waiting(replace(marta, log=PracticeLog(pains, kept=True)))
    assert "They logged pain on 29 March 2027: elbow." in read
    assert "They logged pain on 26 April 2027." in read
    assert "knee" not in read
    assert read.count("They logged pain") == 2


@pytest.mark.parametrize(
    ("agreed", "due"),
    [
        (Agreed(page=True, since=TODAY - timedelta(days=365)), ""),
        (Agreed(page=True, since=TODAY - timedelta(days=366)), "over a year ago, so ask again"),
        (Agreed(page=True), "when you last asked this student"),
        (Agreed(page=True, since=TODAY, until=TODAY + timedelta(days=31)), ""),
        (
            Agreed(page=True, since=TODAY, until=TODAY + timedelta(days=30)),
            "Their agreement ends on",
        ),
        (Agreed(page=True, since=TODAY, until=TODAY), "Their agreement ends on"),
        (Agreed(page=True, since=TODAY, until=TODAY - timedelta(days=1)), "ask again"),
        (Agreed(page=True, withdrawn=TODAY), ""),
        (
            Agreed(page=True, withdrawn=TODAY + timedelta(days=1)),
            "when you last asked this student",
        ),
    ],
)
def test_who_must_be_asked_again(agreed: Agreed, due: str) -> None:
    read = _waiting(student(agreed=agreed))
    assert due in read
    assert ("Nothing's waiting." in read) is (due == "")


def test_what_was_agreed_is_told_in_full() -> None:
    told = agreement(
        student(
            agreed=Agreed(
                page=True,
                clips=True,
                since=date(2027, 1, 3),
                until=date(2028, 1, 3),
                guardian=Guardian("Rosa Lind"),
            )
        ).student,
        TODAY,
        EN,
    )
    assert told == (
        "Agreed to: a page, clips.",
        (
            "Didn't agree to: notes about body, age and health, cases without their name, "
            "clips in cases."
        ),
        "They agreed on 3 January 2027.",
        "Their agreement holds until 3 January 2028.",
        "Guardian: Rosa Lind.",
    )


@pytest.mark.parametrize(
    ("agreed", "band", "first"),
    [
        (Agreed(), None, "They haven't agreed to anything, so they're only in this book."),
        (
            Agreed(withdrawn=TODAY),
            None,
            "They took back their agreement on 28 April 2027, so we don't show anything.",
        ),
        (
            Agreed(withdrawn=TODAY + timedelta(days=1)),
            None,
            "They're taking back their agreement on 29 April 2027.",
        ),
        (
            Agreed(until=SECOND),
            None,
            "Their agreement ended on 25 April 2027, so we don't show anything.",
        ),
        (
            Agreed(),
            AgeBand.JUNIOR,
            "They're a junior, so we need a guardian's name before we show anything.",
        ),
        (
            Agreed(unclear=True),
            None,
            "We aren't sure what student.yml says they agreed to, so we don't show anything.",
        ),
    ],
)
def test_what_stands_in_the_way_comes_first(
    agreed: Agreed, band: AgeBand | None, first: str
) -> None:
    marta = replace(student(agreed=agreed).student, age_band=band)
    assert agreement(marta, TODAY, EN)[0] == first


def test_every_phrase_of_verdict_and_finding_has_its_words() -> None:
    for verdict in Verdict:
        for kind in ("verdict", "reading"):
            assert EN.has(f"book.{kind}.{key_of(verdict)}")
    assert all(EN.has(f"book.kept.{key_of(kept)}") for kept in Kept)
    assert all(EN.has(f"book.matters.{source}") for source in SmallestChangeFrom)
    assert all(EN.has(f"book.guard.{key_of(f)}") for f in GuardFinding)


def test_an_ask_first_stands_until_the_student_says_that_a_clinician_was_asked() -> None:
    note = CareNote(
        NoteCode.CONDITION_HEART,
        Level.ASK_FIRST,
        NoteFacts(),
        "typed: heart",
        body=True,
        shown=True,
    )
    told = _with_care(note, recap("2027-04-25", SECOND))
    assert "Ask first" in _waiting(told)
    for days, outstanding in ((-1, True), (0, False), (1, False)):
        asked = SECOND + timedelta(days=days)
        answered = replace(told, student=replace(told.student, clinician_asked=asked))
        assert ("Ask first" in _waiting(answered)) is outstanding


@pytest.mark.parametrize(
    ("since", "asked", "due"),
    [
        (None, None, "Go through the questions"),
        (None, TODAY - timedelta(days=365), ""),
        (None, TODAY - timedelta(days=366), "over a year ago, so ask again"),
        (TODAY - timedelta(days=400), TODAY - timedelta(days=3), ""),
        (TODAY - timedelta(days=3), TODAY - timedelta(days=400), ""),
        (None, TODAY + timedelta(days=3), "Go through the questions"),
    ],
)
def test_whoever_was_not_asked_for_a_year_is_listed(
    since: date | None, asked: date | None, due: str
) -> None:
    told = student(agreed=Agreed(page=True, since=since))
    read = _waiting(replace(told, student=replace(told.student, asked=asked)))
    assert due in read
    assert ("Nothing's waiting." in read) is (due == "")


def test_a_raised_week_is_told_in_the_students_own_numbers() -> None:
    week = WeekSoFar(180, 60.0, 90, 40, (NoteCode.SESSION_STEP, NoteCode.WEEK_STEP))
    read = _waiting(replace(student(agreed=Agreed(page=True, since=TODAY)), week=week))
    assert "a session of 90 balls. Their biggest in the month before was 40." in read
    assert "180 balls. Their usual week has about 60." in read
    quiet = replace(week, raised=())
    assert "log" not in _waiting(
        replace(student(agreed=Agreed(page=True, since=TODAY)), week=quiet)
    )


def test_the_diary_tells_the_coach_of_pain() -> None:
    entries = (
        LogEntry(
            TODAY - timedelta(days=5), SourceRef("marta/practice.csv", 2), balls=40, pain=False
        ),
        LogEntry(TODAY, SourceRef("marta/practice.csv", 3), balls=30, pain=True, pain_place="rib"),
    )
    marta = replace(two_lessons(), log=PracticeLog(entries, kept=True))
    read = text(page(site(marta), "student-marta.html"))
    assert "30 – – – – – – rib" in read
    assert "40 – – – – – – no" in read
