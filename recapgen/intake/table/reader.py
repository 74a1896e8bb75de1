"""The shots of a lesson, from one or more files of any layout."""

import gc
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date, datetime
from itertools import pairwise
from pathlib import Path

from recapgen.golf.catalogue import FACTS
from recapgen.golf.clubs import club_named
from recapgen.golf.units import own_unit
from recapgen.intake.table.cells import decimal_mark
from recapgen.intake.table.columns import Setting, Source, read_columns, say_unknown
from recapgen.intake.table.header import Headings, rule_line
from recapgen.intake.table.layout import Layout, Section, lay_out
from recapgen.intake.table.report import Report, brief
from recapgen.intake.table.rows import Drafts, draft_rows
from recapgen.intake.table.text import Grid, decode, delimiter_of, read_grid
from recapgen.model.people import Coach, Hand
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import ShotTable
from recapgen.model.source import SourceRef
from recapgen.model.units import Units

MOST_BYTES = 100_000_000
MOST_LINES_NAMED = 8
FEWEST_FOR_DUPLICATE = 2  # readings that must agree, beside the number or the time


@dataclass(slots=True)
class _File:
    """What one file gave."""

    name: str
    drafts: Drafts = field(default_factory=Drafts)
    decided: list[tuple[str, str]] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)


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
    read: list[_File] = []
    with _all_kept():
        for path in files:
            setting = Setting(coach, hand, club, _day_of(path))
            found, faults = _read_file(root, path, headings, setting)
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


def _joined(read: Sequence[_File]) -> Drafts:
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


def _read_file(
    root: Path, path: Path, headings: Headings, setting: Setting
) -> tuple[_File | None, tuple[Problem, ...]]:
    name = path.relative_to(root).as_posix()
    text, faults = _text_of(path, name)
    if text is None:
        return None, faults
    grid = read_grid(text, delimiter_of(text, headings.count))
    layout = lay_out(grid, headings)
    if not layout.sections:
        first = next((brief(c) for row in grid.rows for c in row if c.strip()), "Carry")
        facts = {"line": rule_line(first, Quantity.CARRY.value)}
        return None, (Problem(Code.SHOTS_WITHOUT_HEADINGS, SourceRef(name, 1), facts),)
    report = Report(name, grid)
    found = _File(name)
    unknown: dict[str, tuple[int, int]] = {}
    for section in layout.sections:
        _name_columns(section, grid, headings)
        _read_section(section, layout, setting, report, found)
        texts = [h.text for h in section.headings]
        unknown.update({t: (section.row, texts.index(t)) for t in found.unknown if t in texts})
    say_unknown(unknown, report)
    _say_passed_over(layout, grid, found, report)
    return found, report.problems()


def _text_of(path: Path, name: str) -> tuple[str | None, tuple[Problem, ...]]:
    where = SourceRef(name)
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            facts = {"size": f"{size:,}", "most": f"{MOST_BYTES:,}"}
            return None, (Problem(Code.FILE_TOO_BIG, where, facts),)
        text = decode(path.read_bytes())
    except OSError as fault:
        reason = fault.strerror or type(fault).__name__
        return None, (Problem(Code.FILE_UNREADABLE, where, {"reason": reason}),)
    if text is None:
        return None, (Problem(Code.SHOTS_NOT_TEXT, where, {"file": path.name}),)
    if not text.strip():
        return None, (Problem(Code.SHOTS_EMPTY, where),)
    return text, ()


def _name_columns(section: Section, grid: Grid, headings: Headings) -> None:
    """Columns with cells but no heading are called "column 3", so that a rule can name them."""
    section.headings = tuple(
        heading
        if heading.text or not any(_filled(grid.rows[row], index) for row in section.rows)
        else headings.of(f"column {index + 1}")
        for index, heading in enumerate(section.headings)
    )


def _filled(cells: Sequence[str], index: int) -> bool:
    return index < len(cells) and bool(cells[index].strip())


