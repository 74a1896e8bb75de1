"""The next lesson: on the pages until its day is over, and in the calendar for good."""

import re
from datetime import date, time

import pytest
from msgspec.structs import replace

from recapgen.model.lesson import Practice
from recapgen.model.recap import ComingLesson, Recap
from recapgen.recap.coming_lesson import coming_lesson, day_after
from recapgen.render.reader import reader_of
from recapgen.render.session_calendar import session_calendar
from recapgen.render.student_site import student_site
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import COACH, full_recap, student, words_only

DAY = date(2027, 5, 2)
EN = words("en")


def after(on: date | None, at: time | None = None, practice: Practice | None = None) -> Recap:
    recap = words_only()
    return replace(recap, notes=replace(recap.notes, next_on=on, next_at=at, practice=practice))


@pytest.mark.parametrize(
    ("today", "told"),
    [(date(2027, 4, 12), True), (DAY, True), (date(2027, 5, 3), False)],
)
def test_it_is_told_until_its_day_is_over(today: date, *, told: bool) -> None:
    recap = after(DAY, time(10, 30))
    who = student(recap).student
    coming = coming_lesson(who, [recap], today)
    assert (coming == ComingLesson(DAY, time(10, 30))) is told
    assert (day_after(coming) == date(2027, 5, 3)) is told
    assert coming_lesson(replace(who, archived=True), [recap], today) is None
    assert coming_lesson(who, [recap, after(None)], today) is None


@pytest.mark.parametrize(
    ("at", "begins"),
    [
        (None, ["DTSTART;VALUE=DATE:20270502", "DTEND;VALUE=DATE:20270503"]),
        (time(10, 30), ["DTSTART:20270502T103000"]),
    ],
)
def test_a_calendar_has_it_as_it_is_known(at: time | None, begins: list[str]) -> None:
    recap = after(DAY, at)
    coach = replace(COACH, name="Ines; Falk, " + "längst " * 12)
    reader = reader_of(student(recap), coach, EN)
    file = session_calendar(recap, reader, ComingLesson(DAY, at))
    assert file is not None
    assert all(len(line.encode()) <= 75 for line in file.text.split("\r\n"))
    lines = file.text.replace("\r\n ", "").split("\r\n")
    assert [line for line in lines if line.startswith(("DTSTART", "DTEND"))] == begins
    assert f"DTSTAMP:{recap.on:%Y%m%d}T000000Z" in lines
    (title,) = (line for line in lines if line.startswith("SUMMARY:"))
    assert title.startswith("SUMMARY:Golf lesson with Ines\\; Falk\\, längst")


def test_a_moved_lesson_is_the_same_event() -> None:
    recap = after(DAY, practice=Practice(sessions_per_week=2, weeks=2))
    reader = reader_of(student(recap), COACH, EN)
    uids = []
    for day in (DAY, date(2027, 5, 9)):
        file = session_calendar(recap, reader, ComingLesson(day))
        assert file is not None
        uids.append(re.findall(r"UID:(\S+)", file.text))
    assert uids[0] == uids[1]
    assert len(set(uids[0])) == 5


@pytest.mark.parametrize("language", ["en", "de", "fr", "es", "ja", "ko"])
def test_the_pages_say_so_and_lead_to_the_calendar(language: str) -> None:
    spoken = words(language)
    told = replace(student(full_recap(), after(DAY, time(10, 30))), coming=None)
    silent = student_site(told, COACH, spoken)
    site = student_site(replace(told, coming=ComingLesson(DAY, time(10, 30))), COACH, spoken)
    home, before = ({p.path: p.body for p in s.pages}["index.html"] for s in (site, silent))
    assert "10:30" in home
    assert 'href="practice.ics"' in home
    assert [f.path for f in site.written if f.path.endswith(".ics")] == ["practice.ics"]
    assert "10:30" not in before
    assert "practice.ics" not in before
