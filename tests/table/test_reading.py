"""What the reader makes of a lesson's files, and what it asks."""

import math
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

import pytest

from recapgen.intake.settings import ROLES
from recapgen.intake.table.reader import read_shots
from recapgen.model.people import Coach, ColumnRule, Hand
from recapgen.model.problem import Checked, Code, Severity
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.shots import Block, ShotTable
from recapgen.model.source import SourceRef
from recapgen.model.units import LengthUnit, SpeedUnit, Units
from tests.table.conftest import Read

UNSAID = Coach("Ines Falk", units_unsaid=(Dimension.SPEED, Dimension.LENGTH))


def table_of(checked: Checked[ShotTable], *expected: Code) -> ShotTable:
    """The table, once the problems are the expected ones."""
    assert [p.code for p in checked.problems] == list(expected), checked.problems
    assert checked.value is not None
    return checked.value


def column(table: ShotTable, quantity: Quantity) -> list[float | None]:
    found = (shot.readings.get(quantity) for shot in table.shots)
    return [None if value is None else round(value, 3) for value in found]


def rule(heading: str, quantity: Quantity | None, **more: str | None) -> ColumnRule:
    return ColumnRule(
        heading,
        quantity,
        more.get("role"),
        more.get("unit"),
        more.get("plus"),
        SourceRef("coach.yml"),
    )


def rows(heading: str, values: Sequence[object]) -> str:
    return "\n".join([heading, *map(str, values)])


def test_a_shot_says_where_it_was_read(read: Read) -> None:
    table = table_of(read("made up\n\nShot,Carry (m)\n7,150\n8,151\n"))
    assert [(s.number, str(s.where)) for s in table.shots] == [
        (7, "marta/2027-04-23/shots 0.csv:4"),
        (8, "marta/2027-04-23/shots 0.csv:5"),
    ]


def test_a_cell_over_several_lines_moves_the_rows_below(read: Read) -> None:
    table = table_of(
        read('Carry (m),Remark\n150,"one\ntwo\nthree"\n151,\n'), Code.SHOTS_COLUMNS_UNKNOWN
    )
    assert [s.where.line for s in table.shots] == [2, 5]
    assert table.shots[0].other == {"Remark": "one\ntwo\nthree"}
    assert table.unknown == ("Remark",)


def test_bare_numbers_take_the_units_of_coach_yml(read: Read) -> None:
    table = table_of(read("Ball Speed,Carry\n120,160\n"))
    assert column(table, Quantity.BALL_SPEED) == [round(120 * 0.44704, 3)]
    assert column(table, Quantity.CARRY) == [round(160 * 0.9144, 3)]
    assert table.decided == ()


def test_the_only_unit_that_is_possible_is_taken_and_recorded(read: Read) -> None:
    table = table_of(read(rows("Apex", [84, 91, 88])))
    assert column(table, Quantity.APEX) == [round(v * 0.3048, 3) for v in (84, 91, 88)]
    assert table.decided == (("Apex", "ft"),)
    table = table_of(read(rows("Smash", [138, 141, 139])))
    assert column(table, Quantity.SMASH_FACTOR) == [1.38, 1.41, 1.39]
    assert table.decided == (("Smash", "%"),)


def test_an_unsaid_unit_is_asked_for_and_the_column_not_read(read: Read) -> None:
    checked = read(rows("Ball Speed,Club Path", ["61,2", "60,1", "62,-3"]), coach=UNSAID)
    table = table_of(checked, Code.SHOTS_UNIT_OPEN)
    assert column(table, Quantity.BALL_SPEED) == [None] * 3
    assert column(table, Quantity.CLUB_PATH) == [2, 1, -3]
    problem = checked.problems[0]
    assert problem.severity is Severity.WARNING
    assert problem.facts["lines"] == (
        "Ball Speed: {is: ball speed, unit: mph}” or “"
        "Ball Speed: {is: ball speed, unit: km/h}” or “"
        "Ball Speed: {is: ball speed, unit: m/s}"
    )
    assert (problem.where.line, problem.where.column) == (1, 1)
    assert table.shots[0].other == {"Ball Speed": "61"}


