"""A corpus of invented layouts: each is understood, or refused with a fix that works."""

import math
from collections.abc import Callable
from itertools import product
from pathlib import Path

import pytest

from recapgen.intake.settings import read_coach
from recapgen.intake.table.all_files import read_shots
from recapgen.intake.table.section_columns import Setting
from recapgen.model.people import Coach
from recapgen.model.problem import Code, Problem, Severity
from recapgen.model.shots import ShotTable
from tests.table.layouts import START, Layout, Truth, Writer, layouts, lesson
from tests.table.readings import lines_offered

CORPUS = layouts(90)
EARLY = START.replace(day=5)  # the fifth of April, or the fourth of May
Write = Callable[[Layout, int], tuple[Path, list[Truth]]]


@pytest.fixture
def written(tmp_path: Path) -> Write:
    """Writes one lesson in a layout, beside a coach.yml without columns."""

    def write(layout: Layout, seed: int) -> tuple[Path, list[Truth]]:
        truths = lesson(seed, EARLY if layout.time == "unsure" else START)
        folder = tmp_path / "marta" / "2027-04-23"
        folder.mkdir(parents=True, exist_ok=True)
        path = folder / "shots.csv"
        path.write_bytes(Writer(layout, truths, seed).bytes())
        return path, truths

    return write


def tells(table: ShotTable, truths: list[Truth], layout: Layout, seed: int) -> list[str]:
    """What in the table is not as it was."""
    wrong: list[str] = []
    gap = Writer(layout, truths, seed)
    by_number = {s.number: s for s in table.shots}
    if sorted(by_number) != [t.number for t in truths]:
        return [f"shots {sorted(by_number)}"]
    for at, truth in enumerate(truths):
        shot = by_number[truth.number]
        if shot.time is None or shot.time.replace(tzinfo=None) != truth.time:
            wrong.append(f"time {shot.time}")
        if shot.club != truth.club:
            wrong.append(f"club {shot.club}")
        if shot.impossible:
            wrong.append(f"row {at}: {shot.impossible}")
        for quantity, value in truth.readings.items():
            missing = at == gap.gap_row and quantity is gap.gap
            found = shot.readings.get(quantity)
            if missing and found is None:
                continue
            near = found is not None and math.isclose(found, value, rel_tol=0.002, abs_tol=0.02)
            if missing or not near:
                wrong.append(f"{quantity} {found} for {value:.3f}")
    return wrong


@pytest.mark.parametrize("seed", range(len(CORPUS)))
def test_every_layout_tells_the_same_lesson(seed: int, written: Write, tmp_path: Path) -> None:
    layout = CORPUS[seed]
    path, truths = written(layout, seed)
    table, problems = read_shots(tmp_path, (path,), Setting(Coach("Ines Falk")))
    assert table is not None, problems
    assert tells(table, truths, layout, seed) == [], (layout, problems)
    assert problems == (), layout
    assert [s.block for s in table.shots] == [t.block for t in truths]


ASKED = [
    *(
        Layout(units="bare", speed=speed, length=length, apex=length, names=names)
        for speed, length, names in product(("mph", "km/h"), ("yd", "m"), ("plain", "snake"))
    ),
    *(Layout(units=units, time="unsure") for units in ("heading", "row")),
    *(Layout(names="loose", delimiter=d) for d in (",", "\t")),
]


def alternatives(problem: Problem) -> list[str]:
    return lines_offered(problem)


def coach_with(lines: list[str], tmp_path: Path) -> Coach:
    """The coach after writing these lines under columns: in coach.yml."""
    body = "".join(f"  {line}\n" for line in lines)
    (tmp_path / "coach.yml").write_text(f"coach: Ines Falk\ncolumns:\n{body}", encoding="utf-8")
    coach, problems = read_coach(tmp_path)
    assert coach is not None, problems
    assert not [p for p in problems if p.severity is Severity.ERROR]
    return coach


def right_lines(problems: tuple[Problem, ...], layout: Layout) -> list[str]:
    """Of each problem's alternatives the one that is true of this layout."""
    chosen: list[str] = []
    for problem in problems:
        assert problem.severity is Severity.WARNING
        for line in alternatives(problem):
            unit = layout.speed if "speed" in line else layout.length
            day = "month first" if layout.time == "unsure" else "day first"
            true_of_it = {
                Code.SHOTS_UNIT_OPEN: f"unit: {unit}" in line,
                Code.SHOTS_DAY_OPEN: day in line,
                Code.SHOTS_COLUMN_LOOSE: "carry side" in line or line.endswith(": carry"),
            }
            if true_of_it.get(problem.code):
                chosen.append(line)
                break
    return chosen


@pytest.mark.parametrize("number", range(len(ASKED)))
def test_what_can_be_read_two_ways_is_asked_and_the_line_given_settles_it(
    number: int, written: Write, tmp_path: Path
) -> None:
    layout = ASKED[number]
    path, truths = written(layout, number)
    (tmp_path / "coach.yml").write_text("coach: Ines Falk\n", encoding="utf-8")
    coach, _ = read_coach(tmp_path)
    assert coach is not None
    table, problems = read_shots(tmp_path, (path,), Setting(coach))
    assert table is not None
    assert problems
    assert tells(table, truths, layout, number) != []
    lines = right_lines(problems, layout)
    assert len(lines) == len(problems), problems
    settled, left = read_shots(tmp_path, (path,), Setting(coach_with(lines, tmp_path)))
    assert settled is not None
    assert left == ()
    assert tells(settled, truths, layout, number) == []


def turned(text: str) -> str:
    """Rows and columns exchanged, as a spreadsheet does it."""
    rows = [line.split(",") for line in text.splitlines()]
    return "\n".join(",".join(column) for column in zip(*rows, strict=True)) + "\n"


def test_a_table_on_its_side_is_told_and_read_once_it_is_turned(tmp_path: Path) -> None:
    text = "Shot,1,2,3\nBall Speed (mph),120.1,121.5,119.8\nCarry (yd),158,160,157\n"
    path = tmp_path / "marta" / "2027-04-23" / "shots.csv"
    path.parent.mkdir(parents=True)
    path.write_text(text, encoding="utf-8")
    table, problems = read_shots(tmp_path, (path,), Setting(Coach("Ines Falk")))
    assert table is None
    assert [(p.code, p.where.line, p.where.column) for p in problems] == [
        (Code.SHOTS_SIDEWAYS, 2, 1)
    ]
    path.write_text(turned(text), encoding="utf-8")
    table, problems = read_shots(tmp_path, (path,), Setting(Coach("Ines Falk")))
    assert problems == ()
    assert table is not None
    assert [s.number for s in table.shots] == [1, 2, 3]
