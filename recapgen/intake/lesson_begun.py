"""A lesson without notes: what they can begin with, and the lesson as it is read with them."""

from collections.abc import Callable
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.clip_list import clips_by_name
from recapgen.intake.first_notes import SeenClip, SeenLesson, first_notes
from recapgen.intake.folder import LessonPaths, StudentPaths, folder_of_lesson
from recapgen.intake.last_time import said_last_time
from recapgen.intake.lesson_folder import read_lesson, setting_of
from recapgen.intake.notes import KEYS, KNOWN, notes_in
from recapgen.intake.notes_as_typed import typed_in
from recapgen.intake.pasting import begun
from recapgen.intake.table.all_files import read_shots
from recapgen.intake.text_file import file_of
from recapgen.model.lesson import Lesson
from recapgen.model.notes_line import Said
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Code
from recapgen.model.source import SourceRef
from recapgen.model.worksheet import NotesText


class BegunLesson(Struct, frozen=True):
    """``lesson`` is None where even these notes could not be read."""

    notes: NotesText
    lesson: Lesson | None


def without_notes(root: Path, student: StudentPaths) -> tuple[LessonPaths, ...]:
    """The folders of ``student`` that hold a lesson's files and no notes."""
    folders = [
        root / problem.where.file
        for problem in student.problems
        if problem.code is Code.FILES_WITHOUT_NOTES
    ]
    found = (folder_of_lesson(student, folder) for folder in folders if folder.is_dir())
    return tuple(paths for paths in found if paths is not None)


def begin_lesson(
    root: Path,
    paths: LessonPaths,
    coach: Coach,
    student: Student,
    tell: Callable[[Said], str],
) -> BegunLesson:
    """As ``recapgen new`` begins the notes, but for what only a look into the clips tells.

    On a worksheet that is offered beside each clip. ``tell`` makes the sentence of a remark.
    """
    where = SourceRef(file_of(root, paths.notes), 1, 1)
    table = read_shots(root, paths.tables, setting_of(None, coach, student)).value
    seen = SeenLesson(
        on=paths.on,
        coach=coach,
        student=student,
        shots=table,
        clips=tuple(SeenClip(clip) for clip in clips_by_name(root, paths.clips, where)),
        last=said_last_time(root, paths, KEYS, KNOWN),
    )
    text = begun(first_notes(seen), tell)
    noted = notes_in(text, root, paths, coach, student)
    lesson = read_lesson(root, paths, coach, student, noted=noted).value
    typed = typed_in(text.encode()) or NotesText(text, "")
    return BegunLesson(replace(typed, digest=""), lesson)