def test_a_unit_of_another_kind_is_refused(read: Read) -> None:
    table = table_of(read("Carry (mph),Path\n150,1\n"), Code.SHOTS_UNIT_MISFIT)
    assert column(table, Quantity.CARRY) == [None]


def test_units_in_cells_are_converted_one_by_one(read: Read) -> None:
    table = table_of(read('Ball Speed,Apex\n120 mph,27 m\n200 km/h,"88\' 6"""\n'))
    assert column(table, Quantity.BALL_SPEED) == [53.645, 55.556]
    assert column(table, Quantity.APEX) == [27, round(88.5 * 0.3048, 3)]


@pytest.mark.parametrize(
    ("cells", "expected"),
    [
        (["2.1 R", "0.4 L", "0.0"], [2.1, -0.4, 0]),
        (["R2.1", "L0.4", "R0"], [2.1, -0.4, 0]),
        (["2.1 right", "left 0.4", "square"], [2.1, -0.4, 0]),
        (["2.1° R", "0.4°L", "0°"], [2.1, -0.4, 0]),
        (["−2.1", "+0.4", "- 1"], [-2.1, 0.4, -1]),
        (["-2.1 L", "1.2 deg R", ""], [-2.1, 1.2, None]),
    ],
)
def test_sides(read: Read, cells: list[str], expected: list[float | None]) -> None:
    table = table_of(read(rows("Shot,Path", [f"{i},{c}" for i, c in enumerate(cells, 1)])))
    assert column(table, Quantity.CLUB_PATH) == expected


def test_a_minus_that_contradicts_its_side_is_not_read(read: Read) -> None:
    table = table_of(read(rows("Path", ["-2.1 R", "1.0 R"])), Code.SHOTS_CELL_UNREADABLE)
    assert column(table, Quantity.CLUB_PATH) == [None, 1]


def test_a_heading_may_say_what_plus_means(read: Read) -> None:
    table = table_of(
        read(rows("Path (+ = left),Face (+R/-L),Attack (down +)", ["2,1,3", "-1,-2,4"]))
    )
    assert column(table, Quantity.CLUB_PATH) == [-2, 1]
    assert column(table, Quantity.FACE_ANGLE) == [1, -2]
    assert column(table, Quantity.ATTACK_ANGLE) == [-3, -4]


@pytest.mark.parametrize(("hand", "sign"), [(Hand.RIGHT, 1.0), (Hand.LEFT, -1.0)])
def test_a_column_in_the_players_terms_is_turned_for_the_hand(
    read: Read, hand: Hand, sign: float
) -> None:
    coach = Coach("Ines Falk", columns=(rule("Path", Quantity.CLUB_PATH, plus="in-to-out"),))
    table = table_of(read("Path\n3\n-1\n", coach=coach, hand=hand))
    assert column(table, Quantity.CLUB_PATH) == [3 * sign, -1 * sign]
    table = table_of(read("Path\n3\n-1\n", coach=coach), Code.SHOTS_HAND_NEEDED)
    assert column(table, Quantity.CLUB_PATH) == [None, None]


def test_columns_of_magnitudes_are_asked_about(read: Read) -> None:
    cells = ["2,1", "1,3", "4,0.5", "2,2", "1,1"]
    checked = read(rows("Path,Face", cells))
    table = table_of(checked, Code.SHOTS_SIDE_OPEN, Code.SHOTS_SIDE_OPEN)
    assert column(table, Quantity.CLUB_PATH) == [None] * 5
    assert "Path: {is: club path, unit: deg, plus: left}" in checked.problems[0].facts["lines"]
    one = table_of(read(rows("Path,Spin", ["2,6000"] * 5)))
    assert column(one, Quantity.CLUB_PATH) == [2] * 5


def test_a_column_that_runs_against_the_others_is_asked_about(read: Read) -> None:
    cells = [f"{p},{f},{p - f}" for p, f in ((3, -1), (-2, 2), (4, 0), (1, -3), (-4, 1), (2, -2))]
    checked = read(rows("Path,Face,Face to Path", cells))
    table = table_of(checked, Code.SHOTS_SIDE_OPEN)
    assert checked.problems[0].facts["heading"] == "Face to Path"
    assert column(table, Quantity.CLUB_PATH) == [3, -2, 4, 1, -4, 2]
    coach = Coach("Ines Falk", columns=(rule("Face to Path", Quantity.FACE_TO_PATH, plus="left"),))
    table = table_of(read(rows("Path,Face,Face to Path", cells), coach=coach))
    assert column(table, Quantity.FACE_TO_PATH) == [-4, 4, -4, -4, 5, -4]


