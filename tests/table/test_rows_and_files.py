"""Which rows are shots, in which order, from how many files."""

import math
from datetime import UTC, datetime
from pathlib import Path

import pytest

from recapgen.intake.table.all_files import read_shots
from recapgen.intake.table.section_columns import Setting
from recapgen.model.people import Coach
from recapgen.model.problem import Code, Severity
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import Check, RowRule
from recapgen.model.shots import Block, Decision, ReadAs
from tests.table.conftest import Read
from tests.table.readings import UNSAID, column, lines_offered, rows, rule, table_of


def test_averages_and_remarks_are_no_shots(read: Read) -> None:
    checked = read(
        "Shot,Club,Carry (m)\n1,7i,150\n2,7i,152\n"
        "Average,7i,151\n\n,Std. Dev.,1.4\nDone for today\n"
    )
    table = table_of(checked, Code.SHOTS_ROW_NO_SHOT)
    assert [s.number for s in table.shots] == [1, 2]
    assert table.decided == (
        Decision("Average", ReadAs.SUMMARY),
        Decision("Std. Dev.", ReadAs.SUMMARY),
    )
    assert (checked.problems[0].where.line, checked.problems[0].facts["found"]) == (
        7,
        "Done for today",
    )


def test_sections_name_their_club_and_block(read: Read) -> None:
    text = "Club: 7 Iron\nCarry (m)\n150\n\nPW\nCarry (m)\n110\nAfter\n112\n"
    table = table_of(read(text))
    assert [(s.club, s.block) for s in table.shots] == [
        ("7 iron", None), ("pitching wedge", None), ("pitching wedge", Block.AFTER),
    ]  # fmt: skip


def test_sections_with_other_headings(read: Read) -> None:
    table = table_of(read("Carry (m),Path\n150,1\n\nPath,Face,Carry (yd)\n2,3,100\n"))
    assert column(table, Quantity.CARRY) == [150, 91.44]
    assert column(table, Quantity.CLUB_PATH) == [1, 2]
    assert [s.where.line for s in table.shots] == [2, 5]


def test_words_of_the_lesson(read: Read) -> None:
    checked = read(
        "Phase,Club,Tag,Carry (m)\nWarm-up,D,,200\nbefore 1,7-iron,Thin,150\n"
        "NOW,56°,x,80\nlunch,spoon,ok,9\n"
    )
    table = table_of(checked, Code.SHOTS_CLUB_UNKNOWN, Code.SHOTS_BLOCK_UNKNOWN)
    assert [(s.block, s.club, s.tag) for s in table.shots] == [
        (Block.WARM_UP, "driver", None),
        (Block.BEFORE, "7 iron", "thin"),
        (Block.AFTER, "56 deg wedge", "mishit"),
        (None, "spoon", None),
    ]


def test_without_a_club_column_the_notes_name_the_club(read: Read) -> None:
    table = table_of(read("Carry (m)\n150\n", club="seven iron"))
    assert table.shots[0].club == "7 iron"


def test_a_day_that_may_be_a_month_is_settled_by_the_lesson_or_asked_about(read: Read) -> None:
    text = "Date,Carry (m)\n05/04/2027 10:01,150\n05/04/2027 10:02,151\n"
    table = table_of(read(text, day="2027-04-05"))
    assert table.shots[0].time == datetime(2027, 4, 5, 10, 1)  # noqa: DTZ001 - a wall clock
    checked = read(text, day="2027-09-09")
    table = table_of(checked, Code.SHOTS_DAY_OPEN)
    assert table.shots[0].time is None
    assert lines_offered(checked.problems[0]) == [
        "Date: {is: time, unit: day first}", "Date: {is: time, unit: month first}",
    ]  # fmt: skip


def test_times_order_the_shots(read: Read) -> None:
    lines = [f"2027-04-23T10:0{minute}:00+02:00,{minute}" for minute in (3, 2, 1)]
    table = table_of(read(rows("Time,Carry (m)", lines)))
    assert column(table, Quantity.CARRY) == [1, 2, 3]
    assert [s.number for s in table.shots] == [1, 2, 3]
    first = table.shots[0].time
    assert first is not None
    assert first.astimezone(UTC).hour == 8


