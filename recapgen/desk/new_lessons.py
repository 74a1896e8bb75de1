"""``recapgen new``: what lies in the inbox becomes lessons, each with notes that are begun."""

import filecmp
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from time import sleep

from msgspec import Struct, field

from recapgen.desk.asking import (
    ask_day,
    ask_folder,
    ask_whose,
    is_yes,
    may_be_a_folder,
    nearly_called,
    person_called,
)
from recapgen.desk.careful_writing import FileText
from recapgen.desk.inbox import Dropped, inbox_of, look_through
from recapgen.desk.lesson_seen import see_lesson
from recapgen.desk.moving_in import bring_into
from recapgen.desk.not_done import is_done, mark, not_done
from recapgen.desk.whose import Person, sort_out
from recapgen.intake.first_notes import first_notes
from recapgen.intake.folder import StudentPaths, Survey, folder_of_lesson, survey
from recapgen.intake.notes import read_notes
from recapgen.intake.pasting import begun, completed
from recapgen.intake.settings import read_coach
from recapgen.intake.student import read_student
from recapgen.intake.text_file import file_of
from recapgen.intake.which_folder import part_of_the_lessons
from recapgen.model.notes_line import Said
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Checked, Code
from recapgen.model.question import Ask, ChangeFile, WhichDay, WhichFolder, WhoseFiles
from recapgen.model.taken_in import LeftBecause, LeftFile, LessonTaken, NotesState, TakenIn
from recapgen.publish.output import claim
from recapgen.tools.atomic import sync_folder, write_new
from recapgen.tools.cache import Cache
from recapgen.tools.leftovers import clear_half_written, temporary_folder
from recapgen.tools.walking import is_plain

Tell = Callable[[Said], str]
_NOTES = "notes.md"
_FOR_ALL = 0o644


class _Sorting(Struct):
    """The lessons folder while files are taken in; ``brought`` are those of each folder.

    ``answered`` are folders whose question about their notes somebody answered.
    """

    root: Path
    coach: Coach
    students: dict[str, StudentPaths]
    people: tuple[Person, ...]
    ask: Ask
    today: date
    brought: dict[Path, list[str]] = field(default_factory=dict)
    owners: dict[Path, str] = field(default_factory=dict)
    answered: set[Path] = field(default_factory=set)
    left: list[LeftFile] = field(default_factory=list)


def take_in(
    lessons: Path,
    student: str | None,
    ask: Ask,
    tell: Tell,
    today: date,
    *,
    rest: Callable[[float], None] = sleep,
) -> Checked[TakenIn]:
    """Move what lies in ``inbox`` to its students, and begin the notes of each lesson.

    Without anything there, the folder of ``today`` is made. ``student`` is whose all of it is;
    ``ask`` puts what nothing tells, ``tell`` makes the sentences beside the lines. Nothing is
    overwritten, and what nobody answers for stays where it is.
    """
    part = part_of_the_lessons(lessons, "new")
    surveyed = survey(lessons) if part is None else Checked[Survey](None, (part,))
    found = surveyed.value
    if found is None:
        return Checked(None, surveyed.problems)
    coach, problems = read_coach(found.root)
    if coach is None:
        return Checked(None, problems)
    sorting = _Sorting(
        found.root, coach, {each.key: each for each in found.students},
        tuple(people_of(found, coach)), ask, today,
    )  # fmt: skip
    clear_half_written(found.root)
    given = _given(sorting, student) if student is not None else None
    if student is not None and given is None:
        return Checked(TakenIn((), (LeftFile(student, LeftBecause.WHOSE),)), ())
    inbox = inbox_of(found.root)
    dropped: tuple[Dropped, ...] = ()
    if inbox is not None and inbox.is_symlink():
        sorting.left.append(LeftFile(inbox.name, LeftBecause.LINK))
    elif inbox is not None:
        with _cache_of(found.root) as cache:
            dropped, left = look_through(inbox, coach, cache, today, rest=rest)
        sorting.left += left
    _bring(sorting, dropped, given)
    for folder, key in (*_without_notes(found, given), *_left_open(found, given)):
        sorting.brought.setdefault(folder, [])
        sorting.owners[folder] = key
    if not sorting.brought and not dropped and not sorting.left:
        _todays(sorting, given)
    taken = tuple(_with_notes(sorting, tell))
    return Checked(TakenIn(taken, tuple(sorting.left)), ())


@contextmanager
def _cache_of(root: Path) -> Iterator[Cache]:
    """The build's own, so that it looks into no clip again; while that is in use, one for now."""
    claimed = claim(root.with_name(f"{root.name}_out"), root).value
    if claimed is None:
        with temporary_folder() as folder:
            yield Cache(folder)
        return
    try:
        yield Cache(claimed.cache)
    finally:
        claimed.release()


