"""The plan as the student reads it, its sessions in a calendar, and rounds beside lessons."""

import re
from datetime import date, timedelta
from html import unescape
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.model.care import CareNote, Level, NoteCode, NoteFacts
from recapgen.model.lesson import Declaration, Direction, DrillStep, Practice, PracticeOrder, Want
from recapgen.model.people import AgeBand, Review
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.quantity import Quantity
from recapgen.model.recap import LessonPractice, Recap, StudentRecap
from recapgen.model.source import SourceRef
from recapgen.render.charts.load_chart import load_chart
from recapgen.render.reader import reader_of
from recapgen.render.session_calendar import session_calendar, session_days
from recapgen.render.student_site import student_site
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import COACH, full_recap, student, words_only

EN = words("en")
ON = date(2027, 4, 11)
DECLARED = Declaration(
    Quantity.CLUB_PATH,
    Want(Direction.LOWER),
    smallest_change=None,
    guard=None,
    stated=True,
    where=SourceRef("a/l/notes.md"),
)
HERE = SourceRef("a/practice.csv", 2)


def with_plan(practice: Practice | None) -> Recap:
    recap = full_recap()
    notes = replace(recap.notes, practice=practice, declaration=DECLARED)
    return replace(recap, notes=notes, practice=LessonPractice())


def text(body: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).split())


def slip(recap: Recap) -> str:
    built = student_site(student(recap), COACH, EN)
    return {page.path: page.body for page in built.pages}["practice.html"]


def test_a_step_says_all_that_was_written_of_it() -> None:
    step = DrillStep(
        "Half swings",
        5,
        None,
        sets=3,
        rest_s=90,
        club="7 iron",
        speed_percent=60,
        right_when="it starts straight",
        stop_when="the finish wobbles",
        weeks=(1, 2),
        words="Stand **close**.",
    )
    told = slip(with_plan(Practice(steps=(step,))))
    assert "<strong>close</strong>" in told
    for part in (
        "3 × 5 balls",
        "7 iron · at about 60% of your full speed · rest 90 seconds between sets · in weeks 1 to 2",
        "You've got it when it starts straight",
        "Stop when the finish wobbles",
    ):
        assert part in text(told)


def test_blocked_comes_first_then_varied_then_the_test() -> None:
    steps = (
        DrillStep("Mixed clubs", 10, None, way=PracticeOrder.VARIED),
        DrillStep("Breathe", None, 3),
        DrillStep("One club", 10, None, way=PracticeOrder.BLOCKED),
    )
    told = text(slip(with_plan(Practice(steps=steps))))
    parts = ("again and again", "One club", "Also", "Breathe", "mix it up", "Mixed clubs",
             "The test: what stuck?", "10 balls with the driver at one target")  # fmt: skip
    places = [told.index(part) for part in parts]
    assert places == sorted(places)


def test_the_coachs_own_test_is_told_and_without_a_number_there_is_none() -> None:
    own = Practice(test=DrillStep("Twelve to one flag.", 12, None))
    assert "Twelve to one flag, 12 balls." in text(slip(with_plan(own)))
    recap = with_plan(Practice(steps=(DrillStep("Putt", 20, None),)))
    plain = replace(recap, notes=replace(recap.notes, declaration=None))
    assert "The test: what stuck?" not in slip(plain)


def test_the_fold_names_every_shown_note_with_its_trigger_and_source() -> None:
    recap = full_recap()
    built = student_site(student(recap), COACH, EN)
    body = text({page.path: page.body for page in built.pages}[recap.page])
    fold = body[body.index("Why we say this") :]
    for note in recap.care:
        if note.shown:
            name, source = (EN.say(f"care.{note.code}.{part}") for part in ("name", "source"))
            assert f"{name}." in fold
            assert source in fold


