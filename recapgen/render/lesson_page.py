"""One lesson's page."""

from collections.abc import Sequence

from recapgen.model.page import Page
from recapgen.model.recap import Recap
from recapgen.recap.numbers import numbers_path
from recapgen.render.care_view import care_view
from recapgen.render.coach_words import coach_words
from recapgen.render.environment import fill
from recapgen.render.evidence_view import evidence_view, flight_view
from recapgen.render.film_view import anchors, film_view
from recapgen.render.number_view import NumberView, number_view
from recapgen.render.practice_view import practice_view
from recapgen.render.reader import Reader
from recapgen.render.shots_view import (
    conditions_by_block,
    other_rows,
    shot_table,
    standard_air_told,
)
from recapgen.render.worked_view import second_looks, worked_view
from recapgen.words.amounts import day
from recapgen.words.shot_sentences import tell_decided


def lesson_page(recap: Recap, reader: Reader, other_pages: Sequence[tuple[str, str]]) -> Page:
    """``other_pages`` are (path, title) of the site's pages that the foot links."""
    words = reader.words
    on = day(recap.on, words)
    return Page(
        path=recap.page,
        title=lesson_title(recap, reader),
        body=fill(
            "lesson.html.jinja",
            words,
            coach=reader.coach,
            page=recap.page,
            day=on,
            corrected=day(recap.corrected_on, words) if recap.corrected_on else None,
            notes=recap.notes,
            words=coach_words(recap.notes.words),
            number=_number(recap, reader),
            stuck=reader.retention(recap.number.retention) if recap.number.retention else (),
            films=[film_view(film, words) for film in recap.films],
            practice=practice_view(recap, reader),
            care=care_view(recap, reader),
            shots=shot_table(recap, reader),
            evidence=evidence_view(recap, reader),
            flight=flight_view(recap, reader),
            worked=worked_view(recap, reader),
            second_looks=second_looks(recap, reader),
            decided=tell_decided(recap.evidence.decided, recap.evidence.calculated, words),
            air=standard_air_told(recap, reader),
            numbers=numbers_path(recap),
            conditions=conditions_by_block(recap.notes.conditions, reader),
            others=other_rows(recap.evidence.others, reader),
            see_also=recap.case.links,
            other_pages=other_pages,
        ),
    )


def lesson_title(recap: Recap, reader: Reader) -> str:
    """What a browser shows for a lesson's page."""
    on = day(recap.on, reader.words)
    return reader.words.say("page.lesson.title", day=on, coach=reader.coach.name)


def _number(recap: Recap, reader: Reader) -> NumberView | None:
    """The view of the declared number, its mishits named in the coach's words."""
    if recap.number.comparison is None:
        return None
    tags = {s.shot.number: s.shot.tag for s in recap.evidence.shots if s.shot.tag}
    return number_view(recap.number.comparison, reader, "shots", anchors(recap.films), tags)
