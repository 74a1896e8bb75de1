"""``lock``: what opens a locked student's site, told again or made new."""

from enum import StrEnum
from pathlib import Path

from msgspec import Struct

from recapgen.app.consent_first import consents_of, people_in
from recapgen.app.locked_sites import known_lock
from recapgen.intake.folder import survey
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.settings import read_coach
from recapgen.intake.which_folder import to_type
from recapgen.locking.locks import SiteLock, keep_lock, new_lock, with_new_words
from recapgen.locking.passphrases import SHORTEST_OWN, is_too_short
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef
from recapgen.privacy.addresses import read_secret
from recapgen.privacy.lasting_links import LastingLinks, Memory, read_memory
from recapgen.publish.build_state import program
from recapgen.tools.cache import Cache
from recapgen.tools.clock import today
from recapgen.tools.leftovers import temporary_folder


class LockChange(StrEnum):
    """What is asked for: to hear the words, other words for the same key, or a new key too."""

    NONE = "none"
    WORDS = "words"
    KEY = "key"


class LockTold(Struct, frozen=True):
    """``build`` is the command that publishes a change."""

    student: str
    passphrase: str
    change: LockChange
    build: str


def change_lock(folder: Path, change: LockChange, own: str | None = None) -> Checked[LockTold]:
    """The words for the student of ``folder`` after the ``change``; ``own`` are the coach's.

    What is up stays as it is until the next build. Raises OSError where nothing can be written.
    """
    if own is not None and is_too_short(own):
        facts = {"least": str(SHORTEST_OWN)}
        return Checked(None, (Problem(Code.LOCK_WORDS_SHORT, SourceRef(""), facts),))
    root = folder.resolve().parent
    if (folder / "coach.yml").exists():
        return Checked(None, (_not_here(folder),))
    student = _whose(folder.resolve(), root)
    if student is None:
        return Checked(None, (_not_here(folder),))
    changed = _changed(student, root, change, own)
    if changed.value is None:
        return Checked(None, changed.problems)
    build = f"recapgen build {to_type(root, folder)}"
    return Checked(LockTold(student.name, changed.value.words, change, build), ())


def _changed(
    student: Student, root: Path, change: LockChange, own: str | None
) -> Checked[SiteLock]:
    """The student's lock after the ``change``, kept."""
    secret = read_secret(root).value
    if secret is None or not student.locked:
        return Checked(None, (_not_on(student),))
    memory = read_memory(root, None).value or Memory({})
    at = LastingLinks(secret, memory.students).address(student.key)
    if change is LockChange.KEY:
        lock = new_lock(secret, at, own)
    else:
        kept = known_lock(student, at, root, secret)
        if kept.value is None:
            return Checked(None, kept.problems or (_not_on(student),))
        lock = kept.value
    if change is LockChange.WORDS:
        lock = with_new_words(lock, secret, at, own)
    if change is not LockChange.NONE:
        keep_lock(root, at, secret, lock)
    return Checked(lock, ())


def _whose(folder: Path, root: Path) -> Student | None:
    found = survey(root).value
    if found is None:
        return None
    with temporary_folder() as kept:
        coach = read_coach(root).value or Coach("")
        reader = KeptReadings(Cache(kept), program())
        people = people_in(found, coach, today(None), reader)
        everybody = consents_of(found, people, lambda _: None)
    theirs = (each.student for each in everybody if each.paths.folder.resolve() == folder)
    return next(theirs, None)


def _not_on(student: Student) -> Problem:
    facts = {"student": student.name, "file": student.where.file}
    return Problem(Code.LOCK_NOT_ON, student.where, facts)


def _not_here(asked: Path) -> Problem:
    example = "recapgen lock my_lessons/marta"
    return Problem(Code.LOCK_NOBODYS, SourceRef(""), {"path": str(asked), "line": example})
