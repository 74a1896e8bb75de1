"""All pages of one student's site."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from recapgen.model.as_data import FAULTS, as_text
from recapgen.model.page import Asset, Page, Site, SiteKind, WrittenFile
from recapgen.model.people import Coach
from recapgen.model.public import FRONT_PAGE
from recapgen.model.recap import Recap, StudentRecap
from recapgen.recap.numbers import numbers_path, numbers_text
from recapgen.render.care_view import STOP_SIGNS
from recapgen.render.coach_mark import mark_assets
from recapgen.render.compare_page import compare_page
from recapgen.render.film_view import film_assets
from recapgen.render.home_page import home_page
from recapgen.render.lesson_page import lesson_page, lesson_title
from recapgen.render.log_page import log_page
from recapgen.render.measured_page import measured_page
from recapgen.render.next_lesson import next_lesson
from recapgen.render.practice_page import practice_page
from recapgen.render.practice_view import drill_assets
from recapgen.render.reader import Reader, reader_of
from recapgen.render.session_calendar import session_calendar
from recapgen.tools.cache import Cache, key_for
from recapgen.words.catalogue import Words


def student_site(
    student: StudentRecap,
    coach: Coach,
    words: Words,
    kept: Cache | None = None,
    *,
    stands: Callable[[str, str], bool] = lambda *_: False,
) -> Site:
    """Home, a page for each lesson, practice, log, lessons compared, how it was measured.

    ``kept`` is where finished drawings are kept between builds. ``stands`` says of a lesson's
    page, by its path and all that it is made of, whether it is there: then it gets no body.
    """
    reader = reader_of(student, coach, words, kept)
    coming = next_lesson(student.coming, reader)
    practice = practice_page(student.recaps[-1], reader, coming) if student.recaps else None
    stop = [(STOP_SIGNS, words.say("page.care.stop"))] if student.recaps else []
    log = log_page(student.log, reader, stop) if student.recaps else None
    calendar = (
        session_calendar(student.recaps[-1], reader, student.coming) if student.recaps else None
    )
    measured = measured_page(student.recaps, reader, stop)
    links = [(FRONT_PAGE, words.say("page.home.link"))]
    if practice is not None:
        links.append((practice.path, words.say("page.practice.link")))
    if log is not None:
        links.append((log.path, words.say("page.log.link")))
    if measured is not None:
        links.append((measured.path, words.say("page.measured.link")))
    compare = compare_page(student.recaps, reader, stop)
    home = home_page(student, reader, practice, compare, links[1:], coming=coming)
    around = repr((student.student, student.units, coach, words.language, links))
    lessons = [_lesson(recap, reader, links, around, stands) for recap in student.recaps]
    further = (practice, log, compare, measured)
    return Site(
        kind=SiteKind.STUDENT,
        name=words.say("page.home.title", coach=coach.name),
        language=words.language,
        pages=tuple(page for page in (home, *lessons, *further) if page is not None),
        assets=(*_assets(student), *mark_assets(coach)),
        accent=coach.accent,
        written=tuple(file for file in (calendar, *_numbers(student)) if file is not None),
    )


def _lesson(
    recap: Recap,
    reader: Reader,
    links: Sequence[tuple[str, str]],
    around: str,
    stands: Callable[[str, str], bool],
) -> Page:
    """A lesson's page; ``around`` is a digest of all else that it is made of."""
    try:
        made_of = key_for("lesson", around, as_text(recap, Recap))
    except FAULTS:
        return lesson_page(recap, reader, links)
    if stands(recap.page, made_of):
        return Page(recap.page, lesson_title(recap, reader), body="", made_of=made_of)
    return replace(lesson_page(recap, reader, links), made_of=made_of)


def _numbers(student: StudentRecap) -> Iterator[WrittenFile]:
    """The declared number of each lesson as data, so that it can be worked out again."""
    for recap in student.recaps:
        path = numbers_path(recap)
        if path is not None:
            yield WrittenFile(path, numbers_text(recap, student.units))


def _assets(student: StudentRecap) -> tuple[Asset, ...]:
    """The films and drills of all lessons; what two lessons show is copied once."""
    assets = {
        asset.path: asset
        for recap in student.recaps
        for asset in (*film_assets(recap.films), *drill_assets(recap))
    }
    return tuple(assets.values())
