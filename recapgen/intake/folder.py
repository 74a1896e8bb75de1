"""The lessons folder: which files belong to whom, before any of them is opened."""

import os
import re
from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from pathlib import Path, PurePath

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.text_file import file_of, is_hidden, leads_outside
from recapgen.model.fix import Edit, one_of
from recapgen.model.naming import folded, printable
from recapgen.model.problem import Checked, Code, Cost, Problem
from recapgen.model.source import SourceRef

TABLE_ENDINGS = frozenset({".csv", ".tsv", ".xlsx"})
CLIP_ENDINGS = frozenset({".mp4", ".mov", ".m4v", ".avi", ".mkv", ".webm", ".3gp", ".mts", ".wmv"})
_OURS = TABLE_ENDINGS | CLIP_ENDINGS
NOTES, QUESTION = "notes.md", "question.md"
LESSON_FILES = frozenset({NOTES, "private.md", "seal.json"})
QUESTION_FILES = frozenset({QUESTION, "private.md"})
NEVER_STUDENTS = frozenset({"drills", "inbox"})
DEEPEST = 6
MOST_NAMED = 5
_DATE = re.compile(r"(\d{4})[-_. ]?(\d{2})[-_. ]?(\d{2})(?!\d)")
_NEAR = re.compile(r"(?:(notes?)|questions?)(\W.*)?", re.IGNORECASE)


class _Entry(Struct, frozen=True):
    """What stands in a folder: asked of the disk once, since there may be tens of thousands."""

    folder: Path
    name: str
    is_dir: bool
    is_file: bool

    @property
    def path(self) -> Path:
        return self.folder / self.name

    @property
    def suffix(self) -> str:
        stem, dot, ending = self.name.rpartition(".")
        return f"{dot}{ending}".lower() if stem else ""

    @property
    def is_ours(self) -> bool:
        return self.suffix in _OURS

    def is_called(self, *names: str) -> bool:
        return self.name.casefold() in names


class EarlierNotes(Struct, frozen=True):
    """The notes of a lesson before."""

    notes: Path
    on: date


class LessonPaths(Struct, frozen=True):
    """``key`` is the folder's own name, which begins with the date.

    ``notes`` is the question.md of a folder that was ``asked`` between lessons. ``earlier`` are
    the notes of this student's lessons before it, the newest first.
    """

    key: str
    on: date
    folder: Path
    notes: Path
    private: Path | None
    seal: Path | None
    tables: tuple[Path, ...]
    clips: tuple[Path, ...]
    earlier: tuple[EarlierNotes, ...] = ()
    asked: bool = False


class StudentPaths(Struct, frozen=True):
    """One student's files, lessons and questions oldest first.

    ``problems`` are those of the folder's layout.
    """

    key: str
    folder: Path
    student_file: Path | None
    log_file: Path | None
    lessons: tuple[LessonPaths, ...]
    problems: tuple[Problem, ...] = ()
    questions: tuple[LessonPaths, ...] = ()

    @property
    def dated(self) -> tuple[LessonPaths, ...]:
        """Every folder that may have a page: the lessons, then the questions."""
        return (*self.lessons, *self.questions)


class Survey(Struct, frozen=True):
    """``passed_over`` are folders of which nothing is to be made: their students are forgotten."""

    root: Path
    students: tuple[StudentPaths, ...]
    passed_over: frozenset[str] = frozenset()


def survey(lessons: Path) -> Checked[Survey]:
    """Everybody's paths, students in the order of their folder names.

    The problems are those of the folder as a whole; a student's own are with the student.
    """
    try:
        root = lessons.resolve(strict=True)
        found = root.is_dir()
    except (OSError, RuntimeError, ValueError):
        root, found = lessons, False
    if not found:
        facts = {"path": printable(str(lessons))}
        return Checked(None, (Problem(Code.FOLDER_MISSING, SourceRef(""), facts),))
    problems: list[Problem] = []
    students = []
    for entry in _entries(root, root, root, problems):
        if not entry.is_dir:
            if entry.is_ours or entry.is_called(NOTES, QUESTION):
                problems.append(_stray(root, entry))
        elif folded(entry.name) not in NEVER_STUDENTS:
            if entry.path.is_symlink():  # it may be another student's, whatever it is called
                problems.append(Problem(Code.LINK_OUTSIDE, _at(root, entry.path)))
            elif _DATE.match(entry.name) and _is_marked(entry.path):
                problems.append(Problem(Code.LESSON_OUTSIDE_STUDENT, _at(root, entry.path)))
            else:
                students.append(_student(root, entry.path))
    if not students:
        problems.append(Problem(Code.NO_STUDENTS, SourceRef("")))
    return Checked(Survey(root, _told_apart(root, students)), tuple(problems))


