"""What the book tells of an agreement: all that is on file, and what ends within 30 days."""

from datetime import date, timedelta

import pytest
from msgspec.structs import replace

from recapgen.model.consent_on_file import as_it_counts
from recapgen.model.people import AgeBand, Agreed, GivenBy, Guardian, Student
from recapgen.render.book_pages.agreement_lines import agreement, consent_due
from recapgen.words.catalogue import words

EN = words("en")
ROSA = Guardian("Rosa Lind", "mother")
FIRST = Agreed(page=True, clips=True, since=date(2027, 1, 3), sheet="1", guardian=ROSA)
SECOND = Agreed(page=True, cases=True, case_words=True, since=date(2028, 3, 1), sheet="2")
LAST = date(2028, 12, 31)


def leo(*answers: Agreed, born: int | None = 2010, band: AgeBand | None = None) -> Student:
    several = answers if len(answers) > 1 else ()
    return Student("l", "Leo", age_band=band, born=born, agreed=answers[-1], answers=several)


def told(student: Student, day: date) -> str:
    return " ".join(agreement(as_it_counts(student, day), day, EN))


def due(student: Student, day: date) -> str:
    return " ".join(consent_due(as_it_counts(student, day), day, EN))


def test_every_answer_on_file_is_told_with_whose_word_it_was() -> None:
    theirs = replace(SECOND, by=GivenBy.STUDENT)
    read = told(leo(FIRST, Agreed(since=date(2027, 9, 1)), theirs), date(2028, 3, 1))
    for part in (
        "Agreed to: a page, cases in words only.",
        "They agreed on 1 March 2028.",
        "They answered for themselves. Signed on sheet 2.",
        "Also on file, from 1 September 2027: a no to everything.",
        "Also on file, from 3 January 2027: a page, clips. Guardian: Rosa Lind (mother).",
        "Guardian: Rosa Lind (mother). Signed on sheet 1.",
    ):
        assert part in read
    assert read.index("September 2027") < read.index("January 2027")


def test_before_its_day_a_newer_answer_is_only_on_file() -> None:
    read = told(leo(FIRST, SECOND), date(2028, 2, 29))
    assert "Agreed to: a page, clips." in read
    assert "Also on file, from 1 March 2028: a page, cases in words only" in read


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2027, 12, 31), ""),
        (date(2028, 1, 1), "They turn 18 this year, so ask them for their own answer"),
        (LAST, "What was agreed for them counts until 31 December 2028"),
        (LAST + timedelta(days=1), "They're of age now, so ask them for their own answer"),
    ],
)
def test_a_junior_is_to_be_asked_anew_from_the_year_in_which_they_turn_18(
    day: date, said: str
) -> None:
    student = replace(leo(FIRST), asked=day)
    assert said in due(student, day)
    assert bool(due(student, day)) is bool(said)
    assert ("18" in told(student, day)) is (day <= LAST)


def test_who_answered_for_themselves_is_left_in_peace() -> None:
    student = leo(FIRST, replace(SECOND, by=GivenBy.STUDENT))
    for day in (date(2028, 3, 1), LAST, LAST + timedelta(days=1)):
        assert due(student, day) == ""


@pytest.mark.parametrize(("ahead", "said"), [(31, False), (30, True), (0, True), (-1, False)])
def test_what_ends_within_30_days_is_listed(ahead: int, said: bool) -> None:
    day = LAST - timedelta(days=ahead)
    asked = replace(leo(FIRST, band=AgeBand.JUNIOR), asked=day)
    assert ("can't be a junior any more" in due(asked, day)) is said
    assert "junior" not in due(replace(asked, age_band=None), day)
    ending = Agreed(page=True, since=day, until=day + timedelta(days=ahead))
    assert ("Their agreement ends on" in due(leo(ending, born=None), day)) is said
    back = Agreed(page=True, since=day, withdrawn=day + timedelta(days=ahead))
    expected = said and ahead > 0
    assert ("They're taking back" in due(leo(back, born=None), day)) is expected


def test_a_junior_of_no_year_has_the_year_asked_for() -> None:
    asked = replace(leo(FIRST, born=None, band=AgeBand.JUNIOR), asked=LAST)
    assert "born: line" in due(asked, LAST)
    assert due(replace(asked, age_band=AgeBand.ADULT), LAST) == ""


def test_a_year_against_the_band_is_told_where_the_agreement_is() -> None:
    assert "don't match" in told(leo(FIRST, band=AgeBand.ADULT), date(2027, 4, 1))
