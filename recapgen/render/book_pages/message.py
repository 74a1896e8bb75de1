"""A lesson's link with a message to send it with, in the language of the student who gets it."""

from collections.abc import Collection, Iterator
from urllib.parse import quote

from msgspec import Struct

from recapgen.model.between_lessons import QuestionRecap
from recapgen.model.people import Coach
from recapgen.model.public import CASES, page_within, path_up, public_address
from recapgen.model.recap import Recap, StudentRecap
from recapgen.render.reader import Reader
from recapgen.words import catalogue
from recapgen.words.amounts import day


class Message(Struct, frozen=True):
    """``heading`` says what is sent, in the language of the book.

    ``link`` is where the page is published; "" where the coach has not said where that is, and
    then there is nothing to send. ``mail`` opens the message in a mail program (RFC 6068).
    ``language`` is that of ``subject`` and ``text``.
    """

    heading: str
    link: str
    subject: str = ""
    text: str = ""
    mail: str = ""
    language: str = ""


def messages(
    student: StudentRecap, recap: Recap, up: Collection[str] | None, reader: Reader
) -> tuple[Message, ...]:
    """One for the lesson's page if ``up`` holds it (None: yes), one for its case if it has one."""
    return tuple(_messages(student, recap, up, reader))


def answer_message(student: StudentRecap, question: QuestionRecap, reader: Reader) -> Message:
    """For the page of an answered question, which is up."""
    coach, told = reader.coach, question.words
    words = catalogue.words(student.student.language or coach.language)
    link = _link(coach, student.address, question.page)
    facts = {"name": student.student.name, "link": link, "coach": coach.name}
    on = day(told.answered or question.on, words)
    corrected = ".corrected" if question.corrected_on is not None else ""
    text = words.say(f"page.question.message{corrected}", day=on, **facts)
    subject = words.say("page.question.message.subject")
    return _message(reader.words.say("book.message.question"), link, subject, text, words.language)


def _messages(
    student: StudentRecap, recap: Recap, up: Collection[str] | None, reader: Reader
) -> Iterator[Message]:
    coach, say = reader.coach, reader.words.say
    locked = student.student.locked
    path = path_up(student.address, recap.page, locked=locked)
    if student.published and (up is None or path in up):
        words = catalogue.words(student.student.language or coach.language)
        on = day(recap.on, words)
        intent = recap.notes.intent
        key = "page.message.lesson" if intent else "page.message.without-intent"
        if recap.corrected_on is not None:
            key = "page.message.corrected"
        link = _link(coach, student.address, page_within(quote(recap.page), locked=locked))
        text = words.say(
            key, name=student.student.name, day=on, link=link, intent=intent, coach=coach.name
        )
        subject = words.say("page.message.subject", day=on)
        yield _message(say("book.message.lesson"), link, subject, text, words.language)
    if recap.case.page:
        yield message_of_case(coach, recap.case.page, say("book.message.case"))


def message_of_case(coach: Coach, page: str, heading: str) -> Message:
    """The case ``page`` of site/cases/, to be sent to somebody who asks."""
    words, link = catalogue.words(coach.language), _link(coach, CASES, quote(page))
    text = words.say("page.message.case", link=link, coach=coach.name)
    subject = words.say("page.message.case-subject")
    return _message(heading, link, subject, text, words.language)


def question(subject: str, text: str, language: str, heading: str) -> Message:
    """A message without a link."""
    return Message(heading, "", subject, text, _mail(subject, text), language)


def _message(heading: str, link: str, subject: str, text: str, language: str) -> Message:
    if not link:
        return Message(heading, link)
    return Message(heading, link, subject, text, _mail(subject, text), language)


def _mail(subject: str, text: str) -> str:
    lines = text.replace("\n", "\r\n")
    return f"mailto:?subject={quote(subject, safe='')}&body={quote(lines, safe='')}"


def _link(coach: Coach, folder: str, page: str) -> str:
    return public_address(coach.address, folder, page) if coach.address else ""
