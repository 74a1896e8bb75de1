"""A student's front page: what to try now, what to practise, how the lessons went."""

from collections.abc import Sequence
from itertools import groupby, pairwise

from markupsafe import Markup, escape
from msgspec import Struct

from recapgen.model.between_lessons import QuestionRecap
from recapgen.model.comparable import lessons_alike
from recapgen.model.evidence import Kept
from recapgen.model.page import Page
from recapgen.model.practice_log import PracticeLog
from recapgen.model.public import FRONT_PAGE
from recapgen.model.recap import Recap, StudentRecap
from recapgen.render.care_view import care_view
from recapgen.render.charts.drawing import draw
from recapgen.render.charts.progress import ProgressPoint, over_the_lessons
from recapgen.render.environment import fill
from recapgen.render.next_lesson import NextLesson
from recapgen.render.number_view import number_line
from recapgen.render.practice_view import PracticeView, practice_view
from recapgen.render.question_page import question_in_brief
from recapgen.render.reader import Reader
from recapgen.render.rounds import rounds_beside_lessons
from recapgen.words.amounts import day, quantity_name
from recapgen.words.catalogue import Words, key_of, sentence_start

_LEAST_FOR_A_LINE = 2
_ONE_LIST = 12  # lessons; of more, each year has its list


class ContentsLine(Struct, frozen=True):
    """One line of the contents: a lesson, or what was ``asked`` between two."""

    page: str
    title: str
    when: str
    filmed: bool
    asked: bool = False


class Year(Struct, frozen=True):
    """The lines of one year, newest first; ``heading`` is empty where all stand in one list."""

    heading: str
    entries: tuple[ContentsLine, ...]


class ProgressRow(Struct, frozen=True):
    """One lesson; ``between`` are sentences on the time since the one before."""

    when: str
    page: str
    then: str
    now: str
    between: str


class ProgressView(Struct, frozen=True):
    name: str
    chart: Markup
    rows: tuple[ProgressRow, ...]
    of_outcomes: bool


def home_page(
    student: StudentRecap,
    reader: Reader,
    practice: Page | None,
    compare: Page | None,
    other_pages: Sequence[tuple[str, str]],
    *,
    coming: NextLesson | None = None,
) -> Page:
    """``practice`` and ``compare`` are linked where they are; ``other_pages`` in the foot."""
    words = reader.words
    newest = student.recaps[-1] if student.recaps else None
    numbered = next((recap for recap in reversed(student.recaps) if recap.number.comparison), None)
    return Page(
        path=FRONT_PAGE,
        title=words.say("page.home.title", coach=reader.coach.name),
        body=fill(
            "home.html.jinja",
            words,
            coach=reader.coach,
            told_for=_told_for(student.student.name, words),
            newest=newest,
            newest_entry=_entry(newest, words) if newest else None,
            number=number_line(numbered.number.comparison, reader)
            if numbered and numbered.number.comparison
            else None,
            number_of=numbered.notes if numbered else None,
            number_entry=_entry(numbered, words) if numbered else None,
            care=care_view(newest, reader) if newest else None,
            practice=_newest_plan(student, reader),
            practice_page=practice.path if practice else None,
            progress=progress_views(student.recaps, student.log, reader),
            stuck=_what_stuck(student.recaps, reader),
            earlier=_by_year((*student.recaps[:-1], *student.questions), words),
            asked=bool(student.questions),
            answer=_new_answer(student, words),
            compare_page=compare.path if compare else None,
            rounds=rounds_beside_lessons(student, reader),
            other_pages=other_pages,
            next=coming,
        ),
    )


def progress_views(
    recaps: tuple[Recap, ...], log: PracticeLog, reader: Reader
) -> tuple[ProgressView, ...]:
    """A line for each number that two lessons or more have in common, newest first."""
    told = same_number(recaps)
    return tuple(_progress(group, log, f"progress-{n}", reader) for n, group in enumerate(told, 1))


def same_number(recaps: Sequence[Recap]) -> list[list[Recap]]:
    """Lessons that may stand beside each other, two or more, the newest group first.

    Only like stands beside like: the same number, club, swing and kind of ball.
    """
    groups: list[list[Recap]] = []
    for recap in recaps:
        if recap.number.comparison is not None:
            group = next((group for group in groups if _alike(group[-1], recap)), None)
            if group is None:
                groups.append([recap])
            else:
                group.append(recap)
    told = [group for group in groups if len(group) >= _LEAST_FOR_A_LINE]
    told.sort(key=lambda group: group[-1].on, reverse=True)
    return told


def _alike(one: Recap, other: Recap) -> bool:
    return (
        one.number.comparison is not None
        and other.number.comparison is not None
        and one.number.comparison.quantity is other.number.comparison.quantity
        and lessons_alike(one.notes, other.notes)
    )


