"""What was asked between lessons, in the coach's book: answered, waiting, or told in person."""

from datetime import date
from urllib.parse import quote

import pytest
from msgspec.structs import replace

from recapgen.book.tried_intents import count_tried_intents
from recapgen.model.between_lessons import AskedBy, QuestionRecap, QuestionWords
from recapgen.model.people import Agreed
from recapgen.model.recap import StudentRecap
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES
from tests.book.test_messages import lesson, text_of
from tests.book.told import student

ON = date(2027, 5, 3)
PAGE = "2027-05-03-q2q2.html"
PAGE_ONLY = Agreed(page=True, since=date(2027, 1, 3))


def asked(*, answered: bool = True, pain: bool = False) -> QuestionRecap:
    answer, day = ("Count nine.", date(2027, 5, 4)) if answered else ("", None)
    told = QuestionWords(AskedBy.GUARDIAN, "Why <b>right</b>?", answer, day, pain)
    return QuestionRecap("2027-05-03 asked", ON, PAGE, told, private="Ask at home.")


def told_of(question: QuestionRecap, agreed: Agreed | None = None) -> StudentRecap:
    return replace(student(agreed=agreed), questions=(question,))


@pytest.mark.parametrize("language", LANGUAGES)
def test_an_answer_has_its_message_in_the_students_language(language: str) -> None:
    told = told_of(asked())
    told = replace(told, student=replace(told.student, language=language))
    body = lesson(told)
    text = text_of(body)
    assert f'lang="{language}"' in body
    assert f"https://cards.example.org/golf/q7w2e9/{PAGE}" in text.split("\n")
    assert "Marta" in text.split("\n")[0]
    assert text.endswith("Ines Falk")
    assert quote(words(language).say("page.question.message.subject")) in body


def test_it_stands_with_both_sides_and_the_private_words() -> None:
    body = lesson(told_of(asked()))
    for said in ("Between lessons", "A guardian asked", "Answered on 4 May 2027.", "Ask at home."):
        assert said in body
    assert "<b>right" not in body
    assert f"../site/q7w2e9/{PAGE}" in body


def test_one_that_waits_is_linked_nowhere_and_named_among_what_waits() -> None:
    body = lesson(told_of(asked(answered=False)))
    assert "A question from 3 May 2027 is waiting for your answer" in body
    assert PAGE not in body
    assert "<textarea" not in body


def test_pain_without_agreement_is_told_in_person() -> None:
    body = lesson(told_of(asked(pain=True), PAGE_ONLY))
    assert "so it has no page. Answer it in person" in body
    assert PAGE not in body
    assert PAGE in lesson(told_of(asked(pain=True)))


def test_nothing_that_was_tried_counts_it() -> None:
    assert count_tried_intents([told_of(asked())]) == count_tried_intents([student()])
