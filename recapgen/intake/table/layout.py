"""Which row is what: titles, headings, units, sections, shots, averages, remarks."""

import re
from collections.abc import Sequence
from enum import Enum, auto

from msgspec import Struct, field

from recapgen.golf.clubs import club_named
from recapgen.golf.quantity_facts import key_of
from recapgen.golf.written_amounts import Unit, read_number, unit_named
from recapgen.intake.table.cell_words import block_named, is_summary, shot_number
from recapgen.intake.table.cells import is_date, is_missing, read_column
from recapgen.intake.table.header import Heading, Headings, is_scorecard, with_units_row
from recapgen.intake.table.summaries import no_shots_in, summaries_in
from recapgen.intake.table.text import Grid
from recapgen.model.shots import Block

TITLE_LINES = 80
LOOKED_AT_ROWS = 200
_CLOCK = re.compile(r"\d\s*[:/.-]\s*\d")
_NUMBER_STARTS = frozenset("0123456789+-.")


class RowKind(Enum):
    """What a row turns out to be."""

    BLANK = auto()
    HEADINGS = auto()
    OTHER_HEADINGS = auto()
    UNITS = auto()
    SUMMARY = auto()
    TITLE = auto()
    REMARK = auto()
    SHOT = auto()


class Section(Struct):
    """Shots under one row of headings; ``rows`` are indexes into the grid.

    ``as_written`` are the one or two rows of headings, by which their repeats are known.
    ``clubs`` and ``blocks`` hold, by row, what the titles between the rows say.
    """

    headings: tuple[Heading, ...]
    row: int
    as_written: tuple[tuple[str, ...], ...]
    rows: list[int] = field(default_factory=list)
    clubs: dict[int, str] = field(default_factory=dict)
    blocks: dict[int, Block] = field(default_factory=dict)


class Layout(Struct):
    """All sections, and the rows that are no shots: ``remarks`` and ``summaries`` by grid index.

    ``units`` are those that a title line states for the whole file.
    """

    sections: list[Section] = field(default_factory=list)
    remarks: list[int] = field(default_factory=list)
    summaries: list[int] = field(default_factory=list)
    units: list[Unit] = field(default_factory=list)


class _Titles(Struct):
    """The club and the block that hold until the next title."""

    club: str | None = None
    block: Block | None = None

    def take(self, cells: Sequence[str]) -> bool:
        """Whether these cells were a title that says which shots follow."""
        said = [c.strip() for c in cells if c.strip()]
        label, _, rest = said[0].partition(":")
        value = rest.strip() or (said[1] if len(said) > 1 else "")
        named = key_of(label) in {"club", "clubname", "clubtype", "clubused"}
        text = value if named and value else said[0]
        club = club_named(text) if named or len(text) > 1 else None
        block = block_named(value or said[0]) if len(said) <= 2 else None  # noqa: PLR2004 - key, value
        if club is None and named and value:
            club = value
        self.club, self.block = club or self.club, block or self.block
        return club is not None or block is not None


def lay_out(grid: Grid, headings: Headings) -> Layout:
    """Sorts the rows of a grid; a layout without sections has no row of headings."""
    layout = Layout()
    found = _find_headings(grid.rows, headings)
    if found is None:
        return layout
    first, last, section = found
    titles = _Titles()
    for row, cells in enumerate(grid.rows[:first]):
        if sum(read_number(cell) is not None for cell in cells) > 1:
            layout.remarks.append(row)
        else:
            _read_title_line(cells, titles, layout)
    layout.sections.append(section)
    _note_titles(last + 1, section, titles)
    _sort_rows(grid, last + 1, headings, layout, titles)
    layout.sections = [s for s in layout.sections if s.rows] or layout.sections[:1]
    return layout


def _read_title_line(cells: Sequence[str], titles: _Titles, layout: Layout) -> None:
    said = [c.strip() for c in cells if c.strip()]
    if not said:
        return
    if key_of(said[0]).startswith("unit"):
        words = re.split(r"[\s,;|]+", " ".join(said))
        layout.units.extend(unit for word in words if (unit := unit_named(word)) is not None)
    elif len(said) <= 2:  # noqa: PLR2004 - a word and its value
        titles.take(cells)


def _worth(heading: Heading) -> int:
    sure = heading.quantity is not None or heading.role is not None or heading.rule is not None
    return 2 if sure else 1 if heading.perhaps else 0


