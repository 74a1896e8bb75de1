"""Whoever is archived leaves the lists of the day, and is read, found and counted as ever."""

from datetime import date, timedelta

import pytest
from msgspec.structs import replace

from recapgen.book.binding import bind_book
from recapgen.book.cases import case_of, totals_of
from recapgen.book.examples import find_examples
from recapgen.model.page import Page
from recapgen.model.people import Agreed, Coach
from recapgen.model.recap import StudentRecap
from recapgen.publish.book_index import entries_of
from recapgen.render.book_pages.site import book_site
from recapgen.words.catalogue import words
from tests.book.told import CASE, FIRST, recap, student

TODAY = FIRST + timedelta(days=3)
AGREED = Agreed(page=True, cases=True, since=date(2027, 1, 3))


def ada(*, archived: bool) -> StudentRecap:
    """She has a case, a miss, and a next lesson that is due."""
    one = recap(case=CASE)
    one = replace(one, notes=replace(one.notes, usual_miss="A big slice", next_on=TODAY))
    told = student(one, key="ada", name="Ada Quill", agreed=AGREED)
    return replace(told, student=replace(told.student, archived=archived))


def five(one: StudentRecap) -> list[StudentRecap]:
    """As many as are told of in public, all alike."""
    return [replace(one, student=replace(one.student, key=f"s{n}")) for n in range(5)]


def book_of(student: StudentRecap) -> dict[str, Page]:
    book = bind_book((student,), (), TODAY)
    return {page.path: page for page in book_site(book, Coach("Ines Falk"), words("en")).pages}


@pytest.mark.parametrize("page", ["asked.html", "endings.html", "lessons.html"])
def test_pages_that_are_not_of_the_day_are_the_same(page: str) -> None:
    with_her, without = book_of(ada(archived=False)), book_of(ada(archived=True))
    assert "Ada Quill" in with_her[page].body or page == "endings.html"
    assert without[page].body == with_her[page].body
    assert without["index.html"].body != with_her["index.html"].body


def test_her_page_is_read_and_every_word_of_it_found() -> None:
    before, after = book_of(ada(archived=False)), book_of(ada(archived=True))
    (hers,) = (path for path in after if path.startswith("student-"))
    found = " ".join(part for entry in entries_of(after[hers]) for part in entry)
    for word in ("Ada Quill", "rocking a pram", "A big slice"):
        assert word in found
    assert len(entries_of(after[hers])) == len(entries_of(before[hers]))


def test_her_case_stays_up_and_counts() -> None:
    """What she agreed to does not end with her lessons; only she can end it."""
    there, gone = ada(archived=False), ada(archived=True)
    told = [case_of(each, each.recaps[0], "k7.html", with_clips=False) for each in (there, gone)]
    assert told[0] == told[1]
    totals = [totals_of(five(each), each.recaps) for each in (there, gone)]
    assert totals[0] == totals[1] != ()
    seen = [
        [each.standing for each in find_examples([each], TODAY, None)] for each in (there, gone)
    ]
    assert seen[0] == seen[1] != []
