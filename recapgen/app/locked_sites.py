"""Locked students: which lock a site has, where its open pages lie, and what is sealed of them.

The open pages of a locked site are kept beside the cache: there they are searched and renewed as
others are. What is published is made of them, and nothing open takes its place.
"""

import os
import shlex
import shutil
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from msgspec import Struct

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import ConsentNow
from recapgen.locking.locks import (
    DamagedLockError,
    SiteLock,
    keep_lock,
    lock_file,
    lock_mark,
    lock_of,
    read_lock,
)
from recapgen.model.naming import printable
from recapgen.model.people import Student
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.public import FRONT_PAGE
from recapgen.model.recap import StudentRecap
from recapgen.model.source import SourceRef
from recapgen.publish.emptying import empty_out, is_emptying
from recapgen.publish.locked_site import is_locked, lock_site
from recapgen.publish.output import Output
from recapgen.publish.swap import put, stage, take_down


class SiteAt(Struct, frozen=True):
    """Where a student's site lies: its ``pages`` can be read, its ``goal`` is what is published.

    One folder, unless there is a ``lock``.
    """

    pages: Path
    goal: Path
    lock: SiteLock | None = None

    def publish(self, language: str, context: BuildContext, output: Output) -> None:
        """Bring what is published up to the pages. Raises OSError."""
        if self.lock is not None:
            lock_site(
                self.pages, self.goal, self.lock,
                secret=context.secret, language=language, output=output, cache=context.cache,
            )  # fmt: skip

    def follow_down(self, output: Output) -> None:
        """Where the pages had to come down, what is sealed of them comes down, too."""
        if not self.pages.exists():
            take_down(self.goal, output.staging)


def site_at(
    student: Student, address: str, context: BuildContext, output: Output
) -> Checked[SiteAt]:
    """Where the site is, its lock made where it has none; None where nothing may be published."""
    goal = output.site / address
    if not student.locked:
        return Checked(SiteAt(goal, goal), ())
    lock = _lock_of(student, address, context, output)
    if lock.value is None:
        return Checked(None, lock.problems)
    return Checked(SiteAt(output.unsealed / address, goal, lock.value), ())


def pages_of(student: Student, address: str, output: Output) -> Path:
    """The folder in which the pages of the student's site can be read."""
    return (output.unsealed if student.locked else output.site) / address


def mark_of(student: Student, address: str, root: Path) -> str:
    """What a site is made with beside its pages: its lock."""
    return lock_mark(root, address) if student.locked else ""


def slips(
    students: Iterable[StudentRecap], context: BuildContext, output: Output
) -> tuple[tuple[str, str], ...]:
    """Folders of locked students with the words that open what is up; none where unreadable."""
    words = []
    for each in students:
        if each.student.locked and is_locked(output.site / each.address):
            with suppress(DamagedLockError):
                lock = read_lock(context.root, each.address, context.secret)
                if lock is not None:
                    words.append((each.student.key, lock.words))
    return tuple(words)


def close_open_sites(
    consents: Iterable[ConsentNow], context: BuildContext, output: Output
) -> Iterator[Problem]:
    """Locks what is up and open, as it stands, before anything new is made; tells who it was.

    Where there is no lock to be had it comes down. Who is not locked any more is told, too.
    """
    for consent in consents:
        student, address = consent.student, consent.address
        if address is None or not consent.granted.page:
            continue
        goal = output.site / address
        if not (goal / FRONT_PAGE).is_file() or is_emptying(goal):
            continue
        if is_locked(goal):
            if not student.locked:
                yield Problem(Code.LOCK_TAKEN_OFF, student.where, {"student": student.name})
        elif student.locked:
            language = student.language or context.coach.language
            at = site_at(student, address, context, output)
            if at.value is None:
                empty_out(output, address, language, context.today)
                continue
            _copy(goal, at.value.pages, output)
            at.value.publish(language, context, output)
            yield Problem(Code.LOCK_NEW, student.where, {"student": student.name})


def clear_unsealed(consents: Iterable[ConsentNow], output: Output) -> None:
    """The open pages of whoever is not locked, or not published, any more go."""
    locked = {each.address for each in consents if each.granted.page and each.student.locked}
    for folder in sorted(output.unsealed.iterdir()):
        if folder.name not in locked:
            take_down(folder, output.staging)


def _copy(site: Path, pages: Path, output: Output) -> None:
    new = stage(output.staging)
    shutil.copytree(site, new, dirs_exist_ok=True, copy_function=_link)
    put(new, pages, output.root)


def _link(file: str, goal: str) -> None:
    try:
        os.link(file, goal)
    except OSError:  # a disk without links
        shutil.copy2(file, goal)


def _lock_of(
    student: Student, address: str, context: BuildContext, output: Output
) -> Checked[SiteLock]:
    known = known_lock(student, address, context.root, context.secret)
    if known.value is not None or known.problems:
        return known
    if is_locked(output.site / address):
        return Checked(None, (_amiss(Code.LOCK_LOST, student, address, context.root),))
    lock = lock_of(context.secret, address)
    try:
        keep_lock(context.root, address, context.secret, lock)
    except OSError as fault:
        said = fault.strerror or str(fault)
        problem = _amiss(Code.LOCK_UNWRITABLE, student, address, context.root, fault=said)
        return Checked(None, (problem,))
    return Checked(lock, ())


def known_lock(student: Student, address: str, root: Path, secret: bytes) -> Checked[SiteLock]:
    """The lock as it is kept; without a problem None where there is none yet."""
    try:
        return Checked(read_lock(root, address, secret), ())
    except DamagedLockError:
        return Checked(None, (_amiss(Code.LOCK_DAMAGED, student, address, root),))


def damaged_locks(
    consents: Iterable[ConsentNow], root: Path, secret: bytes | None
) -> tuple[Problem, ...]:
    """What is amiss with the locks that are kept, whether or not anything is published."""
    found: list[Problem] = []
    for each in consents:
        if secret is not None and each.address is not None and each.student.locked:
            found += known_lock(each.student, each.address, root, secret).problems
    return tuple(found)


def _amiss(code: Code, student: Student, address: str, root: Path, **facts: str) -> Problem:
    where = SourceRef(lock_file(root, address).relative_to(root).as_posix())
    line = f"recapgen lock {shlex.quote(printable(str(root / student.key)))} --new-key"
    return Problem(code, where, {"student": student.name, "line": line, **facts})