def _find_headings(
    rows: Sequence[list[str]], headings: Headings
) -> tuple[int, int, Section] | None:
    """First and last row of the headings; wrapped and grouped headings take two rows."""
    best: tuple[int, int, Section] | None = None
    most = 0
    for at, cells in enumerate(rows[:TITLE_LINES]):
        if (
            best is not None
            and at > best[1]
            and _Judge(best[2], headings).kind(cells) is RowKind.SHOT
        ):
            break
        above = rows[at - 1] if at else []
        for first, texts in ((at, cells), (at - 1, _under(above, cells, headings))):
            if first < 0 or not any(texts):
                continue
            written = tuple(_folded(row) for row in rows[first : at + 1])
            section = Section(_unique(texts, headings), at, written)
            worth = sum(_worth(h) for h in section.headings)
            named = any(h.quantity or h.perhaps or h.rule for h in section.headings)
            named = named and not is_scorecard(section.headings)
            if worth > most and named:
                most, best = worth, (first, at, section)
    return best


def _folded(cells: Sequence[str]) -> tuple[str, ...]:
    """The cells without regard to case, and without empty ones at the end."""
    folded = [" ".join(cell.casefold().split()) for cell in cells]
    while folded and not folded[-1]:
        folded.pop()
    return tuple(folded)


def _under(above: Sequence[str], cells: Sequence[str], headings: Headings) -> list[str]:
    """Headings joined with the row above them, where that says more than they do alone."""
    joined: list[str] = []
    group = ""
    for at, cell in enumerate(cells):
        own = above[at].strip() if at < len(above) else ""
        group = own or group
        choices = [f"{own} {cell}".strip(), cell.strip(), f"{group} {cell}".strip()]
        best = max(_worth(headings.of(choice)) for choice in choices)
        joined.append(next(c for c in choices if _worth(headings.of(c)) == best))
    return joined


def _unique(texts: Sequence[str], headings: Headings) -> tuple[Heading, ...]:
    """The headings of a row; the second of two equal ones becomes "Speed (2)", and so on."""
    seen: dict[str, int] = {}
    found: list[Heading] = []
    for text in texts:
        shown = " ".join(text.split())
        seen[shown] = seen.get(shown, 0) + 1
        repeated = shown and seen[shown] > 1
        found.append(headings.of(f"{shown} ({seen[shown]})" if repeated else shown))
    return tuple(found)


def _sort_rows(grid: Grid, start: int, headings: Headings, layout: Layout, titles: _Titles) -> None:
    at = start
    while at < len(grid.rows):
        section = layout.sections[-1]
        at = _sort_section(grid, at, headings, layout, titles)
        if layout.sections[-1] is section:
            return


def _sort_section(
    grid: Grid, start: int, headings: Headings, layout: Layout, titles: _Titles
) -> int:
    """Sorts rows until other headings begin a new section; where to go on."""
    section = layout.sections[-1]
    width = len(section.headings)
    rows = grid.rows
    probe = _probe(section, rows[start : start + LOOKED_AT_ROWS])
    judge = _Judge(section, headings)
    clear = start
    for at in range(start, len(rows)):
        cells = rows[at]
        number = len(cells) == width and cells[probe][:1] in _NUMBER_STARTS and cells[probe]
        near = at < start + _MAY_BE_UNITS  # "1/min" begins like a number, too
        if number and not (near and judge.kind(cells) is RowKind.UNITS):
            continue
        section.rows.extend(range(clear, at))
        clear = at + 1
        if _take(at, cells, judge, layout, titles):
            _take_out_summaries(grid, section, layout)
            return at + 1
        _note_titles(at + 1, section, titles)
    section.rows.extend(range(clear, len(rows)))
    _take_out_summaries(grid, section, layout)
    return len(rows)


def _probe(section: Section, rows: Sequence[list[str]]) -> int:
    """The column that most often begins with a digit, by which plain rows of shots are known."""

    def merit(column: int) -> int:
        return sum(
            1 for r in rows if column < len(r) and r[column][:1] in _NUMBER_STARTS and r[column]
        )

    columns = [i for i, h in enumerate(section.headings) if h.quantity is not None]
    return max(columns, key=merit, default=0)


def _note_titles(row: int, section: Section, titles: _Titles) -> None:
    """From ``row`` on, the titles read so far hold."""
    if titles.club is not None:
        section.clubs[row] = titles.club
    if titles.block is not None:
        section.blocks[row] = titles.block


