"""Which folder was given: all the lessons, or one student's or one lesson's in their place."""

import os
import shlex
from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct

from recapgen.intake.folder import (
    NOTES,
    QUESTION,
    LessonPaths,
    StudentPaths,
    Survey,
    begins_with_a_date,
    survey,
)
from recapgen.intake.text_file import file_of
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef

_STUDENT_FILES = frozenset({"student.yml", "student.yaml"})
_COACH_FILES = frozenset({"coach.yml", "coach.yaml"})
_MOST_LEVELS = 6
_AN_EXAMPLE = "my_lessons/marta/2027-04-11"


class LessonGiven(Struct, frozen=True):
    """A lesson, whose it is, and everybody's paths around it."""

    found: Survey
    student: StudentPaths
    lesson: LessonPaths


def lesson_given(given: Path, command: str) -> Checked[LessonGiven]:
    """The lesson of the folder (or the file in it) ``given``; else the problem, with what to paste.

    ``command`` is what was asked for ("stills").
    """
    folder = given.resolve()
    if folder.is_file():  # its notes, or a clip of it
        folder = folder.parent
    above = next((p for p in folder.parents if (p / "coach.yml").is_file()), folder.parent.parent)
    found = survey(above).value
    for student in found.students if found is not None else ():
        for lesson in student.dated:
            if found is not None and lesson.folder == folder:
                return Checked(LessonGiven(found, student, lesson), ())
    line = f"recapgen {command} {lesson_to_type(given)}"
    facts = {"path": file_of(folder.parent, folder), "line": line}
    return Checked(None, (Problem(Code.LESSON_NOT_HERE, SourceRef(""), facts),))


def part_of_the_lessons(given: Path, command: str) -> Problem | None:
    """Where ``given`` is a student's or a lesson's folder: the problem, with the line to paste.

    ``command`` is what was asked for ("build"). None for anything else, a missing folder included.
    """
    try:
        folder = given.resolve(strict=True)
    except (OSError, RuntimeError, ValueError):
        return None
    if folder.is_file():
        folder = folder.parent
    code = _kind_of(folder)
    if code is None:
        return None
    line = f"recapgen {command} {to_type(_lessons_above(folder, code), given)}"
    return Problem(code, SourceRef(""), {"path": _shown(given), "line": line})


def lesson_to_type(given: Path) -> str:
    """The newest lesson's folder below ``given``, to be pasted; a made-up one where none is."""
    below = [folder for folder in _folders(given) if not _is_lesson(folder)]
    found = [*_lessons_in(given), *(lesson for near in below for lesson in _lessons_in(near))]
    with_notes = (lesson for lesson in found if NOTES in _names_in(lesson))
    newest = max(with_notes, key=lambda lesson: lesson.name, default=None)
    return _AN_EXAMPLE if newest is None else to_type(newest, given)


def to_type(path: Path, given: Path) -> str:
    """``path`` as it may be pasted behind a command: from here where ``given`` was, and quoted."""
    try:
        shown = str(path) if given.is_absolute() else os.path.relpath(path)
    except (OSError, ValueError):  # no folder to be in, or another drive
        shown = str(path)
    if shown.startswith("-"):
        shown = f"./{shown}"
    if os.name == "nt":
        return f'"{shown}"' if " " in shown else shown
    return shlex.quote(shown)


def _kind_of(folder: Path) -> Code | None:
    names = _names_in(folder)
    if names & _COACH_FILES:
        return None
    if names & _STUDENT_FILES:
        return Code.STUDENT_FOLDER_GIVEN
    if any(_is_students(near) for near in _folders(folder)):
        return None
    if _is_lesson(folder) or begins_with_a_date(folder.name):
        return Code.LESSON_FOLDER_GIVEN
    return Code.STUDENT_FOLDER_GIVEN if _holds_lessons(folder) else None


def _is_students(folder: Path) -> bool:
    """A student's folder within the one given; one for a year ("2027") is not."""
    if begins_with_a_date(folder.name) or folder.name.isdigit():
        return False
    return bool(_names_in(folder) & _STUDENT_FILES) or _holds_lessons(folder)


def _holds_lessons(folder: Path) -> bool:
    """Lessons lie in it, or in folders for years."""
    years = [near for near in _folders(folder) if near.name.isdigit()]
    return any(any(_lessons_in(near)) for near in (folder, *years))


def _lessons_above(folder: Path, code: Code) -> Path:
    """The nearest folder above with a coach.yml, or that holds a student's, or so many above."""
    for above in folder.parents[:_MOST_LEVELS]:
        if _names_in(above) & _COACH_FILES:
            return above
    for above in (folder, *folder.parents[:_MOST_LEVELS]):
        if _names_in(above) & _STUDENT_FILES:
            return above.parent
    levels = 1 if code is Code.STUDENT_FOLDER_GIVEN else 2
    return folder.parents[min(levels, len(folder.parents)) - 1]


def _lessons_in(folder: Path) -> Iterator[Path]:
    return (f for f in _folders(folder) if begins_with_a_date(f.name) and _is_lesson(f))


def _is_lesson(folder: Path) -> bool:
    return bool(_names_in(folder) & {NOTES, QUESTION})


def _folders(folder: Path) -> list[Path]:
    try:
        return [p for p in folder.iterdir() if p.is_dir() and not p.name.startswith((".", "_"))]
    except OSError:
        return []


def _names_in(folder: Path) -> frozenset[str]:
    try:
        return frozenset(p.name.casefold() for p in folder.iterdir())
    except OSError:
        return frozenset()


def _shown(path: Path) -> str:
    return str(path).encode("utf-8", "backslashreplace").decode("utf-8")
