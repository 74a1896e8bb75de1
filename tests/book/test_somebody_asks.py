"""For somebody who asks: whom one may show, whom one could ask, and whom one leaves alone."""

from datetime import date, timedelta

import pytest
from msgspec.structs import replace

from recapgen.book.binding import bind_book
from recapgen.book.cases import case_of
from recapgen.book.examples import find_examples
from recapgen.model.book import Standing
from recapgen.model.people import AgeBand, Agreed, Guardian
from recapgen.model.recap import StudentRecap
from recapgen.render.book_pages.site import book_site
from tests.book.test_book_site import COACH, EN, TODAY, Tags, text
from tests.book.told import CASE, FIRST, recap, student

YES = Agreed(page=True, cases=True, since=date(2027, 1, 3))
PAGE = Agreed(page=True, since=date(2027, 1, 3))
MISSES = (("slice", ("a big slice",)),)


def with_a_case(agreed: Agreed = YES, miss: str = "A big slice") -> StudentRecap:
    one = recap(case=CASE)
    one = replace(one, notes=replace(one.notes, usual_miss=miss))
    return student(one, key="ada", name="Ada", agreed=agreed)


def standing(each: StudentRecap, up: frozenset[str] | None = None) -> list[Standing]:
    return [found.standing for found in find_examples([each], TODAY, up)]


def test_a_case_that_is_up_is_shown_and_one_that_is_not_is_to_be_written() -> None:
    page = recap(case=CASE).case.page
    assert standing(with_a_case(), frozenset({f"cases/{page}"})) == [Standing.SHOWN]
    assert standing(with_a_case(), frozenset()) == [Standing.UNTOLD]
    assert standing(student(recap(), agreed=YES)) == [Standing.UNTOLD]
    assert standing(student(recap(), agreed=PAGE)) == [Standing.TO_ASK]
    ended = replace(YES, until=TODAY - timedelta(days=1))
    assert standing(student(recap(), agreed=ended)) == [Standing.TO_ASK]


@pytest.mark.parametrize(
    "agreed",
    [
        Agreed(),
        replace(YES, withdrawn=TODAY),
        replace(YES, withdrawn=TODAY + timedelta(days=9)),
        replace(YES, unclear=True),
        replace(YES, since=TODAY + timedelta(days=1)),
    ],
)
def test_who_said_no_or_took_it_back_is_not_asked_again(agreed: Agreed) -> None:
    assert standing(student(recap(), agreed=agreed)) == []


def test_for_a_junior_the_guardian_is_asked_and_without_one_nobody() -> None:
    young = student(recap(), agreed=PAGE)
    young = replace(young, student=replace(young.student, age_band=AgeBand.JUNIOR))
    assert standing(young) == []
    agreed = replace(PAGE, guardian=Guardian("Rosa Lind"))
    asked = asked_page(replace(young, student=replace(young.student, agreed=agreed)))
    assert "Hi Rosa Lind, Somebody asked me for help with something that Marta and I" in asked


@pytest.mark.parametrize(("born", "asked"), [(2014, "Hi Rosa Lind,"), (2001, "Hi Marta,")])
def test_a_birth_year_tells_who_is_asked_as_an_age_band_does(born: int, asked: str) -> None:
    agreed = replace(PAGE, guardian=Guardian("Rosa Lind", "mother"))
    told = student(recap(), agreed=agreed)
    young = replace(told, student=replace(told.student, born=born))
    assert asked in asked_page(young)
    alone = replace(told, student=replace(told.student, born=born, agreed=PAGE))
    assert standing(alone) == ([] if born == 2014 else [Standing.TO_ASK])


@pytest.mark.parametrize(("born", "band"), [(2014, AgeBand.ADULT), (2001, AgeBand.JUNIOR)])
def test_whose_year_and_band_contradict_each_other_is_not_asked(born: int, band: AgeBand) -> None:
    agreed = replace(PAGE, guardian=Guardian("Rosa Lind"))
    told = student(recap(), agreed=agreed)
    assert standing(replace(told, student=replace(told.student, born=born, age_band=band))) == []


def test_the_newest_of_a_student_s_lessons_alike_stands_for_them_never_the_best() -> None:
    alike = [replace(recap(), key=str(n), on=FIRST + timedelta(n)) for n in range(4)]
    (found,) = find_examples([student(*alike, agreed=PAGE)], TODAY, None)
    assert found.on == alike[-1].on


def asked_page(*students: StudentRecap) -> str:
    coach = replace(COACH, address="https://example.org/golf", misses=MISSES)
    book = bind_book(students, (), TODAY, misses=coach.misses)
    pages = {each.path: each.body for each in book_site(book, coach, EN).pages}
    Tags(pages["asked.html"])
    return text(pages["asked.html"])


def test_the_page_is_a_plain_list_with_consent_first_and_what_to_send_or_ask() -> None:
    read = asked_page(student(recap(), agreed=PAGE), with_a_case())
    shown, _, to_ask = read.partition("You could ask these")
    assert "You may send these" in shown
    assert "The even note Ada, 11 April 2027 · slice · 7 iron · left-handed" in shown
    assert "https://example.org/golf/cases/driver-starts-right.html" in shown
    assert "told without names" in shown
    assert "Hum one even note Marta, 11 April 2027" in to_ask
    assert "A no is just fine" in to_ask
    assert "There's no lesson to show" in asked_page(student(recap(), agreed=Agreed()))


def test_a_case_tells_a_miss_by_the_coach_s_short_name_alone_and_an_age_only_with_a_yes() -> None:
    ada = with_a_case()
    ada = replace(ada, student=replace(ada.student, age_band=AgeBand.SENIOR))
    told = case_of(ada, ada.recaps[0], "x.html", with_clips=False, misses=MISSES)
    assert (told.miss, told.age_band) == ("slice", None)
    ada = with_a_case(miss="hopeless with a driver")
    plain = case_of(ada, ada.recaps[0], "x.html", with_clips=False, misses=MISSES)
    assert plain.miss is None
    senior = replace(ada, student=replace(ada.student, age_band=AgeBand.SENIOR))
    aged = case_of(senior, senior.recaps[0], "x.html", with_clips=False, with_age=True)
    assert aged.age_band is AgeBand.SENIOR
