"""What a student's and a lesson's files mean is worked out once, and kept under what it rests on.

The key is everything that reading takes: the files' contents, their places, the settings and the
student, and the recipe of the program. What does not read back whole is read anew. The readers
themselves are imported where something is to be read.
"""

from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.folder import LessonPaths, StudentPaths
from recapgen.model.as_data import FAULTS, as_text, from_text
from recapgen.model.between_lessons import StudentQuestion
from recapgen.model.lesson import Lesson
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Checked, Problem
from recapgen.model.shots import ShotTable
from recapgen.tools.cache import Cache, key_for, sha256_of_file
from recapgen.tools.walking import is_plain

if TYPE_CHECKING:
    from recapgen.intake.table.section_columns import Setting

T = TypeVar("T")


class KeptReadings(Struct, frozen=True):
    """Readings in ``cache``, made by the program whose ``recipe`` this is."""

    cache: Cache
    recipe: str

    def read_coach(self, root: Path) -> Checked[Coach]:
        """As ``intake.settings.read_coach``."""

        def read() -> Checked[Coach]:
            from recapgen.intake.settings import read_coach  # noqa: PLC0415  see above

            return read_coach(root)

        try:
            drills = [each for each in root.iterdir() if each.name.casefold() == "drills"]
            inside = [file for folder in drills if folder.is_dir() for file in folder.iterdir()]
            beside = [each for each in root.iterdir() if not each.is_dir()]
        except OSError:
            return read()
        files = sorted((*beside, *inside))
        names = repr([file.relative_to(root).as_posix() for file in files])
        return self._kept(files, ("coach", str(root), names), read, Coach)

    def read_student(self, root: Path, paths: StudentPaths, coach: Coach) -> Checked[Student]:
        """As ``intake.student.read_student``; what the notes say of consent is part of it."""

        def read() -> Checked[Student]:
            from recapgen.intake.student import read_student  # noqa: PLC0415  see above

            return read_student(root, paths, settings)

        settings = replace(_of_reading(coach), locks=coach.locks)
        if paths.student_file is None:
            return read()
        files = (paths.student_file, *(dated.notes for dated in paths.dated))
        facts = ("student", str(root), paths.key, repr([str(file) for file in files]))
        return self._kept(files, (*facts, repr(settings)), read, Student)

    def read_lesson(
        self, root: Path, paths: LessonPaths, coach: Coach, student: Student
    ) -> Checked[Lesson]:
        """As ``intake.lesson_folder.read_lesson``, without taking a file apart again.

        Notes that say "as last time" rest on all earlier ones too.
        """
        from recapgen.intake.kept_drills import kept_words_file  # noqa: PLC0415  see above
        from recapgen.intake.last_time import says_last_time  # noqa: PLC0415  see above

        settings = _of_reading(coach)
        drills = kept_words_file(root, paths)
        beside = (paths.private, paths.seal, drills if drills.exists() else None)
        earlier = [each.notes for each in paths.earlier] if says_last_time(paths.notes) else []
        own = (paths.notes, *(file for file in beside if file is not None), *paths.tables)
        files = (*own, *earlier)
        facts = ("lesson", str(root), repr(paths), repr(settings), repr(student), repr(earlier))

        def read() -> Checked[Lesson]:
            from recapgen.intake.lesson_folder import read_lesson  # noqa: PLC0415  see above

            return read_lesson(root, paths, settings, student, self._read_table)

        return self._kept(files, facts, read, Lesson)

    def read_question(self, root: Path, paths: LessonPaths) -> Checked[StudentQuestion]:
        """As ``intake.question_file.read_question``."""

        def read() -> Checked[StudentQuestion]:
            from recapgen.intake.question_file import read_question  # noqa: PLC0415  see above

            return read_question(root, paths)

        files = (paths.notes, *((paths.private,) if paths.private is not None else ()))
        return self._kept(files, ("question", str(root), repr(paths)), read, StudentQuestion)

    def _read_table(
        self, root: Path, tables: tuple[Path, ...], setting: "Setting"
    ) -> Checked[ShotTable]:
        """The files of shots alone: a word changed in the notes leaves them as they were read."""
        from recapgen.intake.table.all_files import read_shots  # noqa: PLC0415  see above

        facts = ("table", str(root), repr(tables), repr(setting))
        return self._kept(tables, facts, lambda: read_shots(root, tables, setting), ShotTable)

    def _kept(
        self,
        files: Sequence[Path],
        facts: Iterable[str],
        read: Callable[[], Checked[T]],
        kind: type[T],
    ) -> Checked[T]:
        """The reading kept for the ``files`` as they are; read, and kept if they stayed so."""
        seen = _contents(files)
        if seen is None:
            return read()
        key = key_for("reading", self.recipe, *facts, *seen)
        known = self.cache.find_text(key)
        if known is not None:
            try:
                value, problems = from_text(known, _told(kind))
                return Checked(value, problems)
            except FAULTS:
                pass
        checked = read()
        if _contents(files) == seen:
            with suppress(*FAULTS):  # a value of another kind than its field is not kept
                told = as_text((checked.value, checked.problems), _told(kind))
                self.cache.keep_text(key, told)
        return checked


def _told(kind: type[T]) -> type[tuple[T | None, tuple[Problem, ...]]]:
    return tuple[kind | None, tuple[Problem, ...]]  # type: ignore[valid-type]


def _of_reading(coach: Coach) -> Coach:
    """What reading a lesson takes of the settings, and nothing else of them."""
    return Coach(
        name="",
        units=coach.units,
        altitude_m=coach.altitude_m,
        columns=coach.columns,
        drills=coach.drills,
        units_unsaid=coach.units_unsaid,
        usual=coach.usual,
    )


def _contents(files: Iterable[Path]) -> list[str] | None:
    """The digests of ``files``; None where one is a link or cannot be read."""
    if any(file.is_symlink() or not is_plain(file) for file in files):
        return None
    try:
        return [sha256_of_file(file) for file in files]
    except OSError:
        return None