def test_the_coach_adds_words_and_takes_none_away() -> None:
    recap = full_recap()
    added = replace(recap, notes=replace(recap.notes, care_words=("Sit <b>down</b>.",)))
    pages = [
        {page.path: page.body for page in student_site(student(r), COACH, EN).pages}[recap.page]
        for r in (recap, added)
    ]
    assert "From your coach Sit <b>down</b>." in text(pages[1])
    assert "<b>down" not in pages[1]
    stop = EN.say("page.care.stop")
    assert all(stop in text(page) for page in pages)


def test_who_read_the_notes_is_said_only_where_somebody_did() -> None:
    recap = full_recap()
    review = Review("Ada Moor", "physiotherapist", date(2027, 1, 3))
    for coach, said in ((COACH, False), (replace(COACH, reviewed=review), True)):
        built = student_site(student(recap), coach, EN)
        body = text({page.path: page.body for page in built.pages}[recap.page])
        assert (
            "Ada Moor, physiotherapist, read through the safety notes on 3 January 2027" in body
        ) is said
        assert ("read through" in body) is said


@pytest.mark.parametrize(("band", "said"), [(AgeBand.JUNIOR, True), (AgeBand.ADULT, False)])
def test_a_juniors_page_speaks_to_the_adult(band: AgeBand, said: bool) -> None:
    told = student(full_recap())
    told = replace(told, student=replace(told.student, age_band=band))
    built = student_site(told, COACH, EN)
    for page in built.pages:
        if page.path in ("practice.html", full_recap().page):
            assert ("For the parent or guardian:" in page.body) is said


@pytest.mark.parametrize("sessions", range(1, 22))
def test_the_calendar_leaves_days_free(sessions: int) -> None:
    days = [session.on for session in session_days(ON, sessions, 4)]
    assert len(days) == len(set(days)) == 4 * min(sessions, 6)
    assert ON + timedelta(days=1) < days[0]
    gaps = [(b - a).days for a, b in pairwise(days)]
    if sessions <= 3:
        assert min(gaps, default=2) >= 2
    for start in range(28):
        week = {ON + timedelta(days=start + n) for n in range(7)}
        assert len(week & set(days)) <= min(sessions, 6)


def unfolded(calendar: str) -> list[str]:
    assert calendar.endswith("\r\n")
    assert "\n" not in calendar.replace("\r\n", "")
    for line in calendar.split("\r\n"):
        assert len(line.encode()) <= 75
    return calendar.replace("\r\n ", "").split("\r\n")[:-1]


def read_text(value: str) -> str:
    return re.sub(r"\\(.)", lambda m: "\n" if m[1] in "nN" else m[1], value)


@given(
    st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1, max_size=200),
    st.integers(1, 21),
    st.integers(1, 60),
)
def test_any_words_make_a_calendar_that_reads_back(what: str, sessions: int, weeks: int) -> None:
    assume(what.rstrip("."))
    steps = (DrillStep(what, None, None), DrillStep("later", None, None, weeks=(2, 52)))
    practice = Practice(sessions_per_week=sessions, weeks=weeks, steps=steps)
    recap = with_plan(practice)
    told = student(recap)
    file = session_calendar(recap, reader_of(told, COACH, EN))
    assert file is not None
    lines = unfolded(file.text)
    assert lines[0] == "BEGIN:VCALENDAR"
    assert "PRODID:-//practice calendar//EN" in lines  # no program or maker is named
    assert lines[-1] == "END:VCALENDAR"
    events = lines.count("BEGIN:VEVENT")
    assert events == lines.count("END:VEVENT") == min(weeks, 8) * min(sessions, 6)
    uids = [line for line in lines if line.startswith("UID:")]
    assert len(set(uids)) == events
    described = [read_text(line[12:]) for line in lines if line.startswith("DESCRIPTION:")]
    assert all(text.split("\n")[0] == what.rstrip(".") for text in described)
    assert ("later" in described[0].split("\n")) is False
    assert file == session_calendar(recap, reader_of(told, COACH, EN))


def test_no_sessions_no_calendar() -> None:
    for practice in (None, Practice(), Practice(sessions_per_week=0)):
        recap = with_plan(practice)
        assert session_calendar(recap, reader_of(student(recap), COACH, EN)) is None