def _take(at: int, cells: list[str], judge: "_Judge", layout: Layout, titles: _Titles) -> bool:
    """Puts an unusual row where it belongs; True where it begins a new section."""
    section = layout.sections[-1]
    match judge.kind(cells):
        case RowKind.SHOT:
            section.rows.append(at)
        case RowKind.SUMMARY:
            layout.summaries.append(at)
        case RowKind.UNITS:
            if not section.rows:
                section.headings = judge.with_units(cells)
        case RowKind.TITLE:
            if not titles.take(cells):
                layout.remarks.append(at)
        case RowKind.REMARK:
            layout.remarks.append(at)
        case RowKind.OTHER_HEADINGS:
            layout.sections.append(Section(_unique(cells, judge.headings), at, (_folded(cells),)))
            _note_titles(at + 1, layout.sections[-1], titles)
            return True
        case RowKind.BLANK | RowKind.HEADINGS:
            pass
    return False


_NO_UNIT = frozenset({"-", "[-]", "(-)", "#", "–", "—", "none", "[]", "()"})
_UNITS_FOR_A_WORD = 3
_MAY_BE_UNITS = 3  # rows below the headings


class _Judge:
    """Says what an unusual row of a section is."""

    def __init__(self, section: Section, headings: Headings) -> None:
        self.section = section
        self.headings = headings

    def kind(self, cells: Sequence[str]) -> RowKind:
        said = [c.strip() for c in cells if c.strip()]
        if not said:
            return RowKind.BLANK
        tests = (
            (RowKind.SUMMARY, is_summary(said[0])),
            (RowKind.HEADINGS, self._repeats(cells)),
            (RowKind.UNITS, _are_units(said)),
            (RowKind.SHOT, self._has_reading(cells)),
            (RowKind.OTHER_HEADINGS, len(said) > 1 and self._quantities(cells) > 1),
            (RowKind.SHOT, self._has_place(cells)),
            (RowKind.TITLE, len(said) <= 2),  # noqa: PLR2004 - a word and its value
        )
        return next((kind for kind, holds in tests if holds), RowKind.REMARK)

    def with_units(self, cells: Sequence[str]) -> tuple[Heading, ...]:
        units = [unit_named(c) for c in cells]
        units += [None] * (len(self.section.headings) - len(units))
        return tuple(
            with_units_row(h, u) for h, u in zip(self.section.headings, units, strict=False)
        )

    def _repeats(self, cells: Sequence[str]) -> bool:
        return _folded(cells) in self.section.as_written

    def _quantities(self, cells: Sequence[str]) -> int:
        return sum(1 for c in cells if c.strip() and self.headings.of(c).quantity is not None)

    def _has_reading(self, cells: Sequence[str]) -> bool:
        pairs = zip(cells, self.section.headings, strict=False)
        wanted = [c for c, h in pairs if (h.quantity or h.perhaps) and not is_missing(c)]
        if not wanted:
            return False
        if any(map(is_date, wanted)):  # a number, before a spreadsheet had it
            return True
        column = read_column(wanted, None, thousands=True)
        return len(column.unreadable) < len(wanted)

    def _has_place(self, cells: Sequence[str]) -> bool:
        """Whether the row says which shot it is: a number, or a clock time."""
        pairs = zip(cells, self.section.headings, strict=False)
        return any(
            (h.role == "shot" and shot_number(c) is not None)
            or (h.role == "time" and _CLOCK.search(c) is not None)
            for c, h in pairs
        )


def _are_units(said: Sequence[str]) -> bool:
    """Whether these cells are a row of units ("mph", "[deg]", "-").

    A word or two that no unit is called by ("ratio") makes it no shot: it holds no number.
    """
    units = sum(unit_named(c) is not None for c in said)
    words = sum(unit_named(c) is None and c not in _NO_UNIT for c in said)
    numbers = any(read_number(c) is not None for c in said)
    return units > 0 and not numbers and (words == 0 or units >= _UNITS_FOR_A_WORD * words)


def _take_out_summaries(grid: Grid, section: Section, layout: Layout) -> None:
    """Averages are no shots, nor are rows of words; the first are expected, the others reported."""
    summed = summaries_in(grid, section.headings, section.rows)
    kept = [row for row in section.rows if row not in summed]
    odd = no_shots_in(grid, section.headings, kept)
    layout.summaries.extend(sorted(summed))
    layout.remarks.extend(sorted(odd))
    section.rows = [row for row in kept if row not in odd]
