"""Who comes next stands first in the book, and whoever is archived stays out of the day's lists."""

import re
from datetime import date, time, timedelta
from html import unescape

from msgspec.structs import replace

from recapgen.book.binding import bind_book
from recapgen.model.lesson import Practice
from recapgen.model.people import Coach
from recapgen.model.problem import Code, Problem
from recapgen.model.public import Move, PublicChange
from recapgen.model.recap import StudentRecap
from recapgen.model.source import SourceRef
from recapgen.render.book_pages.site import book_site
from recapgen.words.catalogue import words
from tests.book.told import FIRST, recap, student

TODAY = FIRST + timedelta(days=3)
COACH = Coach("Ines Falk")


def coming(name: str, on: date | None, *, archived: bool = False) -> StudentRecap:
    one = recap()
    told = student(replace(one, notes=replace(one.notes, next_on=on)), key=name, name=name)
    return replace(told, student=replace(told.student, archived=archived))


def pages(
    *students: StudentRecap,
    problems: tuple[Problem, ...] = (),
    public: tuple[PublicChange, ...] = (),
) -> dict[str, str]:
    book = bind_book(students, problems, TODAY, public=public)
    return {page.path: page.body for page in book_site(book, COACH, words("en")).pages}


def front(*students: StudentRecap) -> str:
    return pages(*students)["index.html"]


def listed(body: str, heading: str) -> list[str]:
    part = re.split(r"<h2 id=", body.partition(f'<h2 id="{heading}">')[2])[0]
    rows = re.findall(r"<li>(.*?)</li>", part, re.DOTALL)
    return [" ".join(unescape(re.sub(r"<[^>]+>", " ", row)).split()) for row in rows]


def test_they_stand_in_the_order_of_their_days() -> None:
    later, sooner = TODAY + timedelta(days=9), TODAY + timedelta(days=2)
    missed = TODAY - timedelta(days=1)
    body = front(
        coming("Zoe", later), coming("Ada", sooner), coming("Bo", missed), coming("Cy", TODAY)
    )
    assert listed(body, "coming") == [
        "Bo you expected them on 13 April 2027, but there's been no lesson since",
        "Cy today",
        "Ada 16 April 2027",
        "Zoe 23 April 2027",
    ]
    assert body.index('id="coming"') < body.index('id="look"')


def test_a_time_of_day_is_told_too() -> None:
    ada = coming("Ada", TODAY)
    last = ada.recaps[0]
    ada = replace(ada, recaps=(replace(last, notes=replace(last.notes, next_at=time(9, 30))),))
    assert listed(front(ada), "coming") == ["Ada today, 09:30"]


def test_without_a_day_nobody_comes() -> None:
    body = front(coming("Ada", None))
    assert listed(body, "coming") == []
    assert "Nobody is due" in body


def test_who_is_archived_is_read_of_and_not_waited_for() -> None:
    body = front(coming("Ada", TODAY, archived=True), coming("Bo", TODAY))
    assert listed(body, "coming") == ["Bo today"]
    assert [row.split()[3] for row in listed(body, "lately")] == ["Bo"]
    assert "Ada" not in body.partition('id="look"')[2].partition('id="lately"')[0]
    assert "Ada" in pages(coming("Ada", TODAY, archived=True))["lessons.html"]


def planned(name: str, *, weeks: int, on: date) -> StudentRecap:
    one = replace(recap(), on=on)
    plan = Practice(sessions_per_week=2, weeks=weeks)
    return student(replace(one, notes=replace(one.notes, practice=plan)), key=name, name=name)


def test_without_a_day_the_end_of_the_plan_is_the_day() -> None:
    body = front(
        planned("Ada", weeks=1, on=TODAY - timedelta(days=3)),
        planned("Bo", weeks=2, on=TODAY - timedelta(days=14)),
        planned("Cy", weeks=2, on=TODAY - timedelta(days=20)),
        planned("Di", weeks=8, on=TODAY - timedelta(days=1)),
        planned("Eve", weeks=1, on=TODAY - timedelta(days=99)),
    )
    assert listed(body, "coming") == [
        "Cy their plan ended on 8 April 2027, but there's been no lesson since",
        "Bo their plan ends today",
        "Ada their plan runs until 18 April 2027",
        "Di their plan runs until 8 June 2027",
        "Eve their plan ended on 12 January 2027, but there's been no lesson since",
    ]
    assert "Later: 1 student" in body
    assert "Expected over a month ago: 1 student" in body


def test_who_is_held_back_waits_and_is_told_so_on_their_own_page() -> None:
    fault = Problem(Code.LINK_OUTSIDE, SourceRef("ada/2027-04-11/notes.md"), {"found": "x"})
    told = pages(coming("ada", None), coming("bo", None), problems=(fault,))
    waits = told["index.html"].partition('id="look"')[2].partition('id="lately"')[0]
    assert "ada" in waits
    assert waits.count("Held back.") == 1
    assert "Held back: until you fix the problem, what's online is older" in unescape(
        told["student-ada.html"]
    )
    assert "Held back" not in told["student-bo.html"]


def test_what_was_built_last_is_told_and_the_last_lessons_where_there_was_none_of_late() -> None:
    long_ago = TODAY - timedelta(days=200)
    old = student(*(replace(recap(f"lesson {n}"), on=long_ago + timedelta(n)) for n in range(7)))
    changed = PublicChange(Move.CHANGED, "Marta", "q7w2e9")
    body = pages(old, public=(changed,))["index.html"]
    assert "The latest lessons" in body
    assert len(re.findall('<li><a href="student-marta.html#', body)) == 5
    assert "Changed: Marta" in body


def test_the_last_day_of_the_calendar_has_a_first_page_too() -> None:
    for today in (date.max, date.min):
        book = bind_book((coming("Ada", today),), (), today)
        pages = {page.path: page.body for page in book_site(book, COACH, words("en")).pages}
        assert listed(pages["index.html"], "coming") == ["Ada today"]
