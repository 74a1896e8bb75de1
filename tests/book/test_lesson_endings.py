"""By miss, intent and club: how all lessons ended, not the best ones; and totals for strangers."""

import re
from datetime import timedelta

from msgspec.structs import replace

from recapgen.book.cases import totals_of
from recapgen.book.lesson_endings import endings_of_all
from recapgen.model.evidence import Comparison, Declared, Kept, Verdict
from recapgen.model.recap import Recap, StudentRecap
from tests.book.test_book_site import page, site, text
from tests.book.told import CASE, FIRST, SECOND, comparison, recap, retained, student


def lesson(
    compared: Comparison | None = None, miss: str | None = None, intent: str = "Hum"
) -> Recap:
    one = recap(intent=intent, compared=compared)
    return replace(one, notes=replace(one.notes, usual_miss=miss))


def with_all_ends() -> tuple[StudentRecap, ...]:
    worst = comparison(verdict=Verdict.OTHER_WAY)
    late = replace(comparison(), declared=Declared.AFTERWARDS)
    windy = replace(comparison(), setup_sd=50.0, setup_moved=True)
    said = ("A slice", "a slice.", "big slice", "slice", "SLICE")
    told = (comparison(), worst, late, windy, None)
    return tuple(
        student(lesson(each, miss), key=f"s{n}", name=f"S{n}")
        for n, (each, miss) in enumerate(zip(told, said, strict=True))
    )


def test_every_end_is_counted_and_they_add_up() -> None:
    (slice_,) = endings_of_all(with_all_ends(), misses=[("slice", ("a slice", "big slice"))]).misses
    assert (slice_.name, slice_.lessons, slice_.students) == ("slice", 5, 5)
    assert slice_.verdicts == ((Verdict.CHANGED, 1), (Verdict.OTHER_WAY, 1))
    assert (slice_.afterwards, slice_.hidden, slice_.unnumbered) == (1, 1, 1)
    apart = slice_.afterwards + slice_.hidden + slice_.unnumbered
    assert sum(n for _, n in slice_.verdicts) + apart == slice_.lessons


def test_wordings_are_one_only_where_the_coach_says_so() -> None:
    names = [each.name for each in endings_of_all(with_all_ends()).misses]
    assert names == ["A slice", "slice", "big slice"]


def test_what_stuck_counts_for_the_lesson_that_gained_it() -> None:
    first = lesson(comparison(), "thin")
    later = replace(recap("2", SECOND, "Other", comparison(), retention=retained()))
    told = endings_of_all([student(first, later)])
    assert told.misses[0].kept == ((Kept.MOSTLY, 1),)
    assert [each.kept for each in told.intents] == [((Kept.MOSTLY, 1),), ()]
    assert [(each.name, each.lessons) for each in told.clubs] == [("7 iron", 2)]


def test_the_page_tells_all_ends_and_lists_the_newest_lessons() -> None:
    one = lesson(comparison(), "thin")
    many = [replace(one, key=f"l{n}", on=FIRST + timedelta(n)) for n in range(23)]
    body = page(site(student(*many), *with_all_ends()), "endings.html")
    read = text(body)
    assert "thin 23 lessons, 1 student changed: 23" in read
    assert "There are 3 earlier lessons." in read
    assert "Hum 28 lessons, 6 students changed: 24 went the other way: 1" in read
    assert "number chosen after the shots: 1" in read
    assert "can't tell: conditions changed, or something was moved: 1 no number: 1" in read
    assert len(re.findall("student-marta.html#", body)) == 20 * 3


def test_strangers_get_totals_from_five_students_up_and_of_told_intents_alone() -> None:
    five = with_all_ends()
    case = replace(recap(intent="HUM.", case=CASE))
    (told,) = totals_of(five, [case])
    assert (told.intent, told.lessons, told.students) == ("HUM.", 5, 5)
    assert (told.afterwards, told.hidden, told.unnumbered) == (1, 1, 1)
    assert totals_of(five[:4], [case]) == ()
    assert totals_of(five, [recap(intent="Another", case=CASE)]) == ()
    joined = totals_of(five, [recap(intent="Hum a note")], [("the note", ("hum", "hum a note"))])
    assert [each.intent for each in joined] == ["Hum a note"]