def test_a_loose_heading_is_settled_by_what_is_left_over_or_asked_about(read: Read) -> None:
    table = table_of(read(rows("Carry Side (m),Offline (m)", ["2,3", "-1,-2"])))
    assert column(table, Quantity.TOTAL_SIDE) == [3, -2]
    assert table.decided == (("Offline (m)", "total side"),)
    checked = read(rows("Offline (m)", [3, -2]))
    table = table_of(checked, Code.SHOTS_COLUMN_LOOSE)
    assert checked.problems[0].facts["lines"] == (
        '"Offline (m)": carry side” or “"Offline (m)": total side'
    )


def test_two_columns_for_one_number(read: Read) -> None:
    table = table_of(read("Carry (yd),Carry Dist (m)\n100,91.4\n110,100.6\n"))
    assert table.decided == (("Carry Dist (m)", "= Carry (yd)"),)
    checked = read("Carry (m),Carry Flat (m)\n100,104\n110,113\n")
    table = table_of(checked, Code.SHOTS_COLUMN_TWICE)
    assert column(table, Quantity.CARRY) == [None, None]
    coach = Coach("Ines Falk", columns=(rule("Carry Flat", None),))
    table = table_of(read("Carry (m),Carry Flat (m)\n100,104\n110,113\n", coach=coach))
    assert column(table, Quantity.CARRY) == [100, 110]


def test_a_rule_goes_before_the_heading(read: Read) -> None:
    coach = Coach(
        "Ines Falk",
        units=Units(SpeedUnit.KMH, LengthUnit.METRE),
        columns=(
            rule("zoom", Quantity.BALL_SPEED, unit="mph"),
            rule("Path", Quantity.CLUB_PATH, plus="left"),
            rule("Strike", None, role=ROLES["tag"]),
            rule("remarks", None),
        ),
    )
    table = table_of(read("Zoom,PATH,strike,Remarks\n120,2,heel,x\n", coach=coach))
    assert column(table, Quantity.BALL_SPEED) == [53.645]
    assert column(table, Quantity.CLUB_PATH) == [-2]
    assert table.shots[0].tag == "heel"
    assert table.shots[0].other == {"Remarks": "x"}


def test_a_misspelt_heading_is_pointed_out(read: Read) -> None:
    checked = read("Carry (m),Bal Sped\n150,120\n")
    table = table_of(checked, Code.SHOTS_COLUMN_MISSPELT)
    assert checked.problems[0].facts["nearest"] == "ball speed"
    assert checked.problems[0].facts["lines"].startswith("Bal Sped: ball speed” or “")
    assert table.unknown == ("Bal Sped",)


def test_missing_readings_are_missing_not_nought(read: Read) -> None:
    cells = ["150", "", "-", "--", "n/a", "NaN", "null", "–", "#N/A"]
    table = table_of(read(rows("Shot,Carry (m)", [f"{i},{c}" for i, c in enumerate(cells, 1)])))
    assert column(table, Quantity.CARRY) == [150] + [None] * 8
    table = table_of(read("Shot,Club Speed (mph),Spin\n1,85,0\n2,0,0\n3,84,0\n"))
    assert column(table, Quantity.CLUB_SPEED)[1] is None
    assert column(table, Quantity.SPIN_RATE) == [None] * 3
    assert ("Spin", "0 = not read") in table.decided


def test_an_unreadable_cell_costs_its_reading(read: Read) -> None:
    checked = read("Shot,Carry (m),Path\n1,150,2\n2,far,1\n")
    table = table_of(checked, Code.SHOTS_CELL_UNREADABLE)
    assert (checked.problems[0].where.line, checked.problems[0].where.column) == (3, 3)
    assert table.shots[1].readings == {Quantity.CLUB_PATH: 1}


