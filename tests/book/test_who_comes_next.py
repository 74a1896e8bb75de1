"""Who comes next stands first in the book, and whoever is archived stays out of the day's lists."""

import re
from dataclasses import replace
from datetime import date, timedelta
from html import unescape

from recapgen.book.binding import bind_book
from recapgen.model.people import Coach
from recapgen.model.recap import StudentRecap
from recapgen.render.book_pages.site import book_site
from recapgen.words.catalogue import words
from tests.book.told import FIRST, recap, student

TODAY = FIRST + timedelta(days=3)


def coming(name: str, on: date | None, *, archived: bool = False) -> StudentRecap:
    one = recap()
    told = student(replace(one, notes=replace(one.notes, next_on=on)), key=name, name=name)
    return replace(told, student=replace(told.student, archived=archived))


def front(*students: StudentRecap) -> str:
    pages = book_site(bind_book(students, (), TODAY), Coach("Ines Falk"), words("en")).pages
    return next(page.body for page in pages if page.path == "index.html")


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
        "Bo you expected them on 13 April 2027, and there's been no lesson since",
        "Cy today",
        "Ada 16 April 2027",
        "Zoe 23 April 2027",
    ]
    assert body.index('id="coming"') < body.index('id="look"')


def test_without_a_day_nobody_comes() -> None:
    assert 'id="coming"' not in front(coming("Ada", None))


def test_who_is_archived_is_read_of_and_not_waited_for() -> None:
    body = front(coming("Ada", TODAY, archived=True), coming("Bo", TODAY))
    assert listed(body, "coming") == ["Bo today"]
    assert [row.split()[3] for row in listed(body, "lately")] == ["Bo"]
    assert "Ada" not in body.partition('id="look"')[2].partition('id="lately"')[0]
    assert "Ada" in body.partition('id="all"')[2]
