"""The coach's own book: every student, every number, every problem."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from enum import Enum
from re import sub
from types import MappingProxyType
from unicodedata import normalize

from markupsafe import Markup
from msgspec import Struct

from recapgen.model.book import Book, TriedIntentLine
from recapgen.model.evidence import Verdict
from recapgen.model.naming import file_stem
from recapgen.model.page import Page, Site, SiteKind
from recapgen.model.people import Coach
from recapgen.model.public import FRONT_PAGE
from recapgen.model.recap import StudentRecap
from recapgen.render.book_pages.agreement_lines import agreement
from recapgen.render.book_pages.asked_page import (
    ASKED_PAGE,
    asked_groups,
    choices,
    told_of_examples,
    why_words,
)
from recapgen.render.book_pages.endings_page import ENDINGS_PAGE, EndedLine, endings_tables, told_of
from recapgen.render.book_pages.filming_sheet import filming_page
from recapgen.render.book_pages.intake_sheet import sheet_page
from recapgen.render.book_pages.lessons import (
    FinishedLessons,
    facts_of_line,
    finish_lessons,
    reader_of_book,
)
from recapgen.render.book_pages.number_facts import tell_in_book
from recapgen.render.book_pages.page_link import page_link
from recapgen.render.book_pages.problems_page import problems_page
from recapgen.render.book_pages.slip import slip_page, slip_path
from recapgen.render.book_pages.student_lines import held_back, waiting
from recapgen.render.book_pages.today import (
    StudentLines,
    built_last,
    due,
    newest_lessons,
    range_page,
    who_is_due,
)
from recapgen.render.environment import fill
from recapgen.render.reader import Reader
from recapgen.tools.cache import Cache, key_for
from recapgen.words import catalogue
from recapgen.words.amounts import day, quantity_name
from recapgen.words.catalogue import Words
from recapgen.words.verdict_sentences import tell_intent

_LESSONS_PAGE = "lessons.html"
_PRINTED_LINES = 8
_READING_PARTS = ("numbers", "chosen", "stuck", "ledger", "care", "data")


class TriedIntentRow(Struct, frozen=True):
    intent: str
    quantity: str
    tried: str
    verdicts: tuple[str, ...]
    kept: tuple[str, ...]


class _Known(Struct, frozen=True):
    """What is known of students' pages: ``around`` is what stands on every page of the book."""

    finished: Mapping[str, FinishedLessons]
    around: str
    stands: Callable[[str, str], bool]
    published_at: str | None
    held_back: frozenset[str]
    slips: Mapping[str, str]


def book_site(
    book: Book,
    coach: Coach,
    words: Words,
    kept: Cache | None = None,
    *,
    finished: Mapping[str, FinishedLessons] = MappingProxyType({}),
    stands: Callable[[str, str], bool] = lambda *_: False,
) -> Site:
    """The book's pages; ``data/`` with the lessons' records is written beside them.

    ``kept`` is where finished drawings are kept between builds. ``finished`` are lessons by the
    student's key; these students may be told in brief. ``stands`` says of a student's page, by its
    path and all that it is made of, whether it is there: then it gets no body.
    """
    paths = student_pages(book.students)
    readers = {s.student.key: reader_of_book(s, coach, words, kept) for s in book.students}
    finished = {
        student.student.key: finished.get(student.student.key)
        or finish_lessons(student, book.up, readers[student.student.key])
        for student in book.students
    }
    sheets = tuple(_sheets(book, coach))
    passphrases = dict(book.slips)
    slips = {key: slip_path(paths[key]) for key in passphrases}
    named = [(paths[s.student.key], s.student.name) for s in book.students]
    told = (named, [(s.path, s.title) for s in sheets], sorted(slips))
    around = repr((coach.name, coach.accent, *told))
    known = _Known(finished, around, stands, coach.address, held_back(book), slips)
    lines = [_lines(s, book, readers[s.student.key], paths, finished) for s in book.students]
    in_short = {
        (student.student.key, recap.page): EndedLine(each.page, line)
        for student, each in zip(book.students, lines, strict=True)
        for recap, line in zip(reversed(student.recaps), each.lines, strict=True)
    }
    pages = (
        _front_page(book, words, lines, sheets, known),
        *(
            _student_page(student, book, readers[student.student.key], paths, known)
            for student in book.students
        ),
        _lessons_page(words, lines, known),
        _endings_page(book, words, in_short, known),
        _ledger_page(book, words, known),
        _asked_page(book, coach, words, in_short, known),
        problems_page(book, words),
        *sheets,
        filming_page(words),
        _reading_page(words),
        *(
            slip_page(student, passphrases[key], coach, slips[key], words.say("book.slip.section"))
            for student in book.students
            if (key := student.student.key) in slips
        ),
    )
    return Site(
        kind=SiteKind.BOOK,
        name=words.say("book.name", coach=coach.name),
        language=words.language,
        pages=pages,
        assets=(),
        accent=coach.accent,
    )


