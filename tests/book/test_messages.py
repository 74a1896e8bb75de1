"""The link of each lesson and case, with a message to send it with in its reader's language."""

import re
from html import unescape
from urllib.parse import unquote, urlsplit

import pytest
from msgspec.structs import replace

from recapgen.book.binding import bind_book
from recapgen.model.people import Coach
from recapgen.model.recap import StudentRecap
from recapgen.render.book_pages.site import book_site
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES
from tests.book.told import SECOND, recap, student

COACH = Coach("Ines Falk", address="https://cards.example.org/golf")
LINK = "https://cards.example.org/golf/q7w2e9/2027-04-11-k3f9.html"
NASTY = '</textarea><script>alert("x")</script>&'


def lesson(told: StudentRecap, coach: Coach = COACH, up: frozenset[str] | None = None) -> str:
    book = bind_book((told,), (), SECOND, up=up)
    pages = {page.path: page.body for page in book_site(book, coach, words("en")).pages}
    return pages["student-marta.html"]


def text_of(body: str) -> str:
    found = re.search(r"<textarea[^>]*>(.*?)</textarea>", body, re.DOTALL)
    assert found is not None
    return unescape(found[1])


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_message_has_name_link_and_intent_in_the_students_language(language: str) -> None:
    told = student(recap())
    told = replace(told, student=replace(told.student, language=language))
    body = lesson(told)
    text = text_of(body)
    assert LINK in text.split("\n")
    assert "Marta" in text.split("\n")[0]
    assert "Hum one even note" in text
    assert text.endswith("Ines Falk")
    assert f'lang="{language}"' in body


def test_a_mail_says_the_same_and_names_nobody_as_its_reader() -> None:
    body = lesson(student(recap()))
    mail = re.search(r'href="(mailto:[^"]*)"', body)
    assert mail is not None
    parts = urlsplit(unescape(mail[1]))
    assert parts.path == ""
    subject, text = (unquote(part.partition("=")[2]) for part in parts.query.split("&"))
    assert subject == "Our lesson on 11 April 2027"
    assert text == text_of(body).replace("\n", "\r\n")


def test_without_an_intent_the_message_promises_none() -> None:
    assert "to try" not in text_of(lesson(student(recap(intent=None))))


def test_without_an_address_there_is_nothing_to_send() -> None:
    body = lesson(student(recap()), Coach("Ines Falk"))
    assert "<textarea" not in body
    assert "mailto:" not in body
    assert "published at: https://example.org/golf" in unescape(body)


def test_a_page_that_is_not_up_is_not_sent() -> None:
    assert "book-message" not in lesson(student(recap()), up=frozenset())
    assert "book-message" not in lesson(student(recap(), published=False))


def test_a_case_is_sent_without_a_name() -> None:
    one = recap()
    told = student(replace(one, case=replace(one.case, page="a-case.html")), published=False)
    text = text_of(lesson(told))
    assert "https://cards.example.org/golf/cases/a-case.html" in text.split("\n")
    assert "Marta" not in text
    assert "Hum" not in text


def test_hostile_words_stay_words() -> None:
    body = lesson(student(recap(intent=NASTY), name=NASTY))
    assert "<script" not in body
    assert NASTY in text_of(body)