def _progress(group: list[Recap], log: PracticeLog, uid: str, reader: Reader) -> ProgressView:
    words = reader.words
    stops = [
        ProgressPoint(r.on, r.number.comparison) for r in group if r.number.comparison is not None
    ]
    quantity = stops[0].comparison.quantity
    name = quantity_name(quantity, words)
    club = group[-1].notes.club
    if club:
        named = reader.club(club)
        name = words.say("page.number.with-club", quantity=name, club=named)

    rows = tuple(
        ProgressRow(
            when=day(recap.on, words),
            page=recap.page,
            then=reader.middle(quantity, stop.comparison.before),
            now=reader.middle(quantity, stop.comparison.after),
            between=between,
        )
        for recap, stop, between in zip(group, stops, _between(group, log, words), strict=True)
    )
    description = words.together(
        part
        for row in rows
        for part in (
            row.between,
            words.say("chart.progress.stop", day=row.when, before=row.then, after=row.now),
        )
    )
    picture = over_the_lessons(stops, reader)
    title = words.say("chart.progress.title", quantity=name)
    chart = Markup(draw(picture, uid, title, description, reader.kept))  # noqa: S704 (drawn here)
    return ProgressView(name, chart, rows, quantity.is_outcome)


def _between(group: list[Recap], log: PracticeLog, words: Words) -> tuple[str, ...]:
    """What happened since the lesson before: time, logged practice, and what stuck."""
    told = [""]
    for last, recap in pairwise(group):
        parts = [words.count("page.between.days", (recap.on - last.on).days)]
        hit = [e for e in log.entries if last.on < e.on <= recap.on and e.balls]
        if hit:
            balls = words.count("evidence.balls", sum(e.balls or 0 for e in hit))
            parts.append(words.count("page.between.sessions", len(hit), balls=balls))
        elif log.kept:
            parts.append(words.say("page.between.none"))
        kept = recap.number.retention
        if kept is not None and kept.from_lesson == last.on and kept.kept is not Kept.NO_GAIN:
            parts.append(words.say(f"evidence.kept.{key_of(kept.kept)}"))
        told.append(words.together(parts))
    return tuple(told)


def _told_for(name: str, words: Words) -> Markup:
    """Whom the card is for, the name in bold, wherever the language puts it."""
    bold = Markup('<b dir="auto">{}</b>').format(name)
    return escape(words.forms("page.home.for-name")[0]).format(name=bold)


def _entry(recap: Recap, words: Words) -> ContentsLine:
    on = day(recap.on, words)
    title = recap.notes.intent or words.say("page.lesson.no-intent", day=on)
    return ContentsLine(recap.page, title, on, filmed=bool(recap.films))


def _asked(question: QuestionRecap, words: Words) -> ContentsLine:
    title, on = question_in_brief(question, words), day(question.on, words)
    return ContentsLine(question.page, title, on, filmed=bool(question.films), asked=True)


def _new_answer(student: StudentRecap, words: Words) -> tuple[str, str] | None:
    """The page of an answer that is newer than every lesson, and what the link to it says."""
    newest = max(student.questions, key=lambda question: question.on, default=None)
    if newest is None or newest.words.answered is None:
        return None
    if student.recaps and newest.on < student.recaps[-1].on:
        return None
    on = day(newest.words.answered, words)
    return newest.page, words.say("page.question.fresh", day=on)


def _by_year(told: Sequence[Recap | QuestionRecap], words: Words) -> list[Year]:
    """In one list as far as it is read at a glance, else a list for each year."""
    newest_first = sorted(
        told, key=lambda each: (each.on, isinstance(each, QuestionRecap), each.page), reverse=True
    )
    lines = [
        (
            each.on.year,
            _asked(each, words) if isinstance(each, QuestionRecap) else _entry(each, words),
        )
        for each in newest_first
    ]
    if len(lines) <= _ONE_LIST:
        return [Year("", tuple(line for _, line in lines))] if lines else []
    years = []
    for year, members in groupby(lines, key=lambda each: each[0]):
        entries = tuple(line for _, line in members)
        years.append(Year(_year(year, entries, words), entries))
    return years


def _year(year: int, entries: Sequence[ContentsLine], words: Words) -> str:
    """The heading of a year: how many lessons, and how many questions, it has."""
    asked = sum(entry.asked for entry in entries)
    if asked == len(entries):
        return words.count("page.question.year", asked, year=str(year))
    lessons = words.count("page.home.year", len(entries) - asked, year=str(year))
    return words.listed((lessons, words.count("page.question.count", asked))) if asked else lessons


def _newest_plan(student: StudentRecap, reader: Reader) -> PracticeView | None:
    """The newest lesson's own plan; an older lesson's plan may not fit any more."""
    return practice_view(student.recaps[-1], reader) if student.recaps else None


def _what_stuck(recaps: tuple[Recap, ...], reader: Reader) -> tuple[str, ...]:
    """The newest answer for each number to: what was still there at the next lesson?"""
    stuck = (recap.number.retention for recap in recaps)
    newest = {retention.quantity: retention for retention in stuck if retention}
    return tuple(
        reader.words.together(
            (
                reader.words.say(
                    "page.home.stuck-on",
                    quantity=sentence_start(quantity_name(quantity, reader.words)),
                    day=day(retention.to_lesson, reader.words),
                ),
                *reader.retention(retention),
            )
        )
        for quantity, retention in newest.items()
    )