def test_a_file_with_the_newest_shot_first_and_coarse_times_is_turned(read: Read) -> None:
    text = "Time,Carry (m)\n10:02,4\n10:02,3\n10:01,2\n10:01,1\n"
    assert column(table_of(read(text)), Quantity.CARRY) == [1, 2, 3, 4]


def test_shot_numbers_that_repeat_give_way_to_the_order(read: Read) -> None:
    table = table_of(read("Shot,Carry (m)\n1,150\n2,151\n1,140\n"), Code.SHOTS_NUMBERS_REPEAT)
    assert [s.number for s in table.shots] == [1, 2, 3]


def test_several_files_are_one_lesson_and_a_shot_counts_once(read: Read) -> None:
    late = "Time,Carry (m),Path\n10:10,150,1\n10:11,151,2\n"
    early = "Time,Carry (m),Path\n10:01,140,1\n10:02,141,2\n"
    both = early + "10:10,150,1\n"
    checked = read(late, early, both)
    table = table_of(checked, Code.SHOTS_DUPLICATE, Code.SHOTS_DUPLICATE)
    assert column(table, Quantity.CARRY) == [140, 141, 150, 151]
    assert [p.facts["rows"] for p in checked.problems] == ["1", "2"]
    assert len(table.files) == 3


@pytest.mark.parametrize(
    ("encoding", "heads"),
    [("cp932", "番号,クラブ,キャリー(m)"), ("euc-kr", "번호,클럽,캐리 (m)")],
)
def test_a_file_as_spreadsheets_in_the_east_save_it(read: Read, encoding: str, heads: str) -> None:
    table = read(f"{heads}\n1,7i,150\n2,7i,151\n".encode(encoding)).value
    assert table is not None
    assert column(table, Quantity.CARRY) == [150, 151]


def test_western_letters_stay_western(read: Read) -> None:
    table = read("Nr;Schläger;Carry (m)\n1;Größe ÇÃO;150\n2;Größe ÇÃO;151\n".encode("cp1252")).value
    assert table is not None
    assert {shot.club for shot in table.shots} == {"grösse ção"}


def test_many_faults_of_a_kind_are_capped_and_counted(read: Read) -> None:
    checked = read(rows("Shot,Carry (m),Path", [f"{i},150,1,9" for i in range(40)]))
    codes = [p.code for p in checked.problems]
    assert codes.count(Code.SHOTS_ROW_UNEVEN) == 12
    assert checked.problems[-1].code is Code.SHOTS_MORE
    assert checked.problems[-1].facts["count"] == "28"


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", Code.SHOTS_EMPTY),
        (b"Carry (m)\n", Code.SHOTS_EMPTY),
        (b"dear diary\nit rained\n", Code.SHOTS_WITHOUT_HEADINGS),
        (b"\x00\x01\x02\x00\x00\x05PK", Code.SHOTS_NOT_TEXT),
    ],
)
def test_a_file_without_shots_says_so(read: Read, data: bytes, code: Code) -> None:
    checked = read(data)
    assert [p.code for p in checked.problems] == [code]


def test_a_wide_file_with_extreme_cells_stays_finite(read: Read) -> None:
    table = read("Carry (m),Path\n1e400,1\n150,inf\n1e5,2\n").value
    assert table is not None
    assert all(math.isfinite(v) for s in table.shots for v in s.readings.values())
    assert table.shots[2].impossible == RowRule(Check.IMPOSSIBLE, Quantity.CARRY)


def test_rows_of_numbers_above_the_headings_are_not_passed_over_in_silence(read: Read) -> None:
    table = table_of(read("150,1\nCarry (m),Path\n151,2\n"), Code.SHOTS_ROW_NO_SHOT)
    assert column(table, Quantity.CARRY) == [151]


