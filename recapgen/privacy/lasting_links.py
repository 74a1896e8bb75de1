"""Which link belongs to which folder, whatever the folder is called by now.

An address is made of the secret and a name: the one that the folder had when it was first built.
What that was is kept beside the secret, with marks of what lies in the folder, by which it is
known again under another name. No word of anybody's can be read back from a mark.
"""

import hashlib
import hmac
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from pathlib import Path

from msgspec import Struct, field
from msgspec.structs import replace

from recapgen.model.as_data import FAULTS, as_text, from_text
from recapgen.model.naming import folded
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef
from recapgen.privacy.addresses import address, lesson_page
from recapgen.tools.atomic import write_text

KEPT_IN = ".recapgen/links.json"
_MARK_SIGNS = 12


class OldPage(Struct, frozen=True):
    """A lesson's page as an earlier link has it: of which folder's name and day it was made."""

    name: str
    on: date


class SaidOfLink(Struct, frozen=True):
    """What student.yml or notes.md says of its link: ``was_called`` names an earlier folder."""

    was_called: str | None = None
    new_address: bool = False


class LessonLink(Struct, frozen=True):
    """``name`` and ``on`` are those of the folder at first; ``turn`` counts new addresses.

    ``answered`` is True while the notes go on asking for a new address that was given. ``files``
    are marks of what the folder holds; ``lines`` are those of the lines of its notes, ``said`` what
    these say, as of the file of which ``notes`` is the digest. ``former`` pages lead on to this.
    ``shown`` is a mark of what a page is made of, ``told`` that of the page as it was left on
    ``up_on``, the day on which it was first up.
    """

    name: str
    on: date
    turn: int = 0
    answered: bool = False
    files: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    notes: str = ""
    said: SaidOfLink = SaidOfLink()
    former: tuple[OldPage, ...] = ()
    shown: str = ""
    told: str = ""
    up_on: date | None = None
    corrected_on: date | None = None


class StudentLink(Struct, frozen=True):
    """The same of a student, known by the mark of ``who`` it is, too.

    ``withdrawn`` is True from a consent that was taken back until there is another: then the
    address is a new one. ``shown`` is whether there was a page.
    """

    name: str
    turn: int = 0
    answered: bool = False
    who: str = ""
    files: tuple[str, ...] = ()
    shown: bool = False
    withdrawn: bool = False
    former: tuple[str, ...] = ()
    lessons: Mapping[str, LessonLink] = field(default_factory=dict)


class Memory(Struct, frozen=True):
    """Every folder by its name of today; ``retired`` addresses are never anybody's again."""

    students: Mapping[str, StudentLink]
    retired: tuple[str, ...] = ()


class LastingLinks(Struct, frozen=True):
    """The links of one run; a folder that is not remembered has those of its own name."""

    secret: bytes
    students: Mapping[str, StudentLink] = field(default_factory=dict)

    def address(self, student_key: str) -> str:
        """The folder name of a student's site."""
        link = self.students.get(student_key, StudentLink(student_key))
        return address_of(self.secret, link.name, link.turn)

    def page(self, student_key: str, lesson_key: str, on: date) -> str:
        """The file name of a lesson's page."""
        student = self.students.get(student_key, StudentLink(student_key))
        lesson = student.lessons.get(lesson_key, LessonLink(lesson_key, on))
        return page_of(self.secret, student.name, lesson)

    def corrected_on(self, student_key: str, lesson_key: str) -> date | None:
        """The day on which a lesson was changed after the first of its page."""
        student = self.students.get(student_key)
        lesson = None if student is None else student.lessons.get(lesson_key)
        return None if lesson is None else lesson.corrected_on

    def former_pages(self, student_key: str) -> dict[str, str]:
        """Earlier file names of lessons' pages, each with the one that it leads on to."""
        student = self.students.get(student_key, StudentLink(student_key))
        return {
            lesson_page(self.secret, student.name, old.name, old.on): self.page(
                student_key, key, lesson.on
            )
            for key, lesson in sorted(student.lessons.items())
            for old in lesson.former
        }

    def former_addresses(self, student_key: str) -> dict[str, dict[str, str]]:
        """Earlier addresses, each with its lessons' pages and those that they lead on to."""
        student = self.students.get(student_key, StudentLink(student_key))
        return {
            address(self.secret, old): {
                page_of(self.secret, old, replace(lesson, turn=0)): self.page(
                    student_key, key, lesson.on
                )
                for key, lesson in sorted(student.lessons.items())
            }
            for old in student.former
        }

    def of_one(self, student_key: str) -> "LastingLinks":
        """No more than is needed for one student."""
        own = {key: link for key, link in self.students.items() if key == student_key}
        return replace(self, students=own)

    def told(self, student_key: str) -> str:
        """All that a student's links are made of beside the secret, as a text."""
        link = self.students.get(student_key, StudentLink(student_key))
        lessons = [
            (key, each.name, each.on.isoformat(), each.turn, each.former, each.corrected_on)
            for key, each in sorted(link.lessons.items())
        ]
        return repr((link.name, link.turn, link.former, lessons))


