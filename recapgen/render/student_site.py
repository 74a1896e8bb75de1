"""All pages of one student's site."""

from collections.abc import Callable, Iterator, Sequence
from typing import Generic, TypeVar

from msgspec import Struct
from msgspec.structs import replace

from recapgen.model.as_data import FAULTS, as_text
from recapgen.model.between_lessons import QuestionRecap
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
from recapgen.render.question_page import question_page, question_title
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
    """Home, a page for each lesson and question, practice, log, comparison, how it was measured.

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
    of_lessons = _KindOfPage(Recap, lesson_title, lesson_page, around, stands)
    of_questions = _KindOfPage(QuestionRecap, question_title, question_page, around, stands)
    lessons = [of_lessons.page(recap, reader, links) for recap in student.recaps]
    questions = [of_questions.page(each, reader, links) for each in student.questions]
    further = (*questions, practice, log, compare, measured)
    return Site(
        kind=SiteKind.STUDENT,
        name=words.say("page.home.title", coach=coach.name),
        language=words.language,
        pages=tuple(page for page in (home, *lessons, *further) if page is not None),
        assets=(*_assets(student), *mark_assets(coach)),
        accent=coach.accent,
        written=tuple(file for file in (calendar, *_numbers(student)) if file is not None),
    )


_T = TypeVar("_T", Recap, QuestionRecap)


class _KindOfPage(Struct, Generic[_T], frozen=True):
    """How pages of one kind are made; ``around`` is a digest of all else that they are made of."""

    kind: type[_T]
    title: Callable[[_T, Reader], str]
    whole: Callable[[_T, Reader, Sequence[tuple[str, str]]], Page]
    around: str
    stands: Callable[[str, str], bool]

    def page(self, told: _T, reader: Reader, links: Sequence[tuple[str, str]]) -> Page:
        """The page; without a body where it stands as it is."""
        try:
            made_of = key_for("page", self.around, as_text(told, self.kind))
        except FAULTS:
            return self.whole(told, reader, links)
        if self.stands(told.page, made_of):
            return Page(told.page, self.title(told, reader), body="", made_of=made_of)
        return replace(self.whole(told, reader, links), made_of=made_of)


def _numbers(student: StudentRecap) -> Iterator[WrittenFile]:
    """The declared number of each lesson as data, so that it can be worked out again."""
    for recap in student.recaps:
        path = numbers_path(recap)
        if path is not None:
            yield WrittenFile(path, numbers_text(recap, student.units))


def _assets(student: StudentRecap) -> tuple[Asset, ...]:
    """The films and drills of all lessons; what two lessons show is copied once."""
    assets = {asset.path: asset for recap in student.recaps for asset in drill_assets(recap)}
    assets |= {asset.path: asset for asset in film_assets(student.films)}
    return tuple(assets.values())
