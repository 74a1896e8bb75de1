"""The plan on a page of its own, to print and tick."""

from recapgen.model.page import Page
from recapgen.model.recap import Recap
from recapgen.render.care_view import care_view
from recapgen.render.charts.load_chart import load_chart
from recapgen.render.environment import fill
from recapgen.render.log_page import LOG_PAGE
from recapgen.render.next_lesson import NextLesson
from recapgen.render.practice_view import practice_view
from recapgen.render.reader import Reader
from recapgen.render.session_calendar import CALENDAR_FILE
from recapgen.words.amounts import day

PRACTICE_PAGE = "practice.html"


def practice_page(recap: Recap, reader: Reader, coming: NextLesson | None = None) -> Page | None:
    """None where ``recap`` holds no plan."""
    practice = practice_view(recap, reader)
    if practice is None or recap.notes.practice is None:
        return None
    words = reader.words
    return Page(
        path=PRACTICE_PAGE,
        title=words.say("page.practice.title", coach=reader.coach.name),
        body=fill(
            "practice.html.jinja",
            words,
            coach=reader.coach,
            day=day(recap.on, words),
            page=recap.page,
            notes=recap.notes,
            practice=practice,
            care=care_view(recap, reader),
            load=load_chart(recap.practice.load, "load", words, reader.kept),
            log=LOG_PAGE,
            calendar=CALENDAR_FILE if recap.notes.practice.sessions_per_week else None,
            next=coming,
            other_pages=[(LOG_PAGE, words.say("page.log.link"))],
        ),
    )