def _sheets(book: Book, coach: Coach) -> Iterator[Page]:
    """The intake sheet in the coach's language and in every one that a student chose."""
    chosen = (student.student.language for student in book.students)
    for language in dict.fromkeys((coach.language, *filter(None, chosen))):
        words, first = catalogue.words(language), language == coach.language
        yield sheet_page(words, coach.emergency_number, first=first)


def student_pages(students: Sequence[StudentRecap]) -> Mapping[str, str]:
    """A flat, unique file name for each student's folder name."""
    taken: dict[str, str] = {}
    for student in students:
        plain = normalize("NFKD", student.student.key).encode("ascii", "ignore").decode().lower()
        stem = "student-" + file_stem(sub(r"[^a-z0-9]+", "-", plain).strip("-") or "unnamed")
        path, again = f"{stem}.html", 2
        while path in taken.values():
            path, again = f"{stem}-{again}.html", again + 1
        taken[student.student.key] = path
    return taken


def _front_page(
    book: Book,
    words: Words,
    students: Sequence[StudentLines],
    sheets: Sequence[Page],
    known: _Known,
) -> Page:
    """Today: who comes, who waits, what was built last."""
    title = words.say("book.index.title")
    lessons = sum(len(each.lines) for each in students)
    recent, of_late = newest_lessons(book, students)
    held = held_back(book)
    facts = {
        "due": who_is_due(book, students, words),
        "on": day(book.today, words),
        "counts": words.say(
            "book.counts",
            students=words.count("book.counts.students", len(students)),
            lessons=words.count("book.counts.lessons", lessons),
        ),
        "sheets": [(sheet.path, sheet.title) for sheet in sheets],
        "range_page": range_page(book, known.published_at),
        "problems": words.count("book.look.problems", len(book.problems))
        if book.problems
        else None,
        "waiting": [
            (each.name, each.page, student.student.key in held, each.waiting)
            for student, each in zip(book.students, students, strict=True)
            if each.waiting or student.student.key in held
        ],
        "recent": [(line, each.page, each.name) for line, each in recent],
        "of_late": of_late,
        "built": built_last(book, words),
    }
    made_of = key_for("front", known.around, repr(facts))
    body = ""
    if not known.stands(FRONT_PAGE, made_of):
        body = fill("book/pages/index.html.jinja", words, title=title, **facts)
    return Page(path=FRONT_PAGE, title=title, body=body, made_of=made_of)


def _lessons_page(words: Words, students: Sequence[StudentLines], known: _Known) -> Page:
    title = words.say("book.all.title")
    told = [(each.page, each.name, [*map(facts_of_line, each.lines)]) for each in students]
    made_of = key_for("all lessons", known.around, repr(told))
    body = ""
    if not known.stands(_LESSONS_PAGE, made_of):
        body = fill("book/pages/lessons.html.jinja", words, title=title, students=students)
    return Page(path=_LESSONS_PAGE, title=title, body=body, made_of=made_of)


def _lines(
    student: StudentRecap,
    book: Book,
    reader: Reader,
    paths: Mapping[str, str],
    finished: Mapping[str, FinishedLessons],
) -> StudentLines:
    return StudentLines(
        name=student.student.name,
        page=paths[student.student.key],
        lines=finished[student.student.key].lines,
        waiting=() if student.student.archived else waiting(student, book, reader),
    )


