"""Whose link is whose: every folder's, as it is called and filled today."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.app.consent_first import WhoAgrees
from recapgen.intake.folder import LessonPaths, StudentPaths, Survey
from recapgen.intake.link_keys import link_keys
from recapgen.intake.text_file import file_of
from recapgen.model.fix import Change, Put, one_of
from recapgen.model.naming import folded
from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef
from recapgen.privacy.lasting_links import LastingLinks, LessonLink, Memory, SaidOfLink, mark
from recapgen.privacy.remembering_links import LessonNow, Remembered, StudentNow, remember
from recapgen.publish.build_state import Seen

_DIGEST_SIGNS = 16
_NOTHING_IN_IT = frozenset({"", "e3b0c44298fc1c14"})


class Linked(Struct, frozen=True):
    """What is known of links, and everybody's paths with what is to be asked about them."""

    remembered: Remembered
    found: Survey

    @property
    def links(self) -> LastingLinks:
        return self.remembered.links


def link_folders(
    found: Survey,
    people: Mapping[str, WhoAgrees],
    seen: Mapping[str, Seen],
    memory: Memory,
    *,
    secret: bytes,
    today: date,
) -> Linked:
    """``people`` by their folders' names; ``seen`` are all files of the lessons as of today."""
    looking = _Looking(_by_student(seen), _by_notes(memory), secret)
    now = tuple(looking.student(paths, people[paths.key]) for paths in found.students)
    remembered = remember(memory, now, secret, today)
    asked = tuple(_with_questions(found.root, paths, remembered) for paths in found.students)
    return Linked(remembered, replace(found, students=asked))


def marks_of(digests: Iterable[str]) -> tuple[str, ...]:
    """Marks of files by their digests; what holds nothing, or can't be read, says nothing."""
    cut = (digest[:_DIGEST_SIGNS] for digest in digests)
    return tuple(sorted(each for each in cut if each not in _NOTHING_IN_IT))


class _Looking(Struct, frozen=True):
    """``files`` are digests by student, folder and name; ``known`` lessons by their notes'."""

    files: Mapping[str, Mapping[str, Mapping[str, str]]]
    known: Mapping[str, LessonLink]
    secret: bytes

    def student(self, paths: StudentPaths, person: WhoAgrees) -> StudentNow:
        who, folders = person.who.value, self.files.get(paths.key, {})
        return StudentNow(
            key=paths.key,
            who="" if who is None else mark(self.secret, folded(who.name)),
            files=marks_of(digest for files in folders.values() for digest in files.values()),
            said=SaidOfLink() if who is None else SaidOfLink(who.was_called, who.new_address),
            shown=person.granted.page,
            took_back=person.took_back,
            lessons=tuple(self.lesson(paths, each) for each in paths.dated),
        )

    def lesson(self, student: StudentPaths, paths: LessonPaths) -> LessonNow:
        within = paths.folder.relative_to(student.folder).as_posix()
        files = self.files.get(student.key, {}).get(within, {})
        notes = files.get(paths.notes.name, "")[:_DIGEST_SIGNS]
        known = self.known.get(notes) if notes else None
        said, lines = (known.said, known.lines) if known else self._read(paths.notes)
        told = (*paths.tables, *paths.clips, *((paths.seal,) if paths.seal is not None else ()))
        shown = mark(self.secret, repr((marks_of(files.get(f.name, "") for f in told), lines)))
        held = marks_of(files.values())
        return LessonNow(paths.key, paths.on, held, lines, notes, said, shown)

    def _read(self, notes: Path) -> tuple[SaidOfLink, tuple[str, ...]]:
        called, anew, lines = link_keys(notes)
        return SaidOfLink(called, anew), tuple(sorted({mark(self.secret, line) for line in lines}))


def _by_student(seen: Mapping[str, Seen]) -> dict[str, dict[str, dict[str, str]]]:
    by_student: dict[str, dict[str, dict[str, str]]] = {}
    for path, file in seen.items():
        student, _, rest = path.partition("/")
        folder, _, name = rest.rpartition("/")
        by_student.setdefault(student, {}).setdefault(folder, {})[name] = file.digest
    return by_student


def _by_notes(memory: Memory) -> dict[str, LessonLink]:
    lessons = (each for link in memory.students.values() for each in link.lessons.values())
    return {each.notes: each for each in lessons if each.notes}


def _with_questions(root: Path, paths: StudentPaths, remembered: Remembered) -> StudentPaths:
    """The paths with a problem for each folder of which it is not known whose link it has."""
    problems = [*paths.problems, *_questions(root, paths, remembered)]
    return replace(paths, problems=tuple(problems))


def _questions(root: Path, paths: StudentPaths, remembered: Remembered) -> Iterator[Problem]:
    asked = remembered.asked
    if paths.key in asked:
        file = SourceRef(file_of(root, paths.student_file or paths.folder / "student.yml"))
        names = asked[paths.key]
        code = Code.LINK_UNSURE if names else Code.STUDENT_COPIED
        named = names or (remembered.copies[paths.key],)
        yield _asked(code, file_of(root, paths.folder), file, names, named)
    for lesson in paths.dated:
        names = asked.get(f"{paths.key}/{lesson.key}", ())
        if names:
            file, at = SourceRef(file_of(root, lesson.notes)), file_of(root, lesson.folder)
            yield _asked(Code.LESSON_LINK_UNSURE, at, file, names, names)


def _asked(
    code: Code, at: str, file: SourceRef, names: tuple[str, ...], named: tuple[str, ...]
) -> Problem:
    ways: list[Change] = [Put(file, ("was called",), name) for name in names]
    ways.append(Put(file, ("new address",), "yes"))
    return Problem(code, SourceRef(at), {"called": ", ".join(named)}, offers=one_of(ways))