def people_of(found: Survey, coach: Coach) -> Iterator[Person]:
    """All students as files of the inbox may name them."""
    for paths in found.students:
        read, _ = read_student(found.root, paths, coach)
        who = read or Student(paths.key, paths.key)
        days = frozenset(lesson.on for lesson in paths.lessons)
        last = paths.lessons[-1] if paths.lessons else None
        notes = read_notes(found.root, last, coach, read).value if last is not None else None
        awaited = notes.notes.next_on if notes is not None else None
        yield Person(paths.key, (who.name, paths.key, *who.players), days, awaited)


def _given(sorting: _Sorting, student: str) -> str | None:
    """The folder of the student who was named; a new name that is nearly an old one is asked."""
    person = person_called(student, sorting.people)
    if person is not None:
        return person.key
    near = nearly_called(student, sorting.people)
    if near:
        question = WhoseFiles((), None, (*near, student), likely=False)
        return ask_whose(question, sorting.people, sorting.ask)
    return student if may_be_a_folder(student) else None


def _bring(sorting: _Sorting, dropped: Sequence[Dropped], given: str | None) -> None:
    """Every file into its lesson's folder; tables last, since by them the others are known."""
    result = sort_out(dropped, sorting.people, given)
    theirs = {key: list(files) for key, files in result.theirs.items()}
    for group in result.unclaimed:
        days = {each.day for each in group.files if each.day is not None}
        names = tuple(each.name for each in group.files)
        on = days.pop() if len(days) == 1 else None
        question = WhoseFiles(names, on, group.people, group.likely)
        key = ask_whose(question, sorting.people, sorting.ask)
        if key is None:
            sorting.left += [LeftFile(name, LeftBecause.WHOSE) for name in names]
        else:
            theirs.setdefault(key, []).extend(group.files)
    times = {each: sum(each in files for files in theirs.values()) for each in dropped}
    for key, files in theirs.items():
        for folder, of_day in _by_folder(sorting, key, files):
            mark(sorting.root, folder)
            for each in sorted(of_day, key=lambda one: (one.is_table, len(one.name), one.name)):
                times[each] -= 1
                _bring_one(sorting, folder, each, keep=times[each] > 0)


def _by_folder(
    sorting: _Sorting, key: str, files: Iterable[Dropped]
) -> Iterator[tuple[Path, list[Dropped]]]:
    """The student's files by the folder of their lesson."""
    by_day: dict[date, list[Dropped]] = {}
    undated = []
    for each in files:
        if each.day is None:
            undated.append(each)
        else:
            by_day.setdefault(each.day, []).append(each)
    if undated:
        day = next(iter(by_day)) if len(by_day) == 1 else _written_day(sorting, undated)
        if day is None:
            sorting.left += [LeftFile(each.name, LeftBecause.WHEN) for each in undated]
        else:
            by_day.setdefault(day, []).extend(undated)
    for day, of_day in by_day.items():
        names = tuple(each.name for each in of_day)
        folder = _folder_on(sorting, key, day, names)
        if folder is None:
            sorting.left += [LeftFile(name, LeftBecause.WHICH_FOLDER) for name in names]
        else:
            yield folder, of_day


def _written_day(sorting: _Sorting, files: Sequence[Dropped]) -> date | None:
    """Files without a day that were written today are today's; of others the coach is asked."""
    days = {each.written_on for each in files}
    if days == {sorting.today}:
        return sorting.today
    return ask_day(WhichDay(tuple(each.name for each in files), max(days)), sorting.ask)


def _folder_on(sorting: _Sorting, key: str, day: date, names: tuple[str, ...]) -> Path | None:
    """The lesson's folder of that day: the one there is, that which is said of several, or new."""
    student = sorting.root / key
    there = list(_folders_on(sorting, key, day))
    if len(there) > 1:
        shown = tuple(file_of(sorting.root, folder) for folder in there)
        said = ask_folder(WhichFolder(names, shown), sorting.ask)
        folder = next((f for f, name in zip(there, shown, strict=True) if name == said), None)
    else:
        folder = there[0] if there else student / day.isoformat()
    if folder is None or student.is_symlink() or folder.is_symlink():
        return None
    if not folder.is_dir():
        folder.mkdir(parents=True)
        sync_folder(student)
        sync_folder(sorting.root)
    sorting.owners[folder] = key
    sorting.brought.setdefault(folder, [])
    return folder


