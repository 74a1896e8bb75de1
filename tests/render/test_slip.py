"""The slip of a locked student: the words, the address, and a square that a camera reads."""

import pytest
import segno
from msgspec.structs import replace

from recapgen.model.people import Agreed, Coach, Student
from recapgen.model.recap import StudentRecap
from recapgen.model.units import Units
from recapgen.render.book_pages.slip import slip_page, slip_path
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES

COACH = Coach("Ines", address="https://example.org/lessons")
STUDENT = StudentRecap(
    student=Student("brida-folder", "Brida <b>", locked=True),
    units=Units(),
    address="q7w2e9",
    published=True,
    recaps=(),
    problems=(),
)
WORDS = "acorn-beach-cedar-dozen-easy"


def body(student: StudentRecap = STUDENT, coach: Coach = COACH) -> str:
    return slip_page(student, WORDS, coach, slip_path("student-brida.html"), "Slips").body


def test_it_has_the_words_the_address_and_its_square() -> None:
    page = slip_page(STUDENT, WORDS, COACH, slip_path("student-brida.html"), "Slips")
    assert (page.path, page.section) == ("slip-brida.html", "Slips")
    assert all(f"<b>{word}</b>" in page.body for word in WORDS.split("-"))
    assert "https://example.org/lessons/q7w2e9/" in page.body
    drawn = segno.make("https://example.org/lessons/q7w2e9/", micro=False, error="m")
    (line,) = drawn.svg_inline(lineclass=None).split(' d="')[1:]
    assert line.partition('"')[0][-40:] in page.body
    assert "Brida &lt;b&gt;" in page.body
    assert "style=" not in page.body


def test_without_an_address_it_speaks_of_the_link_that_the_coach_sends() -> None:
    told = body(coach=replace(COACH, address=None))
    assert "<svg" not in told
    assert words("en").say("lock.slip.link") in told


def test_that_cases_are_open_is_told_to_the_coach_alone_and_only_where_there_may_be_some() -> None:
    agreed = replace(STUDENT.student, agreed=Agreed(page=True, cases=True))
    told = words("en").say("book.slip.cases")
    assert told not in body()
    slip, _, beside = body(replace(STUDENT, student=agreed)).partition('<div class="book-screen">')
    assert told in beside
    assert told not in slip


@pytest.mark.parametrize("language", LANGUAGES)
def test_it_is_in_the_students_language(language: str) -> None:
    told = body(replace(STUDENT, student=replace(STUDENT.student, language=language)))
    assert f'lang="{language}"' in told
    assert words(language).say("lock.slip.keep") in told
