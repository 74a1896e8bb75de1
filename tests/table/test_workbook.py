"""Shots in an .xlsx workbook: the same lesson as in a CSV, whatever the cells are."""

import io
import zipfile
from datetime import date, datetime, time
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.intake.table.all_files import read_shots
from recapgen.intake.table.section_columns import Setting
from recapgen.intake.table.workbook import MOST_SHEETS, read_sheets
from recapgen.model.people import Coach
from recapgen.model.problem import Checked, Code, Cost
from recapgen.model.quantity import Quantity
from recapgen.model.shots import ShotTable

Rows = list[list[object]]
COACH = Coach("Ines Falk")


def workbook(**sheets: Rows) -> bytes:
    book = openpyxl.Workbook()
    for sheet in book.worksheets:
        book.remove(sheet)
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def read(folder: Path, data: bytes) -> Checked[ShotTable]:
    path = folder / "shots.xlsx"
    path.write_bytes(data)
    return read_shots(folder, (path,), Setting(COACH))


def test_numbers_words_and_times_are_read_as_they_are_shown(tmp_path: Path) -> None:
    when = datetime(2027, 4, 23, 10, 5, 7)  # noqa: DTZ001 - a wall clock
    data = workbook(
        shots=[
            ["Made up for a test"],
            [],
            ["Shot", "Time", "Club", "Ball Speed (mph)", "Path (deg)", "Carry (m)"],
            [1, when, "7i", 120, "2,5 L", 150.25],
            [2, None, "7i", None, "1,0 R", 151],
            ["Average", None, None, 120, None, 150.6],
        ]
    )
    table, problems = read(tmp_path, data)
    assert problems == ()
    assert table is not None
    first, second = table.shots
    assert first.time == when
    assert (first.where.file, first.where.line) == ("shots.xlsx", 4)
    assert first.readings == {
        Quantity.BALL_SPEED: pytest.approx(120 * 0.44704),
        Quantity.CLUB_PATH: -2.5,
        Quantity.CARRY: 150.25,
    }
    assert second.readings == {Quantity.CLUB_PATH: 1, Quantity.CARRY: 151}


def test_a_date_and_a_clock_in_two_cells(tmp_path: Path) -> None:
    data = workbook(
        shots=[
            ["Date", "Clock", "Carry (m)"],
            [date(2027, 4, 23), time(10, 5), 150],
            [None, None, 3],
        ]
    )
    table, _ = read(tmp_path, data)
    assert table is not None
    assert table.shots[0].time == datetime(2027, 4, 23, 10, 5)  # noqa: DTZ001 - a wall clock


def test_every_sheet_of_shots_is_read_and_any_other_is_named(tmp_path: Path) -> None:
    data = workbook(
        irons=[["Carry (m)"], [150]], wedges=[["Carry (m)"], [80]], about=[["hello"]], empty=[]
    )
    table, problems = read(tmp_path, data)
    assert table is not None
    assert [s.readings[Quantity.CARRY] for s in table.shots] == [150, 80]
    assert [(p.code, p.facts["sheet"]) for p in problems] == [
        (Code.SHOTS_SHEET_PASSED_OVER, "about")
    ]


def test_the_place_of_a_cell_is_its_row_and_column(tmp_path: Path) -> None:
    _, problems = read(tmp_path, workbook(shots=[["Shot", "Carry (m)"], [1, 150], [2, "far"]]))
    assert [(p.code, p.where.line, p.where.column) for p in problems] == [
        (Code.SHOTS_CELL_UNREADABLE, 3, 2)
    ]


def test_what_is_no_workbook_is_refused(tmp_path: Path) -> None:
    whole = workbook(shots=[["Carry (m)"], [150]])
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as out:
        out.writestr("hello.txt", "hello")
    for data in (b"", b"Carry (m)\n150\n", whole[: len(whole) // 2], packed.getvalue()):
        table, problems = read(tmp_path, data)
        assert table is None
        assert [p.code for p in problems] == [Code.SHOTS_NOT_TEXT]


@given(st.binary(max_size=300))
def test_any_bytes_are_sheets_or_none(data: bytes) -> None:
    assert read_sheets(data) is None


HEADINGS: list[object] = ["Shot", "Carry (m)", "Grit"]


def test_a_problem_of_one_of_several_sheets_names_the_sheet(tmp_path: Path) -> None:
    rows: list[list[object]] = [HEADINGS, [1, 150, 1], [2, "many", 1], [3, 151, 1]]
    table, problems = read(tmp_path, workbook(One=rows, Two=[*rows, [4, 152, 2]]))
    found = {str(p.where) for p in problems if p.code is Code.SHOTS_CELL_UNREADABLE}
    assert found == {"shots.xlsx/One:3:2", "shots.xlsx/Two:3:2"}
    assert table is not None
    assert {shot.where.sheet for shot in table.shots} == {"One", "Two"}
    _, problems = read(tmp_path, workbook(One=rows))
    assert {str(p.where) for p in problems if p.code is Code.SHOTS_CELL_UNREADABLE} == {
        "shots.xlsx:3:2"
    }


def test_sheets_that_are_not_looked_into_are_told_and_hold_a_verdict(tmp_path: Path) -> None:
    sheets: dict[str, Rows] = {f"S{n}": [] for n in range(MOST_SHEETS - 1)}
    first: Rows = [HEADINGS[:2], [1, 150], [2, 152]]
    _, problems = read(tmp_path, workbook(First=first, **sheets))
    assert problems == ()
    data = workbook(First=first, **sheets, Last=[HEADINGS[:2], [1, 99]])
    path = tmp_path / "shots.xlsx"
    path.write_bytes(data)
    for numbers, cost in ((frozenset({Quantity.CARRY}), Cost.STUDENT), (frozenset(), Cost.NOTHING)):
        _, (told,) = read_shots(tmp_path, (path,), Setting(COACH, numbers=numbers))
        assert (told.code, told.cost) == (Code.SHOTS_SHEETS_BEYOND, cost)
