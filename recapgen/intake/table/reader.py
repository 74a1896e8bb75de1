"""The shots of a lesson, from one or more files of any layout."""

import gc
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from itertools import pairwise
from pathlib import Path

from recapgen.golf.clubs import club_named
from recapgen.intake.table.columns import Setting
from recapgen.intake.table.header import Headings
from recapgen.intake.table.one_file import FileShots, read_file
from recapgen.intake.table.rows import Drafts
from recapgen.model.people import Coach, Hand
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import ShotTable
from recapgen.model.source import SourceRef

FEWEST_FOR_DUPLICATE = 2  # readings that must agree, beside the number or the time


def read_shots(
    root: Path,
    files: tuple[Path, ...],
    coach: Coach,
    notes_club: str | None,
    hand: Hand | None = None,
) -> Checked[ShotTable]:
    """The shots of a lesson's files, in time order where times are given, else in file order.

    Every row that is a shot becomes a Shot; one that cannot be is marked with the rule it broke.
    The value is None where no file could be read as shots. ``hand`` is needed only for columns
    that coach.yml declares in the player's terms ("plus: in-to-out").
    """
    headings = Headings(coach.columns)
    club = (club_named(notes_club) or notes_club) if notes_club else None
    problems: list[Problem] = []
    read: list[FileShots] = []
    with _all_kept():
        for path in files:
            setting = Setting(coach, hand, club, _day_of(path))
            found, faults = read_file(root, path, headings, setting)
            problems.extend(faults)
            if found is not None:
                problems.extend(_without_duplicates(found, read))
                read.append(found)
        if not read:
            return Checked(None, tuple(problems))
        table, repeats = _numbered(_joined(read), read)
    return Checked(table, (*problems, *repeats))


@contextmanager
def _all_kept() -> Iterator[None]:
    """Nothing made while reading is garbage: looking for it costs a third of a long file's time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _joined(read: Sequence[FileShots]) -> Drafts:
    if len(read) == 1:
        return read[0].drafts
    drafts = Drafts()
    for found in read:
        drafts.extend(found.drafts)
    return drafts


def _day_of(path: Path) -> date | None:
    """The lesson's day, with which the name of its folder begins."""
    match = re.match(r"\d{4}-\d{2}-\d{2}", path.parent.name)
    try:
        return date.fromisoformat(match[0]) if match else None
    except ValueError:
        return None


def _without_duplicates(found: FileShots, earlier: Sequence[FileShots]) -> list[Problem]:
    """Takes shots out that an earlier file already gave; reports how many."""
    problems: list[Problem] = []
    for other in earlier:
        there = Counter(
            k for k in map(_identity(other.drafts), range(len(other.drafts.where))) if k
        )
        keep: list[int] = []
        key_of_draft = _identity(found.drafts)
        for at in range(len(found.drafts.where)):
            key = key_of_draft(at)
            if key is not None and there[key] > 0:
                there[key] -= 1
            else:
                keep.append(at)
        gone = len(found.drafts.where) - len(keep)
        if gone:
            kept = Drafts()
            kept.extend(found.drafts, keep)
            found.drafts = kept
            facts = {"rows": str(gone), "other": other.name}
            problems.append(Problem(Code.SHOTS_DUPLICATE, SourceRef(found.name), facts))
    return problems


def _identity(drafts: Drafts) -> Callable[[int], tuple[object, ...] | None]:
    """What makes two rows one shot: time, club and all readings; None if too little is known."""

    def key(at: int) -> tuple[object, ...] | None:
        readings = drafts.readings[at]
        if len(readings) < FEWEST_FOR_DUPLICATE:
            return None
        rounded = frozenset((q, round(v, 3)) for q, v in readings.items())
        return drafts.times[at], drafts.clubs[at], rounded

    return key


def _numbered(drafts: Drafts, read: Sequence[FileShots]) -> tuple[ShotTable, list[Problem]]:
    """The table in time order; the files' own numbers where they are unique, else positions."""
    count = len(drafts.where)
    own = [n for n in drafts.numbers if n is not None]
    unique = len(own) == count and len(set(own)) == count
    order = _time_order(drafts, numbers=unique)
    numbers = [drafts.numbers[i] or 0 for i in order] if unique else range(1, count + 1)
    shots = drafts.shots(order, numbers)
    problems: list[Problem] = []
    if own and not unique:
        at = next(i for i, n in enumerate(drafts.numbers) if n is None or own.count(n) > 1)
        problems.append(Problem(Code.SHOTS_NUMBERS_REPEAT, drafts.where[at]))
    decided = dict.fromkeys(pair for found in read for pair in found.decided)
    unknown = dict.fromkeys(text for found in read for text in found.unknown)
    names = tuple(found.name for found in read)
    calculated = {quantity for found in read for quantity in found.calculated}
    inferred = tuple(quantity for quantity in Quantity if quantity in calculated)
    return ShotTable(shots, names, tuple(decided), tuple(unknown), inferred), problems


def _time_order(drafts: Drafts, *, numbers: bool) -> Sequence[int]:
    """Indexes in time order: by time where all have one, else by unique number, else as filed."""
    indexes = range(len(drafts.where))
    times = [t for t in drafts.times if t is not None]
    if any(t.tzinfo is not None for t in times):
        times = [t.replace(tzinfo=None) for t in times]
    if len(times) == len(indexes):
        backwards = all(a >= b for a, b in pairwise(times))
        return _sorted(reversed(indexes) if backwards else indexes, times)
    if numbers:
        return _sorted(indexes, [n or 0 for n in drafts.numbers])
    return indexes


def _sorted(indexes: Iterable[int], keys: Sequence[datetime] | Sequence[int]) -> Sequence[int]:
    found = sorted(indexes, key=keys.__getitem__)
    plain = range(len(found))
    return plain if found == list(plain) else found
