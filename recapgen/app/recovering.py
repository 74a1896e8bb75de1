"""``slip`` and ``recover``: the secret as words on paper, and back on a new computer."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from recapgen.app.consent_first import ConsentNow, consents_of, people_in
from recapgen.app.first_look import surveyed
from recapgen.intake.folder import Survey
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.settings import read_coach
from recapgen.intake.which_folder import to_type
from recapgen.locking.locks import (
    FIRST,
    DamagedLockError,
    SiteLock,
    Turns,
    keep_lock,
    lock_file,
    lock_of,
    read_lock,
)
from recapgen.locking.recovery_words import (
    SECRET_WORDS,
    SlipDoubt,
    lock_line,
    read_lock_line,
    read_secret_words,
    secret_words,
)
from recapgen.model.people import Coach
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.recovery import Recovered, RecoverySlip
from recapgen.model.source import SourceRef
from recapgen.privacy.addresses import KEPT_IN, keep_secret, read_secret
from recapgen.privacy.lasting_links import LastingLinks, Memory, StudentLink, read_memory
from recapgen.publish.build_state import program
from recapgen.tools.cache import Cache
from recapgen.tools.clock import today
from recapgen.tools.leftovers import temporary_folder


def slip(lessons: Path) -> Checked[RecoverySlip]:
    """What is to be written down of the lessons folder; nothing is written here."""
    found = surveyed(lessons, "slip")
    if found.value is None:
        return Checked(None, found.problems)
    root, secret = found.value.root, read_secret(found.value.root)
    if secret.value is None:
        facts = {"line": f"recapgen build {to_type(root, lessons)}"}
        nothing = Problem(Code.SLIP_NO_SECRET, SourceRef(KEPT_IN), facts)
        return Checked(None, secret.problems or (nothing,))
    memory = _memory(root)
    lines, by_files = [], [key for key, link in memory.students.items() if _changed(key, link)]
    for student in _locked(found.value, secret.value, memory):
        lock = _lock(root, student, secret.value)
        if lock is None or lock.turns is None:
            by_files += [student.paths.key] if lock is not None else []
            continue
        line = lock_line(student.paths.key, lock.turns)
        lines += [line] if line is not None else []
    told = RecoverySlip(secret_words(secret.value), tuple(lines), tuple(sorted({*by_files})))
    return Checked(told, secret.problems)


def recover(lessons: Path, words: str, lines: Sequence[str]) -> Checked[Recovered]:
    """Put the secret of a slip's ``words`` back, and the locks that its ``lines`` tell of.

    Nothing is written unless all of it is right, and nothing in the place of another secret.
    Raises OSError.
    """
    found = surveyed(lessons, "recover")
    if found.value is None:
        return Checked(None, found.problems)
    root = found.value.root
    on_paper = _on_paper(found.value, words, lines)
    if on_paper.value is None:
        return Checked(None, on_paper.problems)
    secret, turns = on_paper.value
    there = read_secret(root)
    if there.value not in (None, secret):
        return Checked(None, (Problem(Code.SLIP_OTHER_SECRET, SourceRef(KEPT_IN), {}),))
    kept = there if there.value is not None or there.problems else keep_secret(root, secret)
    if kept.value is None:
        return Checked(None, kept.problems)
    made = _make_locks(found.value, secret, turns)
    build = f"recapgen build {to_type(root, lessons)}"
    return Checked(Recovered(there.value is None, made, build), kept.problems)


def _on_paper(
    found: Survey, words: str, lines: Sequence[str]
) -> Checked[tuple[bytes, Mapping[str, Turns]]]:
    """The secret, and the locks by folder; None where any of it is in doubt."""
    secret = read_secret_words(words)
    if isinstance(secret, SlipDoubt):
        return Checked(None, tuple(_doubts(secret)))
    folders = {student.key for student in found.students}
    turns: dict[str, Turns] = {}
    wrong: list[Problem] = []
    for line in lines:
        read = read_lock_line(line)
        if read is None or read[0] not in folders:
            wrong.append(Problem(Code.SLIP_LINE_WRONG, SourceRef(""), {"found": line.strip()}))
        else:
            turns[read[0]] = read[1]
    return Checked(None, tuple(wrong)) if wrong else Checked((secret, turns), ())


def _make_locks(found: Survey, secret: bytes, turns: Mapping[str, Turns]) -> int:
    """How many locks were not there and are now: a locked page that is up asks for its own."""
    made = 0
    for student in _locked(found, secret, _memory(found.root)):
        at = student.address
        if at is not None and not lock_file(found.root, at).exists():
            lock = lock_of(secret, at, turns.get(student.paths.key, FIRST))
            keep_lock(found.root, at, secret, lock)
            made += 1
    return made


def _locked(found: Survey, secret: bytes, memory: Memory) -> tuple[ConsentNow, ...]:
    with temporary_folder() as kept:
        reader = KeptReadings(Cache(kept), program())
        coach = read_coach(found.root).value or Coach("")
        people = people_in(found, coach, today(None), reader)
    everyone = consents_of(found, people, LastingLinks(secret, memory.students).address)
    return tuple(each for each in everyone if each.student.locked)


def _lock(root: Path, student: ConsentNow, secret: bytes) -> SiteLock | None:
    if student.address is not None:
        with suppress(DamagedLockError):
            return read_lock(root, student.address, secret)
    return None


def _memory(root: Path) -> Memory:
    return read_memory(root, None).value or Memory({})


def _changed(key: str, link: StudentLink) -> bool:
    """Whether a link of the student is not what the secret and the folders' names alone give."""
    lessons = link.lessons.items()
    others = (lesson.turn > 0 or lesson.name != name for name, lesson in lessons)
    return link.turn > 0 or link.name != key or any(others)


def _doubts(doubt: SlipDoubt) -> Iterator[Problem]:
    for number, word, near in doubt.unknown:
        facts = {"number": str(number), "word": word, "near": near or "?"}
        yield Problem(Code.SLIP_WORD_UNKNOWN, SourceRef(""), facts)
    if doubt.unknown:
        return
    facts = {"count": str(doubt.count), "needed": str(SECRET_WORDS)}
    code = Code.SLIP_WORDS_WRONG if doubt.count == SECRET_WORDS else Code.SLIP_WORDS_COUNT
    yield Problem(code, SourceRef(""), facts)
