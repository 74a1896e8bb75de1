"""``recapgen worksheet``: a lesson's worksheet in the book, though its notes are finished."""

from pathlib import Path

from msgspec import Struct

from recapgen.intake.folder import survey
from recapgen.intake.which_folder import lesson_given
from recapgen.intake.worksheets_asked import FILE, MOST_ASKED, worksheets_asked
from recapgen.model.problem import Checked
from recapgen.tools.atomic import write_text


class SheetAsked(Struct, frozen=True):
    """The lessons folder, and the lesson by the names of its folders."""

    root: Path
    student_key: str
    lesson_key: str


def ask_for_worksheet(lesson: Path) -> Checked[SheetAsked]:
    """From the next build on the folder ``lesson`` has a worksheet. Raises OSError."""
    given = lesson_given(lesson, "worksheet")
    if given.value is None:
        return Checked(None, given.problems)
    root = given.value.found.root
    asked = SheetAsked(root, given.value.student.key, given.value.lesson.key)
    _put_down(asked)
    return Checked(asked, ())


def ask_from_the_book(root: Path, lesson: str) -> SheetAsked | None:
    """The same for "student/lesson" as a page of the book names it; None where there is no such.

    Raises OSError.
    """
    found = survey(root).value
    known = {
        f"{student.key}/{paths.key}": SheetAsked(root, student.key, paths.key)
        for student in (found.students if found is not None else ())
        for paths in student.lessons
    }
    asked = known.get(lesson)
    if asked is not None:
        _put_down(asked)
    return asked


def _put_down(asked: SheetAsked) -> None:
    root, line = asked.root, f"{asked.student_key}/{asked.lesson_key}"
    lines = [*(each for each in worksheets_asked(root) if each != line), line][-MOST_ASKED:]
    (root / FILE).parent.mkdir(exist_ok=True)
    write_text(root / FILE, "".join(f"{each}\n" for each in lines))
