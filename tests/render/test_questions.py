"""A question's page, and where a student's home page has it, in every language."""

from datetime import date
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.care.question_notes import care_for_question
from recapgen.model.between_lessons import AskedBy, QuestionRecap, QuestionWords
from recapgen.model.recap import StudentRecap
from recapgen.render.coach_words import first_words
from recapgen.render.student_site import student_site
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES
from tests.render.recaps_fixture import COACH, film, mara, sixty, student
from tests.render.test_pages import read


def question(on: date, asked: str = "Why does it start right?", page: str = "") -> QuestionRecap:
    told = QuestionWords(AskedBy.STUDENT, asked, "Count **nine** first.", on)
    return QuestionRecap("folder", on, page or f"{on}-q2q2.html", told)


def pages(told: StudentRecap, language: str = "en") -> dict[str, str]:
    site = student_site(told, COACH, words(language))
    return {page.path: page.body for page in site.pages}


@pytest.mark.parametrize("language", LANGUAGES)
def test_home_lists_it_among_the_lessons_by_date(language: str, tmp_path: Path) -> None:
    told = mara(tmp_path)
    first, newest = told.recaps[0], told.recaps[-1]
    between = question(first.on.replace(day=first.on.day + 1))
    late = question(newest.on, "Still?", "2029-01-01-zzzz.html")
    home = pages(replace(told, questions=(between, late)), language)["index.html"]
    order = [home.index(f'href="{page}"><span') for page in (late.page, between.page, first.page)]
    assert order == sorted(order)
    say = words(language).say
    assert say("page.home.with-questions") in home
    assert home.count(f" · {say('page.question.mark')}") == 2
    assert "Still?" in home
    assert home.count(late.page) == 2  # at the top, too: nothing is newer


def test_without_a_question_home_weighs_what_it_did(tmp_path: Path) -> None:
    home = pages(mara(tmp_path))["index.html"]
    assert "uestion" not in home
    assert "Earlier lessons" in home


def test_of_many_each_year_says_what_it_has() -> None:
    told = sixty()
    newest = told.recaps[-1].on
    asked = (question(newest), question(newest.replace(year=newest.year + 1)))
    home = "".join(read(pages(replace(told, questions=asked))["index.html"]).text)
    assert f"{newest.year + 1}: 1 question" in home
    assert "lessons, 1 question" in home


def test_a_student_who_only_asked_has_a_home() -> None:
    asked = question(date(2027, 2, 3))
    site = pages(replace(student(), questions=(asked,)))
    assert asked.page in site["index.html"]
    assert "<strong>nine</strong>" in site[asked.page]


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("asked_by", AskedBy)
def test_the_page_says_who_asked_and_what_was_answered(language: str, asked_by: AskedBy) -> None:
    asked = question(date(2027, 2, 3))
    told = replace(asked, words=replace(asked.words, asked_by=asked_by))
    page = pages(replace(student(), questions=(told,)), language)[told.page]
    say = words(language).say
    assert f"<h1>{say(f'page.question.asked.{asked_by}')}</h1>" in page
    assert say("page.question.answer") in page
    assert 'id="care"' not in page
    assert 'id="number"' not in page


def test_pain_brings_its_notes_and_nothing_else() -> None:
    asked = question(date(2027, 2, 3), "My chest hurts when I swing.")
    in_pain = replace(asked.words, pain=True)
    told = replace(asked, words=in_pain, care=care_for_question(in_pain))
    page = pages(replace(student(), questions=(told,)))[told.page]
    assert "Does anything hurt? Rest it." in page
    assert "For chest pain or pressure, stop and call" in page
    assert 'id="stop"' in page
    assert care_for_question(asked.words) == ()


def test_each_clip_is_shown_by_itself(tmp_path: Path) -> None:
    one = film(tmp_path)
    told = replace(question(date(2027, 2, 3)), films=(one, replace(one, fingerprint="b" * 20)))
    page = pages(replace(student(), questions=(told,)))[told.page]
    assert page.count("<video") == 2
    assert ">The clips<" in page


@pytest.mark.parametrize(
    "text", ["<script>alert(1)</script>", '"><img src=x onerror=y>', "{{ 7 }}"]
)
def test_whatever_was_asked_stays_text(text: str) -> None:
    asked = question(date(2027, 2, 3), text)
    told = replace(asked, words=replace(asked.words, answer=text))
    for body in pages(replace(student(), questions=(told,))).values():
        assert "<script" not in body
        assert "<img" not in body


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("", ""),
        ("# Why\nand *how*?", "Why"),
        ("**Why** does [it](https://a.example)\nstart `right`?", "Why does it start right?"),
        ("a " * 60, f"{'a ' * 38}a…"),
        ("右" * 90, f"{'右' * 79}…"),
    ],
)
def test_a_question_begins_in_one_line(text: str, line: str) -> None:
    assert first_words(text) == line