def test_averages_are_known_by_a_club_beside_the_word_or_by_their_numbers(read: Read) -> None:
    table = table_of(read("Club,Carry (m)\n7i,150\n7i Average,150\nPW,110\nAvg (PW),110\n"))
    assert column(table, Quantity.CARRY) == [150, 110]
    table = table_of(read("Shot,Carry (m),Path\n1,150,1\n2,152,3\n,151,2\n"))
    assert [s.number for s in table.shots] == [1, 2]
    assert table.decided == (Decision("line 4", ReadAs.SUMMARY),)
    other = read("Shot,Carry (m),Path\n1,150,1\n2,152,3\n,155,2\n")
    assert len(table_of(other, Code.SHOTS_NUMBERS_REPEAT).shots) == 3


def test_headings_over_several_lines(read: Read) -> None:
    table = table_of(read('"Club\nSpeed\n(mph)","Ball\nSpeed\n(mph)"\n85,118\n86,119\n'))
    assert [s.where.line for s in table.shots] == [6, 7]
    assert column(table, Quantity.BALL_SPEED) == [52.751, 53.198]


def test_shots_of_two_people_are_never_mixed(read: Read) -> None:
    text = "Player,Carry (m)\nA,150\nB,140\n"
    checked = read(text)
    table_of(checked, Code.SHOTS_SEVERAL_PLAYERS)
    assert checked.problems[0].severity is Severity.ERROR
    coach = Coach("Ines Falk", columns=(rule("Player", None),))
    table_of(read(text, coach=coach), Code.SHOTS_SEVERAL_PLAYERS)
    assert len(table_of(read("Player,Carry (m)\nA,150\nA,140\n")).shots) == 2


def test_a_link_out_of_the_lessons_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "elsewhere.csv").write_text("Carry (m)\n150\n", encoding="utf-8")
    lessons = tmp_path / "lessons"
    lessons.mkdir()
    (lessons / "shots.csv").symlink_to(tmp_path / "elsewhere.csv")
    table, problems = read_shots(lessons, (lessons / "shots.csv",), Setting(UNSAID))
    assert table is None
    assert [p.code for p in problems] == [Code.LINK_OUTSIDE]


@pytest.mark.parametrize(
    ("heading", "cells", "expected"),
    [
        ("Carry (yd)", ("1,501", "1,402"), Code.SHOTS_COMMA_OPEN),
        ("Carry (yd)", ("150", "1,501"), Code.SHOTS_COMMA_OPEN),
        ("Carry (m)", ("131,501", "128,250"), [131.501, 128.25]),
        ("Carry (m)", ("150", "131,501"), [150.0, 131.501]),
        ("Smash Factor", ("1,401", "1,385"), [1.401, 1.385]),
        ("Club Path (deg)", ("-2,125", "1,501"), [-2.125, 1.501]),
        ("Ball Speed (km/h)", ("1,501", "1,502"), Code.SHOTS_COMMA_OPEN),
        ("Carry (cm)", ("13,150", "12,825"), [131.5, 128.25]),
        ("Apex (mm)", ("9,500", "8,250"), Code.SHOTS_COMMA_OPEN),
    ],
)
def test_a_comma_is_decimals_or_thousands_only_where_one_can_be(
    read: Read, heading: str, cells: tuple[str, str], expected: Code | list[float]
) -> None:
    lines = [f"Shot,{heading}", *(f'{n},"{cell}"' for n, cell in enumerate(cells, 1))]
    checked = read("\n".join(lines))
    if isinstance(expected, Code):
        table = table_of(checked, expected)
        assert [shot.readings for shot in table.shots] == [{}, {}]
        assert [(shot.other or {}).get(heading) for shot in table.shots] == list(cells)
        return
    table = table_of(checked)
    assert [round(v, 3) for shot in table.shots for v in shot.readings.values()] == expected
    mark = ReadAs.COMMA_THOUSANDS if heading == "Carry (cm)" else ReadAs.COMMA_DECIMALS
    assert Decision(heading, mark) in table.decided
