"""The shots of a lesson, from one or more files of any layout."""

import gc
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from msgspec.structs import replace

from recapgen.golf.clubs import club_named
from recapgen.intake.near_words import nearest
from recapgen.intake.table.cell_words import block_in_name
from recapgen.intake.table.header import Headings
from recapgen.intake.table.one_file import FileShots, read_file
from recapgen.intake.table.order import by_rank, joined, order_of
from recapgen.intake.table.parts import Part, said_of, take_blocks
from recapgen.intake.table.report import brief
from recapgen.intake.table.section_columns import Setting
from recapgen.intake.table.twice import without_repeats
from recapgen.model.fix import Cut, Swap, one_of
from recapgen.model.lesson import FileSaid
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, FilePart, ShotTable

_COMPARED = frozenset({Block.BEFORE, Block.AFTER})


def read_shots(root: Path, files: tuple[Path, ...], setting: Setting) -> Checked[ShotTable]:
    """The shots of a lesson's files, in time order where times are given, else in file order.

    Every row that is a shot becomes a Shot; one that cannot be is marked with the rule it broke.
    The value is None where no file could be read as shots. ``setting`` is what the coach's
    settings, the notes and the student's own file say of them; its day is taken from the folder.
    """
    headings = Headings(setting.coach.columns)
    club = (club_named(setting.club) or setting.club) if setting.club else None
    problems: list[Problem] = []
    read: list[FileShots] = []
    with _all_kept():
        for path in files:
            told = said_of(path, setting.files)
            if told is not None and told.ignored:
                continue
            placed = setting.placed or block_in_name(path.stem) in _COMPARED
            here = replace(setting, club=club, on=_day_of(path), placed=placed)
            found, met = read_file(root, path, headings, here)
            problems.extend(p for p in met if not _asked_already(p, problems))
            if found is not None:
                read.append(found)
        if not read:
            return Checked(None, tuple(problems))
        parts = [part for found in read for part in found.parts]
        take_blocks(parts)
        problems.extend(_not_there(setting.files, files, read))
        repeated = without_repeats(parts, setting.notes)
        problems.extend(repeated)
        filled = [part for part in parts if part.drafts.where] or parts[:1]
        table, faults = _numbered(by_rank(filled), read)
        if any(problem.code is Code.SHOTS_EXPORTED_TWICE for problem in repeated):
            table = replace(table, order_open=())  # that is asked first
    return Checked(table, (*problems, *faults))


def _asked_already(problem: Problem, earlier: Sequence[Problem]) -> bool:
    """Whether the same line, asked about an earlier file of the lesson, answers it, too."""
    return bool(problem.offers) and any(
        (other.code, other.facts, other.rule, other.offers)
        == (problem.code, problem.facts, problem.rule, problem.offers)
        for other in earlier
    )


def _not_there(
    said: Sequence[FileSaid], files: Sequence[Path], read: Sequence[FileShots]
) -> Iterator[Problem]:
    """What notes.md says of a file or a sheet that the lesson has not."""
    names = [path.name for path in files]
    sheets = [name for found in read for name in found.names if not name.endswith("/")]
    there = {name.casefold() for name in (*names, *sheets)}
    for one in said:
        if one.name.casefold() not in there:
            near = nearest(one.name, (*names, *sheets))
            facts = {"found": brief(one.name), "files": ", ".join(map(brief, (*names, *sheets)))}
            mend = Cut(one.where) if near is None else Swap(one.where, one.name, near)
            yield Problem(Code.SHOTS_FILE_NOT_THERE, one.where, facts, offers=one_of([mend]))


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


def _day_of(path: Path) -> date | None:
    """The lesson's day, with which the name of its folder begins."""
    match = re.match(r"\d{4}-\d{2}-\d{2}", path.parent.name)
    try:
        return date.fromisoformat(match[0]) if match else None
    except ValueError:
        return None


def _numbered(parts: Sequence[Part], read: Sequence[FileShots]) -> tuple[ShotTable, list[Problem]]:
    """The table in time order; the files' own numbers where they are unique, else positions."""
    drafts = joined(parts)
    order = order_of(parts, drafts)
    shots = drafts.shots(order.indexes, order.numbers)
    problems: list[Problem] = []
    own = [n for n in drafts.numbers if n is not None]
    if own and not order.unique:
        at = next((i for i, n in enumerate(drafts.numbers) if n is None or own.count(n) > 1), 0)
        problems.append(Problem(Code.SHOTS_NUMBERS_REPEAT, drafts.where[at]))
    decided = dict.fromkeys(pair for found in read for pair in found.decided)
    unknown = dict.fromkeys(text for found in read for text in found.unknown)
    calculated = {quantity for found in read for quantity in found.calculated}
    table = ShotTable(
        shots,
        tuple(found.name for found in read),
        tuple(decided),
        tuple(unknown),
        tuple(quantity for quantity in Quantity if quantity in calculated),
        order_open=tuple(FilePart(part.name, _one_block(part)) for part in order.open_parts),
        names_belied=order.against,
        asked=frozenset(quantity for found in read for quantity in found.asked),
    )
    return table, problems


def _one_block(part: Part) -> Block | None:
    return next(iter(part.blocks)) if len(part.blocks) == 1 else None
