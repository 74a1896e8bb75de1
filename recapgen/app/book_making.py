"""The coach's book: a part made of each student, and all of them bound together."""

import os
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TypeVar

from msgspec import Struct

from recapgen.app.build_context import BOOK_LANGUAGE, COACH_FILE, BuildContext
from recapgen.app.kept_students import KeptStudents
from recapgen.app.locked_sites import slips
from recapgen.app.student_results import StudentResult
from recapgen.app.worksheets import with_sheets
from recapgen.book.binding import bind_book
from recapgen.book.question_records import question_record
from recapgen.book.records import ProblemRecord, lesson_record, record_text
from recapgen.book.tried_intents import pooled
from recapgen.model.as_data import FAULTS, as_text, from_text
from recapgen.model.book import question_path, record_path
from recapgen.model.evidence import IntentRow, LessonGain
from recapgen.model.page import Site
from recapgen.model.people import Coach
from recapgen.model.problem import Cost, Problem, speaks_against
from recapgen.model.public import PublicChange
from recapgen.model.worksheet import Worksheet
from recapgen.publish.build_state import recipe
from recapgen.publish.checks import check_site
from recapgen.publish.kept_site import kept_site
from recapgen.publish.last_site import LastSite, NewSite, inventory_of, read_last_site
from recapgen.publish.output import Output, OutputPlaces
from recapgen.publish.renewal import read_already, renew, stands
from recapgen.publish.swap import drop, put, stage
from recapgen.render.book_pages.lessons import (
    FinishedLessons,
    LessonLine,
    LessonsHtml,
    finish_lessons,
    reader_of_book,
)
from recapgen.render.book_pages.site import book_site
from recapgen.render.handbook_pages import FOLDER, handbook_site, to_be_found
from recapgen.render.worksheet_site import FOLDER as WORKSHEETS
from recapgen.render.worksheet_site import lies_beside, worksheet_site
from recapgen.tools.atomic import write_text
from recapgen.tools.cache import Cache, key_for
from recapgen.tools.template_folder import template_folder
from recapgen.tools.walking import sizes_below
from recapgen.words.catalogue import words
from recapgen.words.problems import as_record

T = TypeVar("T")


class BookPart(Struct, frozen=True):
    """One student in the book: ``whole`` gives the pages' lessons and each one's data.

    ``made_of`` is a digest of all that the part is made of; empty where nothing is kept.
    """

    lines: tuple[LessonLine, ...]
    made_of: str
    whole: Callable[[], "WholePart"]


class WholePart(Struct, frozen=True):
    """All lessons of a student as ``html``, and the data of everything by its path in the book."""

    html: LessonsHtml
    records: Mapping[str, str]


class _KeptLines(Struct, frozen=True):
    """What is kept of a part for the front of the book."""

    lines: tuple[LessonLine, ...]


class _KeptRows(Struct, frozen=True):
    """What is kept of all intents that were tried."""

    rows: tuple[IntentRow, ...]


def part_of_book(
    result: StudentResult, known: KeptStudents, context: BuildContext, output: Output
) -> BookPart:
    """The student's part, as it was made before where it would be the same.

    ``result`` may be in brief. To be made once the student's own site is up, which it links to.
    """
    up = _pages_up(output.site, result.recap.address)
    sheets = with_sheets(result, context)

    def make() -> tuple[tuple[LessonLine, ...], WholePart]:
        return _made(result, known, context, up, sheets)

    if result.store_key is None:
        lines, whole = make()
        return BookPart(lines, "", lambda: whole)
    made_of = key_for(
        "part of the book",
        result.store_key,
        recipe(template_folder()),
        repr((_of_book(context.coach), sorted(up), result.problems, sheets)),
    )
    cache = context.cache

    def kept_whole() -> WholePart:
        found = _kept(cache, key_for("whole", made_of), WholePart)
        return found if found is not None else make()[1]

    front = _kept(cache, key_for("lines", made_of), _KeptLines)
    if front is not None:
        return BookPart(front.lines, made_of, kept_whole)
    lines, whole = make()
    cache.keep_text(key_for("lines", made_of), as_text(_KeptLines(lines), _KeptLines))
    cache.keep_text(key_for("whole", made_of), as_text(whole, WholePart))
    return BookPart(lines, made_of, kept_whole)  # not held meanwhile for everybody


def _of_book(coach: Coach) -> tuple[object, ...]:
    """What a student's part takes of the settings."""
    return coach.units, coach.emergency_number, coach.name, coach.address, coach.language


def _kept(cache: Cache, key: str, kind: type[T]) -> T | None:
    text = cache.find_text(key)
    try:
        return None if text is None else from_text(text, kind)
    except FAULTS:
        return None