def test_a_row_with_too_many_cells_is_left_out_and_shown(read: Read) -> None:
    checked = read("Shot,Carry (m),Path\n1,150,2\n2,151,5,2\n3,152\n")
    table = table_of(checked, Code.SHOTS_ROW_UNEVEN)
    assert [(s.number, s.impossible) for s in table.shots] == [
        (1, None), (2, "row-uneven"), (3, None),
    ]  # fmt: skip
    assert table.shots[1].readings == {}
    assert (checked.problems[0].where.line, checked.problems[0].where.column) == (3, 9)


def test_an_impossible_row_is_named(read: Read) -> None:
    checked = read("Shot,Club Speed (mph),Ball Speed (mph)\n1,85,118\n2,85,300\n3,84,140\n")
    table = table_of(checked, Code.SHOTS_ROW_IMPOSSIBLE, Code.SHOTS_ROW_IMPOSSIBLE)
    assert [s.impossible for s in table.shots] == [
        None,
        "impossible-ball-speed",
        "smash-over-ceiling",
    ]
    assert checked.problems[0].facts["rule"] == "impossible ball speed: 300 mph"


def test_an_impossible_reading_is_told_as_it_was_written(read: Read) -> None:
    checked = read("Shot,Carry (yd),Apex\n1,-5,30 ft\n2,100000,30 ft\n3,150,1e3 yd\n")
    assert [p.facts["rule"] for p in checked.problems if "rule" in p.facts] == [
        "impossible carry: -5 yd",
        "impossible carry: 100000 yd",
        "impossible apex: 1e3 yd",
    ]


def test_averages_and_remarks_are_no_shots(read: Read) -> None:
    checked = read(
        "Shot,Club,Carry (m)\n1,7i,150\n2,7i,152\n"
        "Average,7i,151\n\n,Std. Dev.,1.4\nDone for today\n"
    )
    table = table_of(checked, Code.SHOTS_ROW_NO_SHOT)
    assert [s.number for s in table.shots] == [1, 2]
    assert table.decided == (("Average", "not a shot"), ("Std. Dev.", "not a shot"))
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
    assert checked.problems[0].facts["lines"] == (
        "Date: {is: time, unit: day first}” or “Date: {is: time, unit: month first}"
    )


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


def test_many_faults_of_a_kind_are_capped_and_counted(read: Read) -> None:
    checked = read(rows("Shot,Carry (m),Path", [f"{i},far,1" for i in range(40)]))
    codes = [p.code for p in checked.problems]
    assert codes.count(Code.SHOTS_CELL_UNREADABLE) == 12
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
    assert table.shots[2].impossible == "impossible-carry"


def test_rows_of_numbers_above_the_headings_are_not_passed_over_in_silence(read: Read) -> None:
    table = table_of(read("150,1\nCarry (m),Path\n151,2\n"), Code.SHOTS_ROW_NO_SHOT)
    assert column(table, Quantity.CARRY) == [151]


def test_averages_are_known_by_a_club_beside_the_word_or_by_their_numbers(read: Read) -> None:
    table = table_of(read("Club,Carry (m)\n7i,150\n7i Average,150\nPW,110\nAvg (PW),110\n"))
    assert column(table, Quantity.CARRY) == [150, 110]
    table = table_of(read("Shot,Carry (m),Path\n1,150,1\n2,152,3\n,151,2\n"))
    assert [s.number for s in table.shots] == [1, 2]
    assert table.decided == (("line 4", "not a shot"),)
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
    assert len(table_of(read(text, coach=coach)).shots) == 2
    assert len(table_of(read("Player,Carry (m)\nA,150\nA,140\n")).shots) == 2


def test_a_link_out_of_the_lessons_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "elsewhere.csv").write_text("Carry (m)\n150\n", encoding="utf-8")
    lessons = tmp_path / "lessons"
    lessons.mkdir()
    (lessons / "shots.csv").symlink_to(tmp_path / "elsewhere.csv")
    table, problems = read_shots(lessons, (lessons / "shots.csv",), UNSAID, None)
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
    mark = "thousands" if heading == "Carry (cm)" else "decimals"
    assert (heading, f"“,” = {mark}") in table.decided
