"""What students asked between lessons, in the coach's book."""

from collections.abc import Collection
from urllib.parse import quote

from markupsafe import Markup
from msgspec import Struct

from recapgen.model.between_lessons import QuestionRecap
from recapgen.model.book import question_path
from recapgen.model.recap import StudentRecap
from recapgen.render.book_pages.message import Message, answer_message
from recapgen.render.book_pages.page_link import page_link
from recapgen.render.coach_words import coach_words
from recapgen.render.question_page import question_in_brief
from recapgen.render.reader import Reader
from recapgen.words.amounts import day


class QuestionView(Struct, frozen=True):
    """One question; ``standing`` says whether it waits, is up or is told in person."""

    day: str
    date: str
    anchor: str
    brief: str
    page: str | None
    data: str
    standing: str
    asked_by: str
    asked: Markup | None
    answer: Markup | None
    private: Markup | None
    messages: tuple[Message, ...]


def question_views(
    student: StudentRecap, up: Collection[str] | None, reader: Reader
) -> tuple[QuestionView, ...]:
    """All of a student's questions, newest first; ``up`` as in ``Book``."""
    return tuple(_view(student, each, up, reader) for each in reversed(student.questions))


def _view(
    student: StudentRecap, question: QuestionRecap, up: Collection[str] | None, reader: Reader
) -> QuestionView:
    words, told = reader.words, question.words
    page = page_link(student, question.page, up) if student.tells(question) else None
    return QuestionView(
        day=day(question.on, words),
        date=question.on.isoformat(),
        anchor=f"question-{question.page.removesuffix('.html')}",
        brief=question_in_brief(question, words),
        page=page,
        data=quote(question_path(student.student.key, question.key)),
        standing=_standing(student, question, reader),
        asked_by=words.say(f"book.question.asked.{told.asked_by}"),
        asked=coach_words(told.asked),
        answer=coach_words(told.answer),
        private=coach_words(question.private) if question.private else None,
        messages=(answer_message(student, question, reader),) if page is not None else (),
    )


def _standing(student: StudentRecap, question: QuestionRecap, reader: Reader) -> str:
    words, answered = reader.words, question.words.answered
    if answered is None or not question.words.settled:
        return words.say("book.question.waits")
    key = "answered" if student.tells(question) else "in-person"
    return words.say(f"book.question.{key}", day=day(answered, words))