def logged(*entries: LogEntry) -> StudentRecap:
    return replace(student(full_recap(), words_only()), log=PracticeLog(entries, kept=True))


def test_rounds_stand_beside_lessons_and_nothing_is_claimed() -> None:
    told = logged(
        LogEntry(date(2027, 2, 14), HERE, rounds=1, score=88, miss_count=5),
        LogEntry(date(2027, 4, 20), HERE, rounds=1, score=84),
    )
    home = text({p.path: p.body for p in student_site(told, COACH, EN).pages}["index.html"])
    part = home[home.index("Your rounds and your lessons") :]
    places = [
        part.index(x)
        for x in ("20 April 2027 84 –", "11 April 2027", "14 February 2027 88 5", "3 February 2027")
    ]
    assert places == sorted(places)
    assert "We don't read more into it" in part
    for claim in ("because", "thanks to", "improved", "better"):
        assert claim not in part[: part.index("We don't read more into it")]


def test_no_rounds_no_part() -> None:
    told = logged(LogEntry(date(2027, 2, 14), HERE, balls=40))
    home = {p.path: p.body for p in student_site(told, COACH, EN).pages}["index.html"]
    assert "Your rounds and your lessons" not in home


def test_the_log_shows_unknown_as_unknown() -> None:
    told = logged(
        LogEntry(
            date(2027, 2, 14), HERE, balls=40, minutes=30, effort=4.5, pain=True, pain_place="rib"
        ),
        LogEntry(date(2027, 2, 16), HERE, balls=0),
    )
    log = {p.path: p.body for p in student_site(told, COACH, EN).pages}["log.html"]
    assert "14 February 2027 40 30 4.5 135 – – –" in text(log)
    assert "16 February 2027 0 – – – – – –" in text(log)
    assert "rib" not in text(log[log.index('id="diary"') :]), "pain is for the coach"


def test_the_chart_of_load_says_lengths_and_no_ratio() -> None:
    load = full_recap().practice.load
    assert load is not None
    known = replace(
        load, balls_per_session=30, balls_per_week=90, biggest_session_30d=40, usual_week=80.0
    )
    drawn = load_chart(known, "load", EN)
    assert drawn is not None
    for part in (
        "A session in this plan: 30",
        "last month: 40",
        "A week in this plan: 90",
        "about 80",
    ):
        assert part in drawn
    assert not re.search(r"%|×|ratio|safe|limit", text(drawn))
    unknown = replace(known, biggest_session_30d=None, usual_week=None)
    assert load_chart(unknown, "load", EN) is None


def test_a_usual_week_that_is_not_known_yet_is_said_on_every_page_of_the_plan() -> None:
    recap = full_recap()
    assert recap.practice.load is not None
    load = replace(recap.practice.load, balls_per_week=90, usual_week=None, days_since_last=3)
    told = student(replace(recap, practice=LessonPractice(load)))
    pages = {p.path: text(p.body) for p in student_site(told, COACH, EN).pages}
    for path in (recap.page, "practice.html"):
        assert "We don't know yet what a typical week looks like for you." in pages[path]
        assert "In a usual week you hit about" not in pages[path]


def test_pain_from_the_log_stands_on_the_page_and_its_hostile_place_stays_text() -> None:
    recap = full_recap()
    facts = NoteFacts(days=1, day=date(2027, 4, 9), place="<b>hip</b>", balls_per_week=90)
    pain = CareNote(NoteCode.PAIN_LOGGED, Level.CARE, facts, "pain", body=True, shown=True)
    told = student(replace(recap, care=(pain, *recap.care)))
    pages = {p.path: p.body for p in student_site(told, COACH, EN).pages}
    for path in (recap.page, "practice.html"):
        assert "You wrote down pain on 9 April 2027 (&lt;b&gt;hip&lt;/b&gt;)." in pages[path]
        assert "This plan has 90 balls a week." in pages[path]