def address_of(secret: bytes, name: str, turn: int) -> str:
    """The address made of ``name``, the ``turn``-th after the first."""
    return address(secret, name, *([str(turn)] if turn else ()))


def page_of(secret: bytes, student_name: str, lesson: LessonLink) -> str:
    """The file name of a lesson's page below the address of ``student_name``."""
    named = f"{lesson.name}/{lesson.turn}" if lesson.turn else lesson.name
    return lesson_page(secret, student_name, named, lesson.on)


def mark(secret: bytes, text: str) -> str:
    """A mark of ``text`` by which it is known again, and from which it can't be read back."""
    return hmac.new(secret, f"mark {text}".encode(), hashlib.sha256).hexdigest()[:_MARK_SIGNS]


def forget(memory: Memory, due: Iterable[str], secret: bytes) -> Memory:
    """``memory`` without the folders that are ``due``, whose addresses are nobody's any more."""
    students = dict(memory.students)
    retired = set(memory.retired)
    for at in due:
        student, _, lesson = at.partition("/")
        link = _under(students, student)
        if link is None:
            continue
        key, known = link
        if lesson:
            left = {k: v for k, v in known.lessons.items() if folded(k) != folded(lesson)}
            students[key] = replace(known, lessons=left)
        else:
            retired |= set(all_addresses(secret, known))
            del students[key]
    return Memory(students, tuple(sorted(retired)))


def all_addresses(secret: bytes, link: StudentLink) -> Iterator[str]:
    """Every address that a student had, earlier ones among them."""
    yield from (address_of(secret, link.name, turn) for turn in range(link.turn + 1))
    yield from (address(secret, old) for old in link.former)


def _under(students: Mapping[str, StudentLink], key: str) -> tuple[str, StudentLink] | None:
    return next(((k, link) for k, link in students.items() if folded(k) == folded(key)), None)


def read_memory(root: Path, copy: Path | None) -> Checked[Memory]:
    """What is remembered for the lessons in ``root``; None where there is nothing yet.

    ``copy`` is taken where that is lost or broken. A broken one without a copy is a problem, and
    is never replaced: links that were given out hang on it.
    """
    broken = False
    for file in (root / KEPT_IN, copy):
        if file is None or not file.is_file():
            continue
        try:
            return Checked(from_text(file.read_text("utf-8"), Memory), ())
        except (OSError, *FAULTS):
            broken = True
    problem = Problem(Code.LINKS_UNREADABLE, SourceRef(KEPT_IN), {})
    return Checked(None, (problem,) if broken else ())


def keep_memory(root: Path, copy: Path, memory: Memory) -> None:
    """Keep what is remembered beside the secret, and a copy of it with the output.

    What cannot be written beside the secret is in the copy. Raises OSError.
    """
    text = as_text(memory, Memory) + "\n"
    for file in (root / KEPT_IN, copy):
        try:
            if not file.is_file() or file.read_text("utf-8") != text:
                write_text(file, text, mode=0o600)
        except OSError:
            if file == copy:
                raise