def _is_marked(folder: Path) -> bool:
    return any((folder / name).is_file() for name in (NOTES, QUESTION))


def _told_apart(root: Path, students: list[StudentPaths]) -> tuple[StudentPaths, ...]:
    """Of two folders whose names are one on some computer, neither is known to be one student's."""
    by_name: defaultdict[str, list[StudentPaths]] = defaultdict(list)
    for student in students:
        by_name[folded(student.key)].append(student)
    return tuple(
        replace(student, problems=(*student.problems, *_same(root, student, others)))
        if len(others := by_name[folded(student.key)]) > 1
        else student
        for student in students
    )


def _same(root: Path, student: StudentPaths, of_one_name: list[StudentPaths]) -> Iterator[Problem]:
    other = next(each for each in of_one_name if each.key != student.key)
    facts = {"other": file_of(root, other.folder)}
    yield Problem(Code.STUDENT_TWICE, _at(root, student.folder), facts)


def begins_with_a_date(name: str) -> bool:
    """Whether a folder's name is that of a lesson's."""
    return _DATE.match(name) is not None


def folder_of_lesson(student: StudentPaths, folder: Path) -> LessonPaths | None:
    """What lies in a folder that is, or is to be, a lesson of ``student``; None without a day."""
    root = student.folder.parent
    entries = _entries(root, student.folder, folder, [])
    notes = next((e.path for e in entries if e.is_called("notes.md")), folder / "notes.md")
    lesson = _lesson(root, folder, notes, entries, [])
    if lesson is None:
        return None
    before = [each for each in student.lessons if each.on < lesson.on]
    return replace(
        lesson, earlier=tuple(EarlierNotes(each.notes, each.on) for each in reversed(before))
    )


def named_file(root: Path, folder: Path, name: str) -> tuple[Path | None, tuple[Problem, ...]]:
    """The ``name``.yml of a folder, in any case, .yml or .yaml; two of them are a problem."""
    wanted = (f"{name}.yml", f"{name}.yaml")
    found = [entry for entry in _entries(root, folder, folder, []) if entry.is_called(*wanted)]
    return _only(root, found)


def _only(root: Path, found: list[_Entry]) -> tuple[Path | None, tuple[Problem, ...]]:
    paths = [entry.path for entry in found]
    if len(paths) > 1:
        names = ", ".join(file_of(root, path) for path in paths)
        return paths[0], (Problem(Code.FILE_TWICE, _at(root, paths[1]), {"files": names}),)
    return (paths[0] if paths else None), ()


def _student(root: Path, folder: Path) -> StudentPaths:
    problems: list[Problem] = []
    entries = _entries(root, folder, folder, problems)
    student_file, twice = _only(
        root, [e for e in entries if e.is_called("student.yml", "student.yaml")]
    )
    problems.extend(twice)
    log_file, twice = _only(root, [e for e in entries if e.is_called("practice.csv")])
    problems.extend(twice)
    lessons: list[LessonPaths] = []
    for entry in entries:
        if entry.is_dir:
            lessons.extend(_lessons(root, folder, entry.path, problems))
        elif entry.is_called(NOTES, QUESTION) or (entry.is_ours and entry.path != log_file):
            problems.append(_stray(root, entry))
    lessons.sort(key=lambda lesson: (lesson.on, lesson.key))
    seen: dict[str, LessonPaths] = {}
    for lesson in lessons:
        other = seen.setdefault(folded(lesson.key), lesson)
        if other is not lesson:
            facts = {"other": file_of(root, other.folder)}
            problems.append(Problem(Code.LESSON_TWICE, _at(root, lesson.folder), facts))
    if not lessons and not problems:
        problems.append(Problem(Code.STUDENT_WITHOUT_LESSONS, _at(root, folder)))
    told = _after_each_other(tuple(lesson for lesson in seen.values() if not lesson.asked))
    asked = tuple(lesson for lesson in seen.values() if lesson.asked)
    return StudentPaths(folder.name, folder, student_file, log_file, told, tuple(problems), asked)


