"""The practice log: lines kept on the student's own phone, and what the coach has of them."""

from collections.abc import Sequence

from recapgen.model.page import Page
from recapgen.model.practice_log import PracticeLog
from recapgen.render.diary import COLUMNS, diary
from recapgen.render.environment import fill
from recapgen.render.reader import Reader

LOG_PAGE = "log.html"
LOG_COLUMNS = (
    "date", "balls", "minutes", "effort", "rounds", "pain", "where", "score", "miss",
)  # fmt: skip


def log_page(log: PracticeLog, reader: Reader, other_pages: Sequence[tuple[str, str]]) -> Page:
    """The page that offers the log; its text has the columns in the order of practice.csv.

    ``other_pages`` are (path, title) of what the foot links.
    """
    words = reader.words
    return Page(
        path=LOG_PAGE,
        title=words.say("page.log.title", coach=reader.coach.name),
        body=fill(
            "log.html.jinja",
            words,
            coach=reader.coach,
            columns=LOG_COLUMNS,
            diary=diary(log, "diary", words, reader.kept),
            diary_columns=COLUMNS,
            other_pages=other_pages,
        ),
    )
