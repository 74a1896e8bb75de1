"""Lesson beside lesson: which may stand together, what is said of them, what is drawn."""

from datetime import date
from html import unescape

from msgspec.structs import replace

from recapgen.render.compare_page import compare_page
from recapgen.render.reader import reader_of
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import (
    COACH,
    earlier_path,
    faster,
    full_recap,
    student,
    too_early,
    words_only,
)

READER = reader_of(student(), COACH, words("en"))


def test_only_the_same_number_and_club_stand_together() -> None:
    assert compare_page((words_only(), faster(), too_early(), full_recap()), READER, []) is None
    page = compare_page((faster(), earlier_path(), full_recap()), READER, [])
    assert page is not None
    assert page.path == "compare.html"
    assert page.body.count("<section") == 1
    assert "Club path, driver" in page.body
    other = full_recap()
    iron = replace(other, notes=replace(other.notes, club="7 iron"))
    assert compare_page((earlier_path(), iron), READER, []) is None


def test_any_two_are_told_and_every_shot_is_drawn() -> None:
    first, last = earlier_path(), full_recap()
    between = replace(first, key="b", page="b.html", on=date(2027, 4, 4))
    page = compare_page((first, between, last), READER, [])
    assert page is not None
    ended = (
        "The lesson on 28 March 2027 ended at 6.1° right, "
        "and the one on 11 April 2027 at 0.9° right. They're 5.3° apart."
    )
    assert ended in unescape(page.body)
    assert page.body.count(" apart.</p>") == 3
    drawn = sum(
        sample.n
        for recap in (first, between, last)
        if recap.number.comparison
        for sample in (recap.number.comparison.before, recap.number.comparison.after)
    )
    assert page.body.count("data-shot=") == drawn
    assert all(f'href="{recap.page}"' in page.body for recap in (first, between, last))


def test_of_many_only_neighbours_and_the_first_beside_the_last_are_told() -> None:
    first = earlier_path()
    many = tuple(
        replace(first, key=str(n), page=f"{n}.html", on=date(2027, 5, n)) for n in range(1, 7)
    )
    page = compare_page(many, READER, [])
    assert page is not None
    assert page.body.count(" apart.</p>") == 5 + 1
    assert "changed" not in page.body
    assert "newest" not in page.body


def test_of_more_than_a_sheet_holds_the_newest_are_drawn_and_all_are_in_the_table() -> None:
    first = earlier_path()
    many = tuple(
        replace(first, key=str(n), page=f"{n}.html", on=date(2027, 5, n)) for n in range(1, 31)
    )
    page = compare_page(many, READER, [])
    assert page is not None
    assert "These are your latest 8 lessons out of 30." in page.body
    assert first.number.comparison is not None
    shots = first.number.comparison.before.n + first.number.comparison.after.n
    assert page.body.count("data-shot=") == 8 * shots
    assert page.body.count(" apart.</p>") == 7 + 1
    assert all(f'href="{recap.page}"' in page.body for recap in many)
