"""``forget``: what there is of a student in the coach's folder, and its erasing."""

import os
import shutil
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from pathlib import Path
from time import sleep

from msgspec import Struct

from recapgen.desk.inbox import Dropped, inbox_of, look_through
from recapgen.desk.new_lessons import people_of
from recapgen.desk.not_done import MARKED_BELOW
from recapgen.desk.whose import Person, sort_out
from recapgen.intake.folder import Survey, survey
from recapgen.intake.kept_drills import KEPT_BELOW
from recapgen.intake.settings import read_coach
from recapgen.intake.table.first_sight import at_first_sight
from recapgen.intake.table.players import students_named
from recapgen.intake.text_file import KEPT_BEFORE
from recapgen.intake.worksheets_asked import FILE, worksheets_asked
from recapgen.model.people import Coach
from recapgen.model.receipt import StudentTrace, TraceKind
from recapgen.tools.atomic import write_text
from recapgen.tools.cache import Cache
from recapgen.tools.leftovers import temporary_folder
from recapgen.tools.walking import sizes_below


class AmongLessons(Struct, frozen=True):
    """What the lessons folder ``root`` has of the student of the folder ``key``.

    ``inbox`` are the files waiting there that are theirs alone, ``shared`` those that also hold
    other students' shots, ``elsewhere`` those of other students' lessons that hold theirs.
    ``with_originals`` says that the student's own folder goes, too.
    """

    root: Path
    key: str
    inbox: tuple[Path, ...]
    shared: tuple[str, ...]
    elsewhere: tuple[str, ...]
    with_originals: bool

    def traces(self) -> tuple[StudentTrace, ...]:
        """All that is to be erased here."""
        waiting = f"{self.inbox[0].parent}" if self.inbox else ""
        found = (
            _below(TraceKind.DRILLS, self.root / KEPT_BELOW / self.key),
            _below(TraceKind.BEFORE, self.root / KEPT_BEFORE / self.key),
            _below(TraceKind.NOT_DONE, self.root / MARKED_BELOW / self.key),
            StudentTrace(TraceKind.SHEETS, len(self._sheets()), str(self.root / FILE)),
            StudentTrace(TraceKind.INBOX, len(self.inbox), waiting),
            *((_below(TraceKind.ORIGINALS, self.root / self.key),) if self.with_originals else ()),
        )
        return tuple(trace for trace in found if trace.count)

    def erase(self) -> None:
        """Erase it, the originals last: by them the rest is known. Raises OSError."""
        for kept in (KEPT_BELOW, KEPT_BEFORE, MARKED_BELOW):
            _remove(self.root / kept / self.key)
        sheets = self._sheets()
        if sheets:
            others = (each for each in worksheets_asked(self.root) if each not in sheets)
            write_text(self.root / FILE, "".join(f"{each}\n" for each in others))
        for file in self.inbox:
            _remove(file)
            _drop_empty(file.parent, self.root)
        if self.with_originals:
            _remove(self.root / self.key)

    def _sheets(self) -> list[str]:
        asked = worksheets_asked(self.root)
        return [each for each in asked if each.partition("/")[0] == self.key]


def look_among_lessons(
    root: Path,
    key: str,
    names: Sequence[str],
    day: date,
    *,
    with_originals: bool,
    rest: Callable[[float], None] = sleep,
) -> AmongLessons:
    """What there is; a file of the inbox is theirs where it says so itself, never by a guess."""
    found, coach = survey(root).value, read_coach(root).value or Coach("")
    people = list(people_of(found, coach)) if found is not None else []
    if all(each.key != key for each in people):  # the folder is gone already
        people.append(Person(key, tuple(names)))
    alone, shared = _waiting(_in_the_inbox(root, coach, day, rest), key, people)
    elsewhere = tuple(_among_others(root, found, key, people, coach)) if found is not None else ()
    return AmongLessons(root, key, alone, shared, elsewhere, with_originals)


def _among_others(
    root: Path, found: Survey, key: str, people: Sequence[Person], coach: Coach
) -> Iterator[str]:
    """The files of other students' lessons that have rows of this one."""
    names = {person.key: person.names for person in people}
    others = (student for student in found.students if student.key != key)
    for path in (path for each in others for lesson in each.lessons for path in lesson.tables):
        players = at_first_sight(root, path, coach).players
        if any(key in students_named(player, names) for player in players):
            yield path.relative_to(root).as_posix()


def _in_the_inbox(
    root: Path, coach: Coach, day: date, rest: Callable[[float], None]
) -> tuple[Dropped, ...]:
    inbox = inbox_of(root)
    if inbox is None or inbox.is_symlink():
        return ()
    with temporary_folder() as kept:
        return look_through(inbox, coach, Cache(kept), day, rest=rest)[0]


def _waiting(
    dropped: Sequence[Dropped], key: str, people: Sequence[Person]
) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    theirs = sort_out(dropped, people).theirs
    own = theirs.get(key, ())
    others = {each for whose, files in theirs.items() if whose != key for each in files}
    alone = tuple(each.path for each in own if each not in others)
    return alone, tuple(each.name for each in own if each in others)


def _below(kind: TraceKind, folder: Path) -> StudentTrace:
    count = 0 if folder.is_symlink() else sum(1 for _ in sizes_below(folder))
    return StudentTrace(kind, count, str(folder))


def _remove(path: Path) -> None:
    """Whatever is there; of a link the link alone."""
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path)
    elif os.path.lexists(path):
        path.unlink()


def _drop_empty(folder: Path, root: Path) -> None:
    """The folders within the inbox that hold nothing any more: they may be called by the name."""
    while folder.parent != root and not any(folder.iterdir()):
        folder.rmdir()
        folder = folder.parent