def _after_each_other(lessons: tuple[LessonPaths, ...]) -> tuple[LessonPaths, ...]:
    """Each with the notes of those before it, the newest first."""
    notes = tuple(EarlierNotes(lesson.notes, lesson.on) for lesson in lessons)
    return tuple(
        replace(lesson, earlier=notes[:place][::-1]) for place, lesson in enumerate(lessons)
    )


def _lessons(
    root: Path,
    student: Path,
    folder: Path,
    problems: list[Problem],
    *,
    in_lesson: bool = False,
) -> Iterator[LessonPaths]:
    """The lesson or question that ``folder`` is, and those in the folders below it."""
    entries = _entries(root, student, folder, problems)
    notes, asked = _marks(root, entries, problems)
    if notes is None:
        problems.extend(_unmarked(root, folder, entries, in_lesson=in_lesson))
    else:
        problems.extend(_not_read(root, entries, QUESTION_FILES if asked else LESSON_FILES))
        lesson = _lesson(root, folder, notes, entries, problems)
        if lesson is not None:
            yield replace(lesson, seal=None, asked=True) if asked else lesson
    for entry in entries:
        if entry.is_dir and len(entry.path.relative_to(student).parts) <= DEEPEST:
            below = in_lesson or notes is not None
            yield from _lessons(root, student, entry.path, problems, in_lesson=below)


def _marks(root: Path, entries: list[_Entry], problems: list[Problem]) -> tuple[Path | None, bool]:
    """What makes the folder a lesson or a question, and whether it is the latter."""
    found: dict[str, Path | None] = {}
    for name in (NOTES, QUESTION):
        found[name], twice = _only(root, [e for e in entries if e.is_called(name) and e.is_file])
        problems.extend(twice)
    notes, question = found[NOTES], found[QUESTION]
    if notes is not None and question is not None:
        problems.append(Problem(Code.QUESTION_BESIDE_NOTES, _at(root, question)))
    return notes or question, notes is None and question is not None


def _unmarked(
    root: Path, folder: Path, entries: list[_Entry], *, in_lesson: bool
) -> Iterator[Problem]:
    """Problem for what is part of a lesson or a question, in a folder that is neither."""
    ours = [entry for entry in entries if entry.is_file and entry.is_ours]
    facts = {"files": ", ".join(path.name for path in ours[:3])}
    alike = ((_NEAR.fullmatch(PurePath(e.name).stem), e) for e in entries if e.is_file)
    near, entry = next(((m, e) for m, e in alike if m is not None), (None, None))
    if in_lesson:
        if ours:
            yield Problem(Code.FILES_BELOW_LESSON, _at(root, folder), facts)
    elif near is not None and entry is not None:
        facts = {"found": entry.name, "name": NOTES if near[1] else QUESTION}
        yield Problem(Code.NOTES_MISNAMED, _at(root, entry.path), facts)
    elif ours:
        notes = Edit(f"{file_of(root, folder)}/notes.md", 1, 0, ("---", "---"))
        offers = one_of([notes])
        yield Problem(Code.FILES_WITHOUT_NOTES, _at(root, folder), facts, offers=offers)


