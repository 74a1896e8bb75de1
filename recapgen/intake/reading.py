"""Everything of one student, from the folder to values."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from datetime import date
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.folder import LessonPaths, StudentPaths
from recapgen.intake.lesson_folder import read_lesson
from recapgen.intake.log_file import read_log
from recapgen.intake.question_file import read_question
from recapgen.intake.text_file import file_of
from recapgen.model.between_lessons import StudentQuestion
from recapgen.model.fix import Put, one_of
from recapgen.model.lesson import Lesson
from recapgen.model.people import Coach, Student
from recapgen.model.practice_log import PracticeLog
from recapgen.model.problem import Checked, Code, Cost, Problem, Severity
from recapgen.model.source import SourceRef

MOST_PER_FILE = 40
FURTHEST_AHEAD_DAYS = 2 * 366
_COSTLY_LAST = tuple(Cost)
_KEYS_AMISS = frozenset({Code.KEY_UNKNOWN, Code.KEY_MISSPELT})


LessonReader = Callable[[Path, LessonPaths, Coach, Student], Checked[Lesson]]
"""Reads one lesson's folder."""
QuestionReader = Callable[[Path, LessonPaths], Checked[StudentQuestion]]
"""Reads one question's."""


class StudentFolder(Struct, frozen=True):
    """What could be read, lessons and questions oldest first; ``problems`` in file order."""

    student: Student
    lessons: tuple[Lesson, ...]
    log: PracticeLog
    problems: tuple[Problem, ...]
    questions: tuple[StudentQuestion, ...] = ()


def read_student_folder(
    root: Path,
    paths: StudentPaths,
    who: Checked[Student],
    coach: Coach,
    today: date | None = None,
    *,
    read_one: LessonReader = read_lesson,
    read_asked: QuestionReader = read_question,
) -> StudentFolder:
    """The student's values and all problems met. It never stops at the first.

    ``who`` is what student.yml says, read once, so that consent is judged on the very value that
    is published. Without ``today`` no day is held to be too far ahead. ``read_one`` and
    ``read_asked`` may know a lesson or a question from before.
    """
    student = who.value or Student(paths.key, paths.key)
    problems = [*paths.problems, *_far_ahead(root, paths, today), *who.problems]
    log, found = read_log(root, paths)
    problems.extend(found)
    lessons = []
    for lesson_paths in paths.lessons:
        lesson, found = read_one(root, lesson_paths, coach, student)
        newest = lesson_paths is paths.lessons[-1]
        problems.extend(p for p in found if newest or p.code is not Code.DRILL_CHANGED)
        if lesson is not None:
            lessons.append(lesson)
    questions = []
    for asked_paths in paths.questions:
        question, found = read_asked(root, asked_paths)
        problems.extend(found)
        if question is not None:
            questions.append(question)
            problems.extend(_ahead(root, question, today))
    return StudentFolder(
        student,
        tuple(lessons),
        log or PracticeLog(kept=True),
        capped(_without_harm(problems)),
        tuple(questions),
    )


def _without_harm(problems: list[Problem]) -> list[Problem]:
    """Nobody is advised to turn a line by which a student may have taken back a yes."""
    asked = {p.where for p in problems if p.code is Code.WITHDRAWAL_ELSEWHERE}
    lines = {(where.file, where.line) for where in asked}
    kept = [p for p in problems if p.code not in _KEYS_AMISS or p.where not in asked]
    return [
        replace(p, offers=())
        if p.code is not Code.WITHDRAWAL_ELSEWHERE and (p.where.file, p.where.line) in lines
        else p
        for p in kept
    ]


def _far_ahead(root: Path, paths: StudentPaths, today: date | None) -> Iterator[Problem]:
    """A lesson may be prepared; one that is years away has a slip in its date."""
    for lesson in paths.lessons:
        if today is not None and (lesson.on - today).days > FURTHEST_AHEAD_DAYS:
            facts = {"day": lesson.on.isoformat(), "today": today.isoformat()}
            where = SourceRef(file_of(root, lesson.folder))
            yield Problem(Code.LESSON_FAR_AHEAD, where, facts)


def _ahead(root: Path, question: StudentQuestion, today: date | None) -> Iterator[Problem]:
    """Nobody has asked, or answered, on a day that is still to come."""
    if today is None:
        return
    facts = {"today": today.isoformat()}
    if question.on > today:
        where = SourceRef(file_of(root, question.folder))
        yield Problem(Code.QUESTION_AHEAD, where, facts | {"day": question.on.isoformat()})
    elif question.words.answered is not None and question.words.answered > today:
        offers = one_of([Put(SourceRef(question.where.file), ("answered",), today.isoformat())])
        day = question.words.answered.isoformat()
        yield Problem(Code.QUESTION_AHEAD, question.where, facts | {"day": day}, offers=offers)


def capped(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems in file order, at most ``MOST_PER_FILE`` a file: the costly ones first kept.

    What is held back is counted in a problem of its own.
    """
    by_file: defaultdict[str, list[Problem]] = defaultdict(list)
    for problem in problems:
        by_file[problem.where.file].append(problem)
    kept: list[Problem] = []
    for file in sorted(by_file):
        here = by_file[file]
        here.sort(key=lambda p: -_COSTLY_LAST.index(p.cost))
        more = here[MOST_PER_FILE:]
        kept.extend(sorted(here[:MOST_PER_FILE], key=_in_file))
        if more:
            errors = sum(p.severity is Severity.ERROR for p in more)
            facts = {"more": str(len(more)), "errors": str(errors)}
            kept.append(Problem(Code.MORE_PROBLEMS, SourceRef(file), facts))
    return tuple(kept)


def _in_file(problem: Problem) -> tuple[int, int, str]:
    return problem.where.line or 0, problem.where.column or 0, problem.code.slug