def _read_section(
    section: Section, layout: Layout, setting: Setting, report: Report, found: _File
) -> None:
    """Appends the drafts of a section, and what was decided and not understood."""
    cells, faults = _columns_of(section, report)
    numbers = (c for c, h in zip(cells, section.headings, strict=True) if h.quantity or h.perhaps)
    mark = decimal_mark(cell for column in numbers for cell in column)
    source = Source(
        section.headings, cells, section.row, section.rows, mark, layout.units, setting
    )  # fmt: skip
    columns = read_columns(source, report)
    drafts = draft_rows(section, source, columns, faults, report)
    _say_impossible(drafts, set(faults), section, report)
    found.drafts.extend(drafts)
    found.decided.extend(columns.decided)
    found.unknown.extend(columns.unknown)


def _columns_of(section: Section, report: Report) -> tuple[list[Sequence[str]], dict[int, str]]:
    """The section's cells by column; of rows that do not fit, the first roles."""
    grid, width = report.grid, len(section.headings)
    rows = [grid.rows[row] for row in section.rows]
    faults: dict[int, str] = {}
    if not rows:
        return [[] for _ in range(width)], faults
    if grid.open_quotes or any(len(cells) != width for cells in rows):
        sure = next((i for i, h in enumerate(section.headings) if h.role is None), width)
        for at, cells in enumerate(rows):
            row = section.rows[at]
            if row in grid.open_quotes:
                faults[at] = "quote-open"
                report.add(Code.SHOTS_QUOTE_OPEN, row)
            elif any(cell.strip() for cell in cells[width:]):
                faults[at] = "row-uneven"
                report.add(
                    Code.SHOTS_ROW_UNEVEN, row, width,
                    cells=str(len(cells)), headings=str(width),
                )  # fmt: skip
            kept = cells[: sure if at in faults else width]
            rows[at] = kept + [""] * (width - len(kept))
    return list(zip(*rows, strict=True)), faults


def _say_impossible(drafts: Drafts, known: set[int], section: Section, report: Report) -> None:
    """Reports rows that break a rule one by one, and doubts once for each rule."""
    doubtful: dict[str, list[int]] = {}
    for at, rule in enumerate(drafts.impossible):
        if rule is not None and at not in known:
            rule_words = _told_rule(rule, drafts.readings[at])
            report.add(Code.SHOTS_ROW_IMPOSSIBLE, section.rows[at], None, rule=rule_words)
    for at, rules in enumerate(drafts.doubts):
        for rule in rules:
            doubtful.setdefault(rule, []).append(at)
    for rule, rows in doubtful.items():
        lines = ", ".join(
            str(report.grid.lines[section.rows[at]]) for at in rows[:MOST_LINES_NAMED]
        )
        report.add(
            Code.SHOTS_ROW_DOUBTFUL, section.rows[rows[0]], None,
            rule=rule.replace("-", " "), rows=str(len(rows)), lines=lines,
        )  # fmt: skip


def _told_rule(rule: str, readings: Mapping[Quantity, float]) -> str:
    """The rule as words, with the reading that broke it ("impossible ball speed: 141 m/s")."""
    words = rule.replace("-", " ")
    quantity = next((q for q in readings if words.endswith(f" {q}")), None)
    if quantity is None:
        return words
    unit = own_unit(FACTS[quantity].dimension, Units()).sign
    return f"{words}: {readings[quantity]:.4g} {unit}".strip()


def _say_passed_over(layout: Layout, grid: Grid, found: _File, report: Report) -> None:
    """Rows that are no shots: averages are noted, anything else is reported."""
    for row in layout.summaries:
        label = next(c for c in grid.rows[row] if c.strip())
        found.decided.append((brief(label), "not a shot"))
    for row in layout.remarks:
        said = " ".join(c for c in grid.rows[row] if c.strip())
        report.add(Code.SHOTS_ROW_NO_SHOT, row, None, found=brief(said))
    if not found.drafts.where:
        report.add(Code.SHOTS_EMPTY, layout.sections[0].row)


def _without_duplicates(found: _File, earlier: Sequence[_File]) -> list[Problem]:
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


def _numbered(drafts: Drafts, read: Sequence[_File]) -> tuple[ShotTable, list[Problem]]:
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
    return ShotTable(shots, names, tuple(decided), tuple(unknown)), problems


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