def _not_read(root: Path, entries: list[_Entry], read: frozenset[str]) -> Iterator[Problem]:
    """Problem for what lies in a lesson's folder without being part of it, at the first of them.

    What an editor keeps for itself ("notes.md~", "~$shots.xlsx") is no mistake of the coach's.
    """
    more = [
        e
        for e in entries
        if not e.is_dir
        and not (e.is_file and (e.is_ours or e.is_called(*read, QUESTION)))
        and not (e.name.startswith("~") or e.name.endswith("~"))
    ]
    if more:
        names = [e.name for e in more[:MOST_NAMED]] + ["…"] * (len(more) > MOST_NAMED)
        yield Problem(Code.STRAY_FILE, _at(root, more[0].path), {"found": ", ".join(names)})


def _lesson(
    root: Path, folder: Path, notes: Path, entries: list[_Entry], problems: list[Problem]
) -> LessonPaths | None:
    written = _DATE.match(folder.name)
    if written is None:
        where = _at(root, folder)
        problems.append(Problem(Code.LESSON_WITHOUT_DATE, where, {"found": folder.name}))
        return None
    try:
        on = date(int(written[1]), int(written[2]), int(written[3]))
    except ValueError:
        where = _at(root, folder)
        problems.append(Problem(Code.LESSON_DATE_IMPOSSIBLE, where, {"found": written[0]}))
        return None
    files = [entry for entry in entries if entry.is_file]
    return LessonPaths(
        key=folder.name,
        on=on,
        folder=folder,
        notes=notes,
        private=next((f.path for f in files if f.is_called("private.md")), None),
        seal=next((f.path for f in files if f.is_called("seal.json")), None),
        tables=tuple(f.path for f in files if f.suffix in TABLE_ENDINGS),
        clips=tuple(f.path for f in files if f.suffix in CLIP_ENDINGS),
    )


def _entries(root: Path, home: Path, folder: Path, problems: list[Problem]) -> list[_Entry]:
    """What stands in ``folder`` and may be read, by name; hidden things are passed over.

    ``home`` is the student's folder, which no link may leave but for the coach's drills: what
    lies elsewhere may be another student's.
    """
    try:
        with os.scandir(folder) as scan:
            found = sorted(scan, key=lambda each: (each.name.casefold(), each.name))
        for each in found[:1]:
            Path(each.path).lstat()  # a folder may be listed and nothing in it looked at
    except OSError as fault:
        facts = {"reason": fault.strerror or type(fault).__name__}
        problems.append(Problem(Code.FILE_UNREADABLE, _at(root, folder), facts))
        return []
    entries = []
    for each in found:
        if each.name.startswith((".", "_")):
            continue
        plain = each.name.isascii() and each.name.isprintable()
        if not plain and any(map(is_hidden, each.name)):
            path = folder / each.name
            problems.append(
                Problem(Code.NAME_UNPRINTABLE, _at(root, path), costs=_cost_unnamed(path))
            )
        elif each.is_symlink() and _may_not_lead(root, home, folder / each.name):
            problems.append(Problem(Code.LINK_OUTSIDE, _at(root, folder / each.name)))
        else:
            entries.append(_Entry(folder, each.name, is_dir=each.is_dir(), is_file=each.is_file()))
    return entries


def _may_not_lead(root: Path, home: Path, link: Path) -> bool:
    return _leaves(root, home, link) or _goes_round(link)


def _cost_unnamed(path: Path) -> Cost | None:
    """The cost of a name that cannot be typed: a clip is one clip, a stray file is nothing."""
    if path.is_dir() or path.suffix.lower() in {*TABLE_ENDINGS, ".md", ".yml", ".yaml"}:
        return None
    return Cost.CLIP if path.suffix.lower() in CLIP_ENDINGS else Cost.NOTHING


def _leaves(root: Path, home: Path, link: Path) -> bool:
    return leads_outside(home, link) and (home == root or leads_outside(root / "drills", link))


def _goes_round(link: Path) -> bool:
    """True for a link to a folder that the link itself is in."""
    return link.parent.resolve().is_relative_to(link.resolve())


def _at(root: Path, path: Path) -> SourceRef:
    return SourceRef(file_of(root, path))


def _stray(root: Path, entry: _Entry) -> Problem:
    return Problem(Code.STRAY_FILE, _at(root, entry.path), {"found": entry.name})
