"""What the reader makes of a lesson's files, and what it asks."""

import pytest

from recapgen.intake.settings import ROLES
from recapgen.model.people import Coach, Hand
from recapgen.model.problem import Code, Severity
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import Check, RowRule
from recapgen.model.shots import Decision, ReadAs
from recapgen.model.units import LengthUnit, SpeedUnit, Units
from tests.table.conftest import Read
from tests.table.readings import UNSAID, column, lines_offered, rows, rule, table_of


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


def test_what_is_read_from_clips_is_never_read_from_a_table(read: Read) -> None:
    table = table_of(read("Carry (m),Travel across\n150,0.4\n"), Code.SHOTS_COLUMNS_UNKNOWN)
    assert (table.unknown, list(table.shots[0].readings)) == (("Travel across",), [Quantity.CARRY])


def test_bare_numbers_take_the_units_of_coach_yml(read: Read) -> None:
    table = table_of(read("Ball Speed,Carry\n120,160\n"))
    assert column(table, Quantity.BALL_SPEED) == [round(120 * 0.44704, 3)]
    assert column(table, Quantity.CARRY) == [round(160 * 0.9144, 3)]
    assert table.decided == ()


def test_the_only_unit_that_is_possible_is_taken_and_recorded(read: Read) -> None:
    table = table_of(read(rows("Apex", [84, 91, 88])))
    assert column(table, Quantity.APEX) == [round(v * 0.3048, 3) for v in (84, 91, 88)]
    assert table.decided == (Decision("Apex", ReadAs.UNIT, "ft"),)
    table = table_of(read(rows("Smash", [138, 141, 139])))
    assert column(table, Quantity.SMASH_FACTOR) == [1.38, 1.41, 1.39]
    assert table.decided == (Decision("Smash", ReadAs.UNIT, "%"),)


def test_an_unsaid_unit_is_asked_for_and_the_column_not_read(read: Read) -> None:
    checked = read(rows("Ball Speed,Club Path", ["61,2", "60,1", "62,-3"]), coach=UNSAID)
    table = table_of(checked, Code.SHOTS_UNIT_OPEN)
    assert column(table, Quantity.BALL_SPEED) == [None] * 3
    assert column(table, Quantity.CLUB_PATH) == [2, 1, -3]
    problem = checked.problems[0]
    assert problem.severity is Severity.WARNING
    assert lines_offered(problem) == [
        "Ball Speed: {is: ball speed, unit: mph}",
        "Ball Speed: {is: ball speed, unit: km/h}",
        "Ball Speed: {is: ball speed, unit: m/s}",
    ]
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
    assert lines_offered(checked.problems[0]) == [
        "Path: {is: club path, unit: deg, plus: right, beside: [Face]}",
        "Path: {is: club path, unit: deg, plus: left, beside: [Face]}",
        "Path: ignore",
    ]
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
    assert table.decided == (
        Decision("Offline (m)", ReadAs.QUANTITY, quantity=Quantity.TOTAL_SIDE),
    )
    checked = read(rows("Offline (m)", [3, -2]))
    table = table_of(checked, Code.SHOTS_COLUMN_LOOSE)
    assert lines_offered(checked.problems[0]) == [
        "Offline (m): carry side", "Offline (m): total side",
    ]  # fmt: skip


def test_two_columns_for_one_number(read: Read) -> None:
    table = table_of(read("Carry (yd),Carry Dist (m)\n100,91.4\n110,100.6\n"))
    assert table.decided == (Decision("Carry Dist (m)", ReadAs.SAME, "Carry (yd)"),)
    checked = read("Carry (m),Carry Length (m)\n100,104\n110,113\n")
    table = table_of(checked, Code.SHOTS_COLUMN_TWICE)
    assert column(table, Quantity.CARRY) == [None, None]
    coach = Coach("Ines Falk", columns=(rule("Carry Length", None),))
    table = table_of(read("Carry (m),Carry Length (m)\n100,104\n110,113\n", coach=coach))
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
    assert lines_offered(checked.problems[0]) == ["Bal Sped: ball speed", "Bal Sped: ignore"]
    assert table.unknown == ("Bal Sped",)


def test_missing_readings_are_missing_not_nought(read: Read) -> None:
    cells = ["150", "", "-", "--", "n/a", "NaN", "null", "–", "#N/A"]
    table = table_of(read(rows("Shot,Carry (m)", [f"{i},{c}" for i, c in enumerate(cells, 1)])))
    assert column(table, Quantity.CARRY) == [150] + [None] * 8
    table = table_of(read("Shot,Club Speed (mph),Spin\n1,85,0\n2,0,0\n3,84,0\n"))
    assert column(table, Quantity.CLUB_SPEED)[1] is None
    assert column(table, Quantity.SPIN_RATE) == [None] * 3
    assert Decision("Spin", ReadAs.NOUGHTS) in table.decided


def test_an_unreadable_cell_costs_its_reading(read: Read) -> None:
    checked = read("Shot,Carry (m),Path\n1,150,2\n2,far,1\n")
    table = table_of(checked, Code.SHOTS_CELL_UNREADABLE)
    assert (checked.problems[0].where.line, checked.problems[0].where.column) == (3, 3)
    assert table.shots[1].readings == {Quantity.CLUB_PATH: 1}


def test_a_row_with_too_many_cells_is_left_out_and_shown(read: Read) -> None:
    checked = read("Shot,Carry (m),Path\n1,150,2\n2,151,5,2\n3,152\n")
    table = table_of(checked, Code.SHOTS_ROW_UNEVEN)
    assert [(s.number, s.impossible) for s in table.shots] == [
        (1, None), (2, RowRule(Check.ROW_UNEVEN)), (3, None),
    ]  # fmt: skip
    assert table.shots[1].readings == {}
    assert (checked.problems[0].where.line, checked.problems[0].where.column) == (3, 9)


def test_an_impossible_row_is_named(read: Read) -> None:
    checked = read("Shot,Club Speed (mph),Ball Speed (mph)\n1,85,118\n2,85,300\n3,84,140\n")
    table = table_of(checked, Code.SHOTS_ROW_IMPOSSIBLE, Code.SHOTS_ROW_IMPOSSIBLE)
    assert [s.impossible for s in table.shots] == [
        None,
        RowRule(Check.IMPOSSIBLE, Quantity.BALL_SPEED),
        RowRule(Check.SMASH_OVER_CEILING),
    ]
    assert checked.problems[0].facts["reading"] == "300 mph"


def test_an_impossible_reading_is_told_as_it_was_written(read: Read) -> None:
    checked = read("Shot,Carry (yd),Apex\n1,-5,30 ft\n2,100000,30 ft\n3,150,1e3 yd\n")
    assert [(p.rule, p.facts["reading"]) for p in checked.problems if p.rule is not None] == [
        (RowRule(Check.IMPOSSIBLE, Quantity.CARRY), "-5 yd"),
        (RowRule(Check.IMPOSSIBLE, Quantity.CARRY), "100000 yd"),
        (RowRule(Check.IMPOSSIBLE, Quantity.APEX), "1e3 yd"),
    ]