def _student_page(
    student: StudentRecap,
    book: Book,
    reader: Reader,
    paths: Mapping[str, str],
    known: _Known,
) -> Page:
    words, path = reader.words, paths[student.student.key]
    lessons = known.finished[student.student.key]
    expected = due(student, book.today, words)
    facts = {
        "student": student.student,
        "held": student.student.key in known.held_back,
        "expected": None if expected is None else (expected.on.isoformat(), expected.told),
        "site": page_link(student, FRONT_PAGE, book.up),
        "agreement": agreement(student.student, book.today, words),
        "waiting": waiting(student, book, reader),
        "slip": known.slips.get(student.student.key),
    }
    made_of = key_for(lessons.made_of, known.around, repr(facts)) if lessons.made_of else ""
    body = ""
    if not (made_of and known.stands(path, made_of)):
        html = lessons.html()
        body = fill(
            "book/pages/student.html.jinja",
            words,
            lines=lessons.lines,
            printed=_PRINTED_LINES,
            brief=Markup(html.brief),  # noqa: S704 - filled in with escaping
            lessons=Markup(html.lessons),  # noqa: S704 - filled in with escaping
            **facts,
        )
    return Page(
        path=path,
        title=student.student.name,
        body=body,
        section=words.say("book.students.section"),
        made_of=made_of,
    )


def _endings_page(
    book: Book, words: Words, in_short: Mapping[tuple[str, str], EndedLine], known: _Known
) -> Page:
    title = words.say("book.endings.title")
    made_of = key_for("endings", known.around, told_of(book.endings, in_short))
    body = ""
    if not known.stands(ENDINGS_PAGE, made_of):
        tables = endings_tables(book.endings, in_short, words)
        body = fill("book/pages/endings.html.jinja", words, title=title, tables=tables)
    return Page(path=ENDINGS_PAGE, title=title, body=body, made_of=made_of)


def _asked_page(
    book: Book,
    coach: Coach,
    words: Words,
    in_short: Mapping[tuple[str, str], EndedLine],
    known: _Known,
) -> Page:
    title = words.say("book.asked.title")
    made_of = key_for("asked", known.around, told_of_examples(book.examples, in_short, coach))
    body = ""
    if not known.stands(ASKED_PAGE, made_of):
        body = fill(
            "book/pages/asked.html.jinja",
            words,
            title=title,
            groups=asked_groups(book.examples, in_short, coach, words),
            choices=choices(book.examples, words),
            said=why_words(words),
        )
    return Page(path=ASKED_PAGE, title=title, body=body, made_of=made_of)


def _ledger_page(book: Book, words: Words, known: _Known) -> Page:
    title = words.say("book.ledger.title")
    tried = book.tried_intents
    made_of = key_for("ledger", known.around, repr(tried))
    if known.stands("ledger.html", made_of):
        return Page("ledger.html", title, body="", made_of=made_of)
    rows = [_tried_intent_row(line, words) for line in tried.lines]
    late = [_tried_intent_row(line, words) for line in tried.afterwards]
    tables = [("ranked", rows[: tried.ranked]), ("few", rows[tried.ranked :])]
    return Page(
        path="ledger.html",
        title=title,
        body=fill(
            "book/pages/ledger.html.jinja",
            words,
            title=title,
            tables=[*tables, ("afterwards", late)] if late else tables,
            uncounted=words.count("book.ledger.uncounted", tried.uncounted)
            if tried.uncounted
            else None,
        ),
        made_of=made_of,
    )


def _tried_intent_row(line: TriedIntentLine, words: Words) -> TriedIntentRow:
    return TriedIntentRow(
        intent=line.intent,
        quantity=quantity_name(line.quantity, words),
        tried=_tried(line, words),
        verdicts=_counted("verdict", line.verdicts, words),
        kept=_counted("kept", line.kept, words),
    )


def _tried(line: TriedIntentLine, words: Words) -> str:
    if line.pooled is not None and line.pooled.ranked:
        return tell_intent(line.pooled, words)
    return words.say(
        "book.ledger.tried",
        lessons=words.count("book.counts.lessons", line.lessons),
        students=words.count("book.counts.students", line.students),
    )


def _counted(kind: str, counts: Sequence[tuple[Enum, int]], words: Words) -> tuple[str, ...]:
    return tuple(
        words.say("book.ledger.count", what=tell_in_book(kind, what, words), n=n)
        for what, n in counts
    )


def _reading_page(words: Words) -> Page:
    title = words.say("book.reading.title")
    verdicts = [
        (tell_in_book("verdict", verdict, words), tell_in_book("reading", verdict, words))
        for verdict in Verdict
    ]
    body = fill(
        "book/pages/reading.html.jinja",
        words,
        title=title,
        verdicts=verdicts,
        parts=_READING_PARTS,
    )
    return Page(path="reading.html", title=title, body=body)
