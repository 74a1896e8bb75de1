"""What was asked between two lessons and the coach's answer, on a short page of its own."""

from collections.abc import Sequence

from recapgen.model.between_lessons import QuestionRecap
from recapgen.model.page import Page
from recapgen.render.care_view import care_beside
from recapgen.render.coach_words import coach_words, first_words
from recapgen.render.environment import fill
from recapgen.render.film_view import film_view
from recapgen.render.reader import Reader
from recapgen.words.amounts import day
from recapgen.words.catalogue import Words


def question_page(
    question: QuestionRecap, reader: Reader, other_pages: Sequence[tuple[str, str]]
) -> Page:
    """``other_pages`` are (path, title) of the site's pages that the foot links."""
    words, told = reader.words, question.words
    return Page(
        path=question.page,
        title=question_title(question, reader),
        body=fill(
            "question.html.jinja",
            words,
            coach=reader.coach,
            day=day(question.on, words),
            corrected=day(question.corrected_on, words) if question.corrected_on else None,
            heading=words.say(f"page.question.asked.{told.asked_by}"),
            asked=coach_words(told.asked),
            answer=coach_words(told.answer),
            answered=words.say("page.question.answered", day=day(told.answered, words))
            if told.answered
            else "",
            films=[film_view(film, words) for film in question.films],
            care=care_beside(question.care, (), reader),
            other_pages=other_pages,
        ),
    )


def question_title(question: QuestionRecap, reader: Reader) -> str:
    """What a browser shows for a question's page."""
    on = day(question.on, reader.words)
    return reader.words.say("page.question.title", coach=reader.coach.name, day=on)


def question_in_brief(question: QuestionRecap, words: Words) -> str:
    """What was asked in a line; of a clip alone, that it was one."""
    return first_words(question.words.asked) or words.say("page.question.no-words")
