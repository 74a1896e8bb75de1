"""Which lessons have a worksheet in the book, and what is on it."""

from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path

from msgspec.structs import replace

from recapgen.app.build_context import BOOK_LANGUAGE, BuildContext
from recapgen.app.student_results import StudentResult
from recapgen.intake.folder import LessonPaths
from recapgen.intake.worksheets_asked import worksheets_asked
from recapgen.model.lesson import ClipFile, Lesson
from recapgen.model.people import Student
from recapgen.model.problem import Code, Severity
from recapgen.model.worksheet import NotesText, SheetClip, Worksheet
from recapgen.privacy.consent import withhold_clips
from recapgen.render.worksheet_site import FOLDER
from recapgen.tools.cache import key_for
from recapgen.words.catalogue import words
from recapgen.words.notes_remarks import remark

_NAME_DIGITS = 12
_MOST_INTENTS = 60


def sheet_page(student_key: str, lesson_key: str) -> str:
    """The file name of a lesson's worksheet, which changes only with the lesson's folder."""
    return f"{key_for('worksheet', student_key, lesson_key)[:_NAME_DIGITS]}.html"


def worksheet_in(book: Path, student_key: str, lesson_key: str) -> Path:
    """Where the worksheet of a lesson lies."""
    return book / address_of_sheet(student_key, lesson_key)


def address_of_sheet(student_key: str, lesson_key: str) -> str:
    """The worksheet of a lesson from the book's folder."""
    return f"{FOLDER}/{sheet_page(student_key, lesson_key)}"


def with_sheets(result: StudentResult, context: BuildContext) -> dict[str, str]:
    """The lessons of a student that have a worksheet, by key, and its page.

    Those with unfinished notes: without an intent, unread, or with a question about a file of
    theirs; and those that were asked for.
    """
    student = result.consent.paths.key
    asked = frozenset(worksheets_asked(context.root))
    finished = {recap.key for recap in result.recap.recaps if recap.notes.intent}
    amiss = {
        problem.where.file
        for problem in result.problems
        if problem.severity is Severity.ERROR or problem.offers
    }
    return {
        lesson.key: sheet_page(student, lesson.key)
        for lesson in _lessons(result, context)
        if f"{student}/{lesson.key}" in asked
        or (not result.recap.student.archived and lesson.key not in finished)
        or (
            not result.recap.student.archived
            and any(file.startswith(f"{student}/{lesson.key}/") for file in amiss)
        )
    }


def worksheets(results: Sequence[StudentResult], context: BuildContext) -> tuple[Worksheet, ...]:
    """The worksheets of all students; ``results`` may be in brief."""
    return tuple(
        sheet
        for result in results
        for sheet in _of_student(result, results, with_sheets(result, context), context)
    )


def _of_student(
    result: StudentResult,
    everyone: Sequence[StudentResult],
    pages: dict[str, str],
    context: BuildContext,
) -> Iterator[Worksheet]:
    for paths in _lessons(result, context):
        if paths.key in pages:
            sheet = _sheet(result, paths, pages[paths.key], context)
            yield replace(sheet, intents=_intents(result, everyone, context))


def _lessons(result: StudentResult, context: BuildContext) -> tuple[LessonPaths, ...]:
    """The student's lessons, and folders that are to be some."""
    paths = result.consent.paths
    if not any(problem.code is Code.FILES_WITHOUT_NOTES for problem in paths.problems):
        return paths.lessons
    from recapgen.intake.lesson_begun import without_notes  # noqa: PLC0415  seldom any

    return (*paths.lessons, *without_notes(context.root, paths))


def _sheet(
    result: StudentResult, paths: LessonPaths, page: str, context: BuildContext
) -> Worksheet:
    from recapgen.intake.shots_as_noted import shots_as_noted  # noqa: PLC0415  see _lessons

    student = result.consent.student
    notes, lesson = _read(paths, student, context)
    shown = None if lesson is None else withhold_clips(lesson, result.granted)
    withheld = shown is not None and lesson is not None and len(shown.clips) < len(lesson.clips)
    return Worksheet(
        page=page,
        student=student,
        key=paths.key,
        on=paths.on,
        units=context.coach.units,
        notes=notes,
        lesson=shown,
        shots=() if shown is None else shots_as_noted(shown),
        clips=() if shown is None or withheld else _clips(shown, paths, result, context),
        clips_withheld=len(paths.clips) if withheld else 0,
        drills=tuple(drill.name for drill in context.coach.drills),
    )


def _read(
    paths: LessonPaths, student: Student, context: BuildContext
) -> tuple[NotesText, Lesson | None]:
    """The notes as they stand, or as they can begin where there are none yet."""
    from recapgen.intake.notes_as_typed import notes_as_typed  # noqa: PLC0415  see _lessons

    root, coach = context.root, context.coach
    try:
        found = notes_as_typed(paths.notes)
    except FileNotFoundError:
        return _begun(paths, student, context)
    except OSError:
        found = None
    if found is None:
        return NotesText("", ""), None
    return found, context.readings.read_lesson(root, paths, coach, student).value


def _begun(
    paths: LessonPaths, student: Student, context: BuildContext
) -> tuple[NotesText, Lesson | None]:
    from recapgen.intake.lesson_begun import begin_lesson  # noqa: PLC0415  see _lessons

    tell = partial(remark, words=words(BOOK_LANGUAGE))
    found = begin_lesson(context.root, paths, context.coach, student, tell)
    return found.notes, found.lesson


def _clips(
    lesson: Lesson, paths: LessonPaths, result: StudentResult, context: BuildContext
) -> tuple[SheetClip, ...]:
    if not paths.clips:
        return ()
    from recapgen.clips.likely_view import likely_view  # noqa: PLC0415  heavy, and only for clips
    from recapgen.clips.watch_copy import sheet_clip  # noqa: PLC0415  see above
    from recapgen.intake.clips_as_noted import clips_as_noted  # noqa: PLC0415  see _lessons

    clips = clips_as_noted(context.root, paths, lesson)
    sheets = tuple(context.pool.map(partial(sheet_clip, cache=context.cache), clips))
    if all(clip.view for clip in clips):
        return sheets
    known = [clip for clip in (*clips, *_clips_before(paths, result, context)) if clip.view]
    return tuple(
        each
        if each.clip.view
        else replace(each, likely_view=likely_view(each.clip, known, context.cache))
        for each in sheets
    )


def _clips_before(
    paths: LessonPaths, result: StudentResult, context: BuildContext
) -> tuple[ClipFile, ...]:
    """Those of the lesson before that has some: a coach often films from the same places."""
    before = (each for each in result.consent.paths.lessons if each.on < paths.on and each.clips)
    last = max(before, key=lambda each: each.on, default=None)
    if last is None:
        return ()
    student = result.consent.student
    lesson = context.readings.read_lesson(context.root, last, context.coach, student).value
    return () if lesson is None else withhold_clips(lesson, result.granted).clips


def _intents(
    result: StudentResult, everyone: Sequence[StudentResult], context: BuildContext
) -> tuple[str, ...]:
    """The student's own, newest first; those of coach.yml; then everybody's."""
    listed = (said for name, all_of in context.coach.intents for said in all_of or (name,))
    others = (intent for each in everyone for intent in _newest_first(each))
    return tuple(dict.fromkeys((*_newest_first(result), *listed, *others)))[:_MOST_INTENTS]


def _newest_first(result: StudentResult) -> Iterator[str]:
    for recap in reversed(result.recap.recaps):
        if recap.notes.intent:
            yield recap.notes.intent
