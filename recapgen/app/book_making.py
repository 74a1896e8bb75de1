"""The coach's book: a part made of each student, and all of them bound together."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from recapgen.app.build_context import BOOK_LANGUAGE, COACH_FILE, BuildContext
from recapgen.app.kept_students import KeptStudents
from recapgen.app.student_results import StudentResult
from recapgen.book.binding import bind_book
from recapgen.book.records import lesson_record, record_text
from recapgen.model.as_data import FAULTS, as_text, from_text
from recapgen.model.book import record_path
from recapgen.model.problem import Cost, Problem, speaks_against
from recapgen.model.public import PublicChange
from recapgen.publish.build_state import recipe
from recapgen.publish.checks import check_site
from recapgen.publish.kept_site import build_kept, kept_site
from recapgen.publish.output import Output
from recapgen.publish.swap import drop, put, stage
from recapgen.render.book_pages.lessons import FinishedLessons, finish_lessons, reader_of_book
from recapgen.render.book_pages.site import book_site
from recapgen.render.handbook_pages import FOLDER, handbook_site, to_be_found
from recapgen.tools.cache import key_for
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from recapgen.words.problems import as_record


@dataclass(frozen=True, slots=True)
class BookPart:
    """One student in the book: the ``lessons`` of the pages, and each lesson's data by its key."""

    lessons: FinishedLessons
    records: Mapping[str, str]


def part_of_book(
    told: StudentResult, known: KeptStudents, context: BuildContext, output: Output
) -> BookPart:
    """The student's part, as it was made before where it would be the same.

    ``told`` may be in brief. To be made once the student's own site is up, which it links to.
    """
    up = _pages_up(output.site, told.recap.address)
    if told.kept_as is None:
        return _made(told, known, context, up)
    key = key_for(
        "part of the book",
        told.kept_as,
        recipe(template_folder()),
        repr((context.coach.units, context.coach.emergency_number, sorted(up), told.problems)),
    )
    text = context.cache.find_text(key)
    try:
        kept = None if text is None else from_text(text, BookPart)
    except FAULTS:
        kept = None
    if kept is None:
        kept = _made(told, known, context, up)
        context.cache.keep_text(key, as_text(kept, BookPart))
    return kept


def _made(
    told: StudentResult, known: KeptStudents, context: BuildContext, up: frozenset[str]
) -> BookPart:
    whole, say = known.whole(told).recap, words(BOOK_LANGUAGE)
    reader = reader_of_book(whole, context.coach_named(say), say, context.cache)
    records = {}
    for recap in whole.recaps:
        within = f"{whole.student.key}/{recap.key}/"
        met = [as_record(p, say) for p in told.problems if p.where.file.startswith(within)]
        records[recap.key] = record_text(lesson_record(whole, recap, context.coach.units, met))
    return BookPart(finish_lessons(whole, up, reader), records)


def make_book(
    students: Sequence[StudentResult],
    parts: Sequence[BookPart],
    problems: Sequence[Problem],
    public: tuple[PublicChange, ...],
    *,
    context: BuildContext,
    output: Output,
) -> tuple[Problem, ...]:
    """Bind the coach's book, with every lesson's data beside its pages, and put it in place."""
    say, template = words(BOOK_LANGUAGE), template_folder()
    coach = context.coach_named(say)
    recaps = tuple(told.recap for told in students)
    up = frozenset(_files_in(output.site))
    book = bind_book(recaps, problems, context.today, up=up, intents=coach.intents, public=public)
    keys = [recap.student.key for recap in recaps]
    finished = {key: part.lessons for key, part in zip(keys, parts, strict=True)}
    site = book_site(book, coach, say, context.cache, finished)
    new = stage(output.staging)
    manual = kept_site(
        lambda: (handbook_site(say, coach.accent), to_be_found(say)),
        template,
        context.cache,
        say.language,
        str(coach.accent),
    )
    read = build_kept(site, new, template, context.cache, manual.entries)
    manual.unpack(new / FOLDER)
    read |= {f"{FOLDER}/{path}": page for path, page in manual.read.items()}
    for key, part in zip(keys, parts, strict=True):
        for lesson, record in part.records.items():
            path = new / record_path(key, lesson)
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(record, encoding="utf-8")
    beside = frozenset(f"../site/{path}" for path in up)
    found = check_site(
        new, site.kind, None, where=COACH_FILE, costs=Cost.RUN, beside=beside, read=read
    )
    if speaks_against(found):
        drop(new)
    else:
        put(new, output.book, output.root)
    return found


def _pages_up(site: Path, address: str) -> frozenset[str]:
    return frozenset(f"{address}/{page.name}" for page in (site / address).glob("*.html"))


def _files_in(folder: Path) -> Iterable[str]:
    return (f.relative_to(folder).as_posix() for f in folder.rglob("*") if f.is_file())