def _folders_on(sorting: _Sorting, key: str, day: date) -> Iterator[Path]:
    paths = sorting.students.get(key)
    known = {lesson.folder for lesson in paths.lessons if lesson.on == day} if paths else set()
    yield from sorted(known)
    student = sorting.root / key
    if student.is_dir():
        named = (each for each in sorted(student.iterdir()) if each.is_dir())
        yield from (f for f in named if f not in known and f.name.startswith(day.isoformat()))


def _bring_one(sorting: _Sorting, folder: Path, each: Dropped, *, keep: bool) -> None:
    name = _NOTES if each.is_notes else None
    if _is_there(folder, each):
        sorting.left.append(LeftFile(each.name, LeftBecause.SAME))
        return
    try:
        place = bring_into(folder, each.path, name=name, keep=keep)
    except OSError:
        sorting.left.append(LeftFile(each.name, LeftBecause.NOT_MOVED))
        return
    if place is None:
        sorting.left.append(LeftFile(each.name, LeftBecause.NOTES_THERE))
    else:
        sorting.brought[folder].append(place.name)


def _is_there(folder: Path, each: Dropped) -> bool:
    """Whether the lesson has the very same file under another name: exported or sent twice."""
    size = each.path.stat().st_size
    alike = (file for file in folder.iterdir() if file.suffix.lower() == each.path.suffix.lower())
    return any(
        file.name != each.path.name
        and is_plain(file)
        and file.stat().st_size == size > 0
        and filecmp.cmp(file, each.path, shallow=False)
        for file in alike
    )


def _without_notes(found: Survey, given: str | None) -> Iterator[tuple[Path, str]]:
    """Folders with a lesson's files and no notes: the coach's own, or of a run that was stopped."""
    for student in found.students:
        for problem in student.problems:
            mine = given is None or student.key == given
            if mine and problem.code is Code.FILES_WITHOUT_NOTES:
                folder = found.root / problem.where.file
                if folder.is_dir() and folder_of_lesson(student, folder) is not None:
                    yield folder, student.key


def _left_open(found: Survey, given: str | None) -> Iterator[tuple[Path, str]]:
    """Lessons about whose notes an earlier run was to ask: it was stopped, or nobody was there."""
    students = {student.key: student for student in found.students}
    for folder in not_done(found.root):
        key = folder.relative_to(found.root).parts[0]
        student = students.get(key) if given in (None, key) else None
        if student is not None and folder_of_lesson(student, folder) is not None:
            yield folder, key


def _todays(sorting: _Sorting, given: str | None) -> None:
    """The folder of a lesson of today, before anything of it is there."""
    people = sorted(
        sorting.people,
        key=lambda each: (each.awaited == sorting.today, max(each.days, default=date.min)),
        reverse=True,
    )
    likely = bool(people) and people[0].awaited == sorting.today
    question = WhoseFiles((), sorting.today, tuple(each.key for each in people), likely)
    key = given or ask_whose(question, sorting.people, sorting.ask)
    if key is None:
        sorting.left.append(LeftFile(sorting.today.isoformat(), LeftBecause.WHOSE))
    else:
        _folder_on(sorting, key, sorting.today, ())


def _with_notes(sorting: _Sorting, tell: Tell) -> Iterator[LessonTaken]:
    """Each lesson that something came into, its notes begun or completed."""
    for folder, files in sorted(sorting.brought.items()):
        state = _begin_notes(sorting, folder, sorting.owners[folder], tell)
        if state is not NotesState.OPEN or folder in sorting.answered:
            is_done(sorting.root, folder)
        yield LessonTaken(file_of(sorting.root, folder), tuple(files), state)


def _begin_notes(sorting: _Sorting, folder: Path, key: str, tell: Tell) -> NotesState:
    root = sorting.root
    student = sorting.students.get(key) or StudentPaths(key, root / key, None, None, ())
    paths = folder_of_lesson(student, folder)
    if paths is None:
        return NotesState.UNREAD
    read, _ = read_student(root, student, sorting.coach)
    with _cache_of(root) as cache:
        who = read or Student(key, key)
        parts = first_notes(see_lesson(root, paths, sorting.coach, who, cache))
    if not paths.notes.exists():
        write_new(paths.notes, begun(parts, tell).encode(), _FOR_ALL)
        return NotesState.BEGUN
    there = FileText.of(paths.notes)
    after = completed(there.text, parts, tell) if there is not None else None
    if there is None or after is None:
        return NotesState.UNREAD
    if after == there.text:
        return NotesState.AS_THEY_WERE
    question = ChangeFile(file_of(root, paths.notes), there.text, after)
    answer = sorting.ask(question)
    if answer is not None:
        sorting.answered.add(folder)
    return NotesState.COMPLETED if is_yes(answer) and there.become(after, root) else NotesState.OPEN
