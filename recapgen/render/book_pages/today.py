"""The first page of the book, today: who comes, who waits, what was built last."""

from collections.abc import Sequence
from datetime import date

from msgspec import Struct

from recapgen.model.book import Book
from recapgen.model.public import RANGE_PAGE, public_address
from recapgen.model.recap import StudentRecap
from recapgen.render.book_pages.lesson_brief import plan_ends
from recapgen.render.book_pages.lessons import LessonLine
from recapgen.render.book_pages.student_lines import lately
from recapgen.words.amounts import day
from recapgen.words.catalogue import Words
from recapgen.words.change_sentences import told_whose

_SOON_DAYS, _LONG_AGO_DAYS = 14, 30
_LAST_LESSONS = 5
_CHANGES_MOST = 12


class StudentLines(Struct, frozen=True):
    """A student's lessons, newest first, and what wants a look."""

    name: str
    page: str
    lines: tuple[LessonLine, ...]
    waiting: tuple[str, ...]


class Due(Struct, frozen=True):
    """The day on which a student is expected, and what is said of it."""

    on: date
    told: str


class DueLine(Struct, frozen=True):
    date: str
    told: str
    page: str
    name: str


class WhoIsDue(Struct, frozen=True):
    """``near`` are those of these weeks; ``later`` and ``missing`` stand folded below."""

    near: tuple[DueLine, ...] = ()
    later: tuple[DueLine, ...] = ()
    missing: tuple[DueLine, ...] = ()


def due(student: StudentRecap, today: date, words: Words) -> Due | None:
    """The day of the next lesson as the last notes have it, else the last day of their plan.

    None without either, and for a student who is archived.
    """
    if not student.recaps or student.student.archived:
        return None
    last = student.recaps[-1]
    on, kind = last.notes.next_on, "next"
    if on is None:
        on, kind = plan_ends(last), "plan"
    if on is None:
        return None
    key = "missed" if on < today else "today" if on == today else "on"
    told = words.say(f"book.{kind}.{key}", day=day(on, words))
    at = last.notes.next_at if kind == "next" and on >= today else None
    return Due(on, told if at is None else words.say("book.next.at", day=told, time=f"{at:%H:%M}"))


def who_is_due(book: Book, lines: Sequence[StudentLines], words: Words) -> WhoIsDue:
    """All who are due, each group by day and name."""
    found = [
        (each.on, line.name, DueLine(each.on.isoformat(), each.told, line.page, line.name))
        for student, line in zip(book.students, lines, strict=True)
        if (each := due(student, book.today, words)) is not None
    ]
    found.sort(key=lambda each: each[:2])
    ahead = [((on - book.today).days, line) for on, _, line in found]
    return WhoIsDue(
        near=tuple(line for days, line in ahead if -_LONG_AGO_DAYS <= days <= _SOON_DAYS),
        later=tuple(line for days, line in ahead if days > _SOON_DAYS),
        missing=tuple(line for days, line in ahead if days < -_LONG_AGO_DAYS),
    )


def newest_lessons(
    book: Book, lines: Sequence[StudentLines]
) -> tuple[list[tuple[LessonLine, StudentLines]], bool]:
    """The lessons of the last 30 days, newest first, and True; without any the last few."""
    told = [
        (lately(recap.on, book), line, each)
        for each, student in zip(lines, book.students, strict=True)
        for line, recap in zip(each.lines, reversed(student.recaps), strict=True)
        if not student.student.archived
    ]
    told.sort(key=lambda one: one[1].date, reverse=True)
    recent = [(line, each) for new, line, each in told if new]
    if recent:
        return recent, True
    return [(line, each) for _, line, each in told[:_LAST_LESSONS]], False


def built_last(book: Book, words: Words) -> tuple[tuple[str, ...], str]:
    """What this build changed of the published pages, and how many more there are."""
    told = tuple(
        words.say(f"public.{change.move.value}", who=told_whose(change, words))
        for change in book.public[:_CHANGES_MOST]
    )
    more = len(book.public) - len(told)
    return told, words.count("book.built.more", more) if more else ""


def range_page(book: Book, published_at: str | None) -> tuple[str, str] | None:
    """The page for the range from here, and its address on the web; None where it is not up."""
    path = next((path for path in book.up or () if path.endswith(f"/{RANGE_PAGE}")), None)
    if path is None:
        return None
    folder, _, page = path.partition("/")
    return f"../site/{path}", public_address(published_at, folder, page) if published_at else ""
