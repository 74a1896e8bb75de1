"""Several answers, one after the other: which counts, whose word it is, and how long it holds."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.model.consent_on_file import band_on, counting, turning_days
from recapgen.model.people import AgeBand, Agreed, GivenBy, Guardian, Student
from recapgen.model.problem import Code, Cost
from recapgen.privacy.consent import Grants, consent_problems, grants, took_back

ROSA = Guardian("Rosa Lind", "mother")
LAST = date(2028, 12, 31)  # of the year in which somebody born in 2010 turns 18
PAGE = Agreed(page=True)
FIRST = replace(PAGE, clips=True, since=date(2027, 1, 3))
FEWER = replace(PAGE, since=date(2027, 6, 1))
NONE = Grants()


def marta(*answers: Agreed, born: int | None = None, band: AgeBand | None = None) -> Student:
    return Student("m", "Marta", age_band=band, born=born, agreed=answers[-1], answers=answers[:9])


def leo(*answers: Agreed, band: AgeBand | None = None) -> Student:
    return marta(*answers, born=2010, band=band)


def shown(student: Student, day: date) -> Grants:
    return replace(grants(student, day), changes_on=None)


def codes(student: Student, day: date) -> list[Code]:
    return [problem.code for problem in consent_problems(student, (), grants(student, day), day)]


def test_the_newest_answer_counts_from_its_day() -> None:
    student = marta(FIRST, FEWER)
    assert shown(student, date(2027, 1, 2)) == NONE
    before = grants(student, date(2027, 5, 31))
    assert before == Grants(page=True, clips=True, changes_on=date(2027, 6, 1))
    assert grants(student, date(2027, 6, 1)) == Grants(page=True)


def test_an_older_answer_never_comes_back() -> None:
    student = marta(FIRST, replace(FEWER, until=date(2027, 8, 1)))
    assert shown(student, date(2027, 8, 2)) == NONE
    assert codes(student, date(2027, 8, 2)) == [Code.CONSENT_ENDED]
    no = marta(FIRST, Agreed(since=date(2027, 6, 1)))
    assert shown(no, date(2027, 6, 1)) == NONE
    assert took_back(no, date(2027, 6, 1))
    assert not took_back(no, date(2027, 5, 31))


def test_an_answer_after_a_withdrawal_is_a_new_agreement() -> None:
    student = marta(replace(FIRST, withdrawn=date(2027, 3, 1)), FEWER)
    assert shown(student, date(2027, 3, 1)) == NONE
    assert shown(student, date(2027, 6, 1)) == Grants(page=True)


def test_a_withdrawal_counts_on_whichever_answer_it_was_written() -> None:
    student = marta(replace(FIRST, withdrawn=date(2027, 7, 1)), FEWER)
    assert shown(student, date(2027, 6, 30)) == Grants(page=True)
    assert shown(student, date(2027, 7, 1)) == NONE
    assert codes(student, date(2027, 7, 1)) == [Code.CONSENT_WITHDRAWN]


@st.composite
def histories(draw: st.DrawFn) -> tuple[Agreed, ...]:
    days = st.dates(date(2027, 1, 1), date(2029, 6, 1))
    given_on = draw(st.lists(days, min_size=2, max_size=6, unique=True))
    return tuple(
        Agreed(
            page=draw(st.booleans()),
            clips=draw(st.booleans()),
            cases=draw(st.booleans()),
            since=day,
            until=draw(st.none() | st.dates(day, date(2029, 12, 1))),
            withdrawn=draw(st.none() | days),
            guardian=draw(st.none() | st.just(ROSA)),
            by=draw(st.none() | st.sampled_from(GivenBy)),
        )
        for day in given_on
    )


@given(answers=histories(), band=st.none() | st.sampled_from(AgeBand), data=st.data())
def test_the_order_of_the_answers_does_not_matter(
    answers: tuple[Agreed, ...], band: AgeBand | None, data: st.DataObject
) -> None:
    other = tuple(data.draw(st.permutations(answers)))
    day = data.draw(st.dates(date(2026, 12, 1), date(2030, 2, 1)))
    one, two = leo(*answers, band=band), leo(*other, band=band)
    assert counting(one, day) == counting(two, day)
    assert grants(one, day) == grants(two, day)
    assert turning_days(one) == turning_days(two)


@given(answers=histories(), day=st.dates(date(2026, 12, 1), date(2029, 8, 1)))
def test_nothing_changes_before_the_day_that_is_named(
    answers: tuple[Agreed, ...], day: date
) -> None:
    student, named = leo(*answers), grants(leo(*answers), day).changes_on
    for later in (day + timedelta(days=n) for n in range(0, 500, 7)):
        if named is None or later < named:
            assert shown(student, later) == shown(student, day)


def test_a_guardians_word_ends_with_the_year_in_which_the_child_turns_18() -> None:
    for answer in (replace(FIRST, guardian=ROSA), Agreed(page=True, clips=True, guardian=ROSA)):
        student = Student("l", "Leo", born=2010, agreed=answer)
        assert grants(student, LAST) == Grants(
            page=True, clips=True, changes_on=LAST + timedelta(days=1)
        )
        assert shown(student, LAST + timedelta(days=1)) == NONE
        assert codes(student, LAST + timedelta(days=1)) == [Code.CONSENT_OF_A_CHILD]
        assert not took_back(student, LAST + timedelta(days=1))


def test_their_own_answer_of_that_year_goes_on() -> None:
    theirs = Agreed(page=True, since=date(2028, 2, 1), guardian=ROSA, by=GivenBy.STUDENT)
    student = leo(replace(FIRST, guardian=ROSA), theirs)
    for day in (date(2028, 2, 1), LAST, LAST + timedelta(days=1), date(2040, 1, 1)):
        assert shown(student, day) == Grants(page=True), day
        assert codes(student, day) == []


@pytest.mark.parametrize(
    "answer",
    [
        Agreed(page=True, since=date(2027, 2, 1)),  # a child's own
        Agreed(page=True, since=date(2027, 2, 1), by=GivenBy.STUDENT, guardian=ROSA),
        Agreed(page=True, since=date(2028, 2, 1), guardian=ROSA, by=GivenBy.GUARDIAN),
        Agreed(page=True),  # of no day
        Agreed(page=True, by=GivenBy.STUDENT, guardian=ROSA),
    ],
)
def test_what_a_child_or_somebody_for_a_child_said_does_not_grow_up(answer: Agreed) -> None:
    assert shown(Student("l", "Leo", born=2010, agreed=answer), date(2029, 3, 1)) == NONE


def test_a_child_needs_a_guardian_whether_a_band_says_so_or_a_year() -> None:
    alone = Student("l", "Leo", born=2014, agreed=FIRST)
    assert shown(alone, date(2027, 4, 1)) == NONE
    assert codes(alone, date(2027, 4, 1)) == [Code.JUNIOR_WITHOUT_GUARDIAN]
    assert shown(replace(alone, agreed=replace(FIRST, guardian=ROSA)), date(2027, 4, 1)).page


def test_a_grown_up_s_year_asks_for_nobody_else() -> None:
    for band in (None, AgeBand.ADULT):
        assert shown(Student("a", "Ann", born=1980, age_band=band, agreed=FIRST), LAST).page
    undated = Student("a", "Ann", born=1980, age_band=AgeBand.ADULT, agreed=PAGE)
    assert shown(undated, LAST).page


@pytest.mark.parametrize(
    ("born", "band", "day", "costs"),
    [
        (2014, AgeBand.ADULT, date(2027, 4, 1), Cost.STUDENT),
        (2014, AgeBand.SENIOR, date(2027, 4, 1), Cost.STUDENT),
        (1980, AgeBand.JUNIOR, date(2027, 4, 1), Cost.STUDENT),
        (2009, AgeBand.JUNIOR, date(2027, 12, 31), None),
        (2009, AgeBand.JUNIOR, date(2028, 1, 1), Cost.STUDENT),
        (2009, AgeBand.ADULT, date(2026, 12, 31), Cost.STUDENT),
        (2009, AgeBand.ADULT, date(2027, 1, 1), None),
        (1980, AgeBand.SENIOR, date(2027, 4, 1), Cost.NOTHING),
        (1967, AgeBand.SENIOR, date(2027, 1, 1), None),
        (1967, AgeBand.ADULT, date(2027, 1, 1), None),
        (1966, AgeBand.ADULT, date(2027, 1, 1), Cost.NOTHING),
    ],
)
def test_a_year_against_the_band_is_doubt(
    born: int, band: AgeBand, day: date, costs: Cost | None
) -> None:
    answer = replace(PAGE, guardian=ROSA, since=date(2025, 1, 1))
    student = Student("l", "Leo", born=born, age_band=band, agreed=answer)
    met = [p for p in consent_problems(student, (), NONE, day) if p.code is Code.BORN_AGAINST_BAND]
    assert [problem.cost for problem in met] == ([] if costs is None else [costs])
    assert all(problem.offers for problem in met)
    assert costs is not Cost.STUDENT or shown(student, day) == NONE


def test_the_band_goes_by_the_year_where_none_is_written() -> None:
    student = leo(FIRST)
    assert band_on(student, LAST) is AgeBand.JUNIOR
    assert band_on(student, LAST + timedelta(days=1)) is AgeBand.ADULT
    assert band_on(student, date(2070, 1, 1)) is AgeBand.SENIOR
    assert band_on(replace(student, born=None), LAST) is None


def test_cases_in_words_have_no_clips() -> None:
    told = Agreed(cases=True, clips=True, case_clips=True, case_words=True)
    assert shown(Student("m", "Marta", agreed=told), LAST) == Grants(cases=True)