def _made(
    result: StudentResult,
    known: KeptStudents,
    context: BuildContext,
    up: frozenset[str],
    sheets: Mapping[str, str],
) -> tuple[tuple[LessonLine, ...], WholePart]:
    whole, say = known.whole(result).recap, words(BOOK_LANGUAGE)
    reader = reader_of_book(whole, context.coach_named(say), say, context.cache)
    records, student = {}, whole.student.key

    def met(key: str) -> list[ProblemRecord]:
        within = f"{student}/{key}/"
        return [as_record(p, say) for p in result.problems if p.where.file.startswith(within)]

    for recap in whole.recaps:
        told = lesson_record(whole, recap, context.coach.units, met(recap.key))
        records[record_path(student, recap.key)] = record_text(told)
    for question in whole.questions:
        told = question_record(whole, question, met(question.key))
        records[question_path(student, question.key)] = record_text(told)
    finished = finish_lessons(whole, up, reader, sheets)
    return finished.lines, WholePart(finished.html(), records)


def make_book(
    students: Sequence[StudentResult],
    parts: Sequence[BookPart],
    problems: Sequence[Problem],
    public: tuple[PublicChange, ...],
    *,
    sheets: Sequence[Worksheet],
    context: BuildContext,
    output: Output,
) -> tuple[Problem, ...]:
    """Bind the coach's book, with every lesson's data beside its pages, and put it in place."""
    say, template = words(BOOK_LANGUAGE), template_folder()
    coach, last = context.coach_named(say), _last_book(output)
    recaps = tuple(result.recap for result in students)
    up = frozenset(path for path, _ in sizes_below(output.site))
    book = bind_book(
        recaps,
        problems,
        context.today,
        up=up,
        intents=coach.intents,
        misses=coach.misses,
        public=public,
        pooling=partial(_pooled, context),
        slips=slips(recaps, context, output),
    )
    finished = {
        result.recap.student.key: FinishedLessons(part.lines, _html_of(part), part.made_of)
        for result, part in zip(students, parts, strict=True)
    }
    standing = partial(stands, last, template)
    site = book_site(book, coach, say, context.cache, finished=finished, stands=standing)
    new = NewSite(stage(output.staging), last)
    manual = kept_site(
        lambda: (handbook_site(say, coach.accent), to_be_found(say)),
        template,
        context.cache,
        say.language,
        str(coach.accent),
    )
    renew(site, new, template, manual.entries)
    manual.lay_into(new, FOLDER)
    for result, part in zip(students, parts, strict=True):
        _lay_records(result, part, new)
    if sheets:
        _lay_sheets(worksheet_site(sheets, coach, say), sheets, new)
    read = read_already(new) | {f"{FOLDER}/{path}": page for path, page in manual.read.items()}
    found = check_site(
        new.folder,
        site.kind,
        None,
        where=COACH_FILE,
        costs=Cost.RUN,
        beside=frozenset(f"../site/{path}" for path in up),
        read=read,
    )
    if speaks_against(found):
        drop(new.folder)
    else:
        put(new.folder, output.book, output.root)
        write_text(output.inventory, inventory_of(new, output.book) + "\n")
    return found


def _pooled(context: BuildContext, gains: Sequence[LessonGain]) -> tuple[IntentRow, ...]:
    """The rows of all intents as they were kept: a word in one lesson moves none of them."""
    key = key_for("pooled", context.program, repr(gains))
    kept = _kept(context.cache, key, _KeptRows)
    if kept is None:
        kept = _KeptRows(pooled(gains))
        context.cache.keep_text(key, as_text(kept, _KeptRows))
    return kept.rows


def _last_book(places: OutputPlaces) -> LastSite:
    try:
        return read_last_site(places.book, places.inventory.read_text("utf-8"))
    except OSError:
        return read_last_site(places.book, None)


def _html_of(part: BookPart) -> Callable[[], LessonsHtml]:
    return lambda: part.whole().html


def _lay_records(result: StudentResult, part: BookPart, new: NewSite) -> None:
    told = result.recap
    student = told.student.key
    lessons = (record_path(student, recap.key) for recap in told.recaps)
    questions = (question_path(student, question.key) for question in told.questions)
    for path in (*lessons, *questions):

        def record(path: str = path) -> bytes:
            return part.whole().records[path].encode()

        new.lay(path, part.made_of, record)


def _lay_sheets(site: Site, sheets: Sequence[Worksheet], new: NewSite) -> None:
    """The worksheets below the book, each as it was where nothing about it is new."""
    below = NewSite(new.folder / WORKSHEETS, new.last.below(WORKSHEETS))
    below.folder.mkdir()
    renew(site, below, template_folder())
    for path, clip in lies_beside(sheets).items():
        source = clip.copy.video if clip.copy is not None else clip.still
        if source is not None:
            below.lay(path, key_for("clip", path), source.read_bytes)
    new.take_in(below, WORKSHEETS)


def _pages_up(site: Path, address: str) -> frozenset[str]:
    try:
        names = os.listdir(site / address)  # noqa: PTH208  of everybody, at every build
    except OSError:
        return frozenset()
    return frozenset(f"{address}/{name}" for name in names if name.endswith(".html"))
