"""From a section's columns to drafts of its shots, and from all drafts to numbered shots."""

import math
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import TypeVar

from msgspec import Struct, field

from recapgen.golf.row_checks import check_rows
from recapgen.intake.table.layout import Section
from recapgen.intake.table.report import Report
from recapgen.intake.table.roles import Roles
from recapgen.intake.table.section_columns import Columns, Source
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import RowRule
from recapgen.model.shots import Block, Shot
from recapgen.model.source import SourceRef

RowReadings = dict[Quantity, float]
T = TypeVar("T")


class Drafts(Struct):
    """Shots before they are numbered; all lists run parallel."""

    where: list[SourceRef] = field(default_factory=list)
    readings: list[RowReadings] = field(default_factory=list)
    numbers: list[int | None] = field(default_factory=list)
    times: list[datetime | None] = field(default_factory=list)
    clubs: list[str | None] = field(default_factory=list)
    blocks: list[Block | None] = field(default_factory=list)
    tags: list[str | None] = field(default_factory=list)
    impossible: list[RowRule | None] = field(default_factory=list)
    doubts: list[tuple[RowRule, ...]] = field(default_factory=list)
    other: list[Mapping[str, str] | None] = field(default_factory=list)
    clubs_written: list[str | None] = field(default_factory=list)

    def extend(self, more: "Drafts", keep: Sequence[int] | None = None) -> None:
        """Appends ``more``, or those of its drafts whose indexes are in ``keep``."""
        for name in self.__struct_fields__:
            own, added = getattr(self, name), getattr(more, name)
            own.extend(added if keep is None else [added[i] for i in keep])

    def shots(self, order: Sequence[int], numbers: Iterable[int]) -> tuple[Shot, ...]:
        """The shots in ``order``, numbered in parallel."""
        in_place = order == range(len(self.where))

        def taken(values: list[T]) -> list[T]:
            return values if in_place else [values[i] for i in order]

        return tuple(
            map(
                Shot,
                numbers,
                taken(self.where),
                taken(self.readings),
                taken(self.blocks),
                taken(self.clubs),
                taken(self.times),
                taken(self.tags),
                taken(self.impossible),
                taken(self.other),
                taken(self.doubts),
                [None] * len(order),
                taken(self.clubs_written),
            )
        )


def draft_rows(
    section: Section,
    source: Source,
    columns: Columns,
    faults: Mapping[int, RowRule],
    report: Report,
) -> Drafts:
    """The drafts of a section; ``faults`` names the rule that a row broke before it was read."""
    count = len(section.rows)
    roles = Roles(source, columns, report)
    clubs = roles.clubs() or _by_titles(section.rows, section.clubs, source.setting.club)
    blocks = roles.blocks() or _by_titles(section.rows, section.blocks, None)
    impossible: list[RowRule | None] = [None] * count
    doubts: list[tuple[RowRule, ...]] = [()] * count
    findings = check_rows(columns.readings, clubs)
    for row, rule in findings.impossible.items():
        impossible[row] = rule
    for row, rules in findings.doubts.items():
        doubts[row] = rules
    for row, fault in faults.items():
        impossible[row], doubts[row] = fault, ()
    return Drafts(
        where=[
            SourceRef(report.file, report.grid.lines[row], sheet=report.sheet)
            for row in section.rows
        ],
        readings=_readings(columns.readings, count),
        numbers=roles.numbers() or [None] * count,
        times=roles.times(source.setting.on) or [None] * count,
        clubs=clubs,
        blocks=blocks,
        tags=roles.tags() or [None] * count,
        impossible=impossible,
        doubts=doubts,
        other=_kept(source, columns, count),
        clubs_written=roles.clubs_written() or [None] * count,
    )


def _readings(columns: Mapping[Quantity, list[float]], count: int) -> list[RowReadings]:
    if not columns:
        return [{} for _ in range(count)]
    names = tuple(columns)
    gaps = any(any(map(math.isnan, values)) for values in columns.values())
    rows = zip(*columns.values(), strict=True)
    if not gaps:
        return [dict(zip(names, row, strict=True)) for row in rows]
    known = math.isfinite
    return [{n: v for n, v in zip(names, row, strict=True) if known(v)} for row in rows]


def _kept(source: Source, columns: Columns, count: int) -> list[Mapping[str, str] | None]:
    """Cells that were not read, by heading, for the coach's own data."""
    kept = [i for i in sorted(set(columns.kept)) if any(source.cells[i])]
    if not kept:
        return [None] * count
    names = [source.headings[i].text for i in kept]
    rows = zip(*(source.cells[i] for i in kept), strict=True)
    return [
        {n: c.strip() for n, c in zip(names, row, strict=True) if c.strip()} or None for row in rows
    ]


def _by_titles(rows: Sequence[int], titles: Mapping[int, T], first: T | None) -> list[T | None]:
    """For each row what the last title above it says."""
    if not titles:
        return [first] * len(rows)
    starts = sorted(titles)
    found: list[T | None] = []
    held, upcoming = first, 0
    for row in rows:
        while upcoming < len(starts) and starts[upcoming] <= row:
            held = titles[starts[upcoming]]
            upcoming += 1
        found.append(held)
    return found
