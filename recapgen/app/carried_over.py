"""What is known of a folder goes with it when it is renamed: its links, its state, what is kept."""

import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import date
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import ConsentNow, WhoAgrees, is_student, key_of, part_of
from recapgen.app.locked_sites import pages_of
from recapgen.app.whose_links import Linked, link_folders, marks_of
from recapgen.intake.folder import Survey
from recapgen.model.fix import Put, one_of
from recapgen.model.naming import file_stem
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.public import FRONT_PAGE, public_address
from recapgen.model.source import SourceRef
from recapgen.privacy.lasting_links import (
    LessonLink,
    Memory,
    OldPage,
    StudentLink,
    keep_memory,
    read_memory,
)
from recapgen.privacy.remembering_links import day_of, first_told
from recapgen.publish.build_state import WHOLE, PartState, Seen
from recapgen.publish.emptying import is_emptying
from recapgen.publish.leading_on import lead_on
from recapgen.publish.output import Output

_MARKS = frozenset({"notes.md", "question.md"})


def as_last_built(states: Mapping[str, PartState]) -> Memory:
    """What an output of an earlier version, which kept no links, tells of the last build.

    Links that it changed for a folder's new name are told in its problems; they lead on.
    """
    whole = states.get(WHOLE)
    inputs = whole.inputs if whole is not None else {}
    changed = {p.where.file: p.facts.get("called", "") for p in _renamed_then(whole)}
    students = {}
    for part, state in states.items():
        if is_student(part):
            key = key_of(part)
            files = {path: s.digest for path, s in inputs.items() if path.startswith(f"{key}/")}
            students[key] = StudentLink(
                key,
                files=marks_of(files.values()),
                shown="page" in state.granted,
                former=(changed[key],) if changed.get(key) else (),
                lessons=dict(_lessons(key, files, changed)),
            )
    return Memory(students)


def _renamed_then(whole: PartState | None) -> Iterator[Problem]:
    for problem in whole.problems if whole is not None else ():
        if problem.code in {Code.STUDENT_RENAMED, Code.LESSON_RENAMED} and "old" in problem.facts:
            yield problem


def _lessons(
    student: str, files: Mapping[str, str], changed: Mapping[str, str]
) -> Iterator[tuple[str, LessonLink]]:
    for path in files:
        folder, _, name = path.rpartition("/")
        key = folder.rpartition("/")[2]
        on = day_of(key)
        if name.casefold() not in _MARKS or on is None:
            continue
        held = (digest for at, digest in files.items() if at.rpartition("/")[0] == folder)
        called = changed.get(f"{student}/{key}", "")
        was = day_of(called)
        former = (OldPage(called, was),) if was is not None else ()
        yield key, LessonLink(key, on, files=marks_of(held), former=former)


class LinksKept(Struct, frozen=True):
    """Where a ``copy`` of what is remembered lies, the secret, and the day."""

    copy: Path
    secret: bytes
    today: date


def linked_today(
    found: Survey,
    people: Mapping[str, WhoAgrees],
    states: Mapping[str, PartState],
    seen: Mapping[str, Seen],
    kept: LinksKept,
) -> Linked:
    """Everybody's links, by what is remembered beside the secret or in its copy."""
    memory = read_memory(found.root, kept.copy).value or as_last_built(states)
    return link_folders(found, people, seen, memory, secret=kept.secret, today=kept.today)


class CalledNow:
    """Paths of before as they are now; ``renamed`` has the old one under the new one."""

    def __init__(self, renamed: Mapping[str, str]) -> None:
        self.new = {old: new for new, old in renamed.items()}

    def path(self, path: str) -> str:
        """What lies at ``path`` of before, by its path of today."""
        student, slash, rest = path.partition("/")
        lesson, _, below = rest.partition("/")
        at = self.new.get(f"{student}/{lesson}")
        if at is not None:
            return f"{at}/{below}" if below else at
        return f"{self.new.get(student, student)}{slash}{rest}"

    def states(self, states: Mapping[str, PartState]) -> dict[str, PartState]:
        """The build state with each student's part under the folder's name of today."""
        called = {
            part_of(self.new.get(key_of(part), key_of(part))) if is_student(part) else part: state
            for part, state in states.items()
        }
        whole = called.get(WHOLE)
        if whole is not None and self.new:
            called[WHOLE] = replace(whole, inputs=self.files(whole.inputs))
        return called

    def files(self, seen: Mapping[str, Seen]) -> dict[str, Seen]:
        """Files by their paths of today."""
        return {self.path(path): file for path, file in seen.items()}


def move_kept(renamed: Mapping[str, str], below: Sequence[Path]) -> None:
    """The words of drills and the stills of a folder lie ``below`` under its own name.

    All are taken away before any is put back, since two may have changed places.
    """
    for kept in below:
        for students in (True, False):
            ways = [(new, old) for new, old in renamed.items() if ("/" in new) is not students]
            aside = []
            for number, (new, old) in enumerate(ways):
                for was, goal in _kept_at(kept, new, old, students=students):
                    with suppress(OSError):
                        aside.append((was.rename(kept / f".moving-{number}{was.suffix}"), goal))
            for place, goal in aside:
                with suppress(OSError):
                    shutil.rmtree(goal, ignore_errors=True)
                    goal.parent.mkdir(parents=True, exist_ok=True)
                    place.replace(goal)


def _kept_at(kept: Path, new: str, old: str, *, students: bool) -> Iterator[tuple[Path, Path]]:
    if students:
        ways = [(kept / old, kept / new)]
    else:
        student, _, lesson = new.partition("/")
        was = old.partition("/")[2]
        words = (f"{file_stem(was)}.json", f"{file_stem(lesson)}.json")
        ways = [(kept / student / a, kept / student / b) for a, b in ((was, lesson), words)]
    yield from ((a, b) for a, b in ways if a.exists())


def told_of_renamed(
    consents: Sequence[ConsentNow], renamed: Mapping[str, str], context: BuildContext
) -> Iterator[Problem]:
    """Each folder that was known again under another name, with the link that it keeps."""
    for consent in consents:
        key, address = consent.paths.key, consent.address
        if address is None or not consent.granted.page:
            continue
        published_at = context.coach.address
        if key in renamed:
            file = SourceRef(consent.student.where.file)
            link = public_address(published_at, address)
            yield _told(Code.STUDENT_RENAMED, key, renamed[key], link, file)
        for lesson in consent.paths.dated:
            at = f"{key}/{lesson.key}"
            if at in renamed:
                file = SourceRef(lesson.notes.relative_to(context.root).as_posix())
                page = context.links.page(key, lesson.key, lesson.on)
                link = public_address(published_at, address, page)
                was = renamed[at].partition("/")[2]
                yield _told(Code.LESSON_RENAMED, at, was, link, file)


def _told(code: Code, at: str, called: str, link: str, file: SourceRef) -> Problem:
    offers = one_of([Put(file, ("new address",), "yes")])
    return Problem(code, SourceRef(at), {"called": called, "link": link}, offers=offers)


def lead_on_from_earlier(
    consents: Sequence[ConsentNow], context: BuildContext, output: Output
) -> None:
    """Every earlier address of a student whose page is up leads to it."""
    for consent in consents:
        if consent.address is None or not consent.granted.page:
            continue
        site = output.site / consent.address
        language = consent.student.language or context.coach.language
        for earlier, pages in context.links.former_addresses(consent.paths.key).items():
            if (site / FRONT_PAGE).is_file() and not is_emptying(site):
                ways = dict.fromkeys(pages, "") if consent.student.locked else pages
                lead_on(output, earlier, consent.address, ways, language)


def remember_what_is_up(
    consents: Sequence[ConsentNow],
    problems: Sequence[Problem],
    context: BuildContext,
    output: Output,
) -> None:
    """Of every lesson whose page is up on its first day, what it was made of. Raises OSError."""
    memory = read_memory(context.root, output.links).value
    held = {p.where.file.partition("/")[0] for p in problems if p.cost in {Cost.STUDENT, Cost.RUN}}
    up = {}
    for each in consents:
        key, at = each.paths.key, each.address
        if at is not None and each.granted.page and key not in held:
            pages, links = pages_of(each.student, at, output), context.links
            up[key] = [
                lesson.key
                for lesson in each.paths.dated
                if (pages / links.page(key, lesson.key, lesson.on)).is_file()
            ]
    if memory is not None:
        keep_memory(context.root, output.links, first_told(memory, up, context.today))
