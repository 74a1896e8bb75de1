"""Cells that are no numbers: a number that rests on too few readable ones is not judged."""

import pytest

from recapgen.model.problem import Code, Cost
from recapgen.model.quantity import Quantity
from tests.table.conftest import Read
from tests.table.readings import column, lines_offered, rows, table_of

NUMBERS = frozenset({Quantity.ATTACK_ANGLE})
PLAIN = ("-3.1", "-2.8", "-3.4", "-2.2", "-3.9", "-2.7", "-3.3", "-2.9", "-3.6")
DATES = ("04. Mrz", "2027-03-04", "03.04.2027", "4-Mar", "Mär 14", "1-févr", "3月4日", "Abr 03")


def numbered(cells: list[str]) -> str:
    return rows("Shot,Attack Angle (deg)", [f"{n},{cell}" for n, cell in enumerate(cells, 1)])


def test_numbers_that_became_dates_are_one_problem_and_hold_the_lesson(read: Read) -> None:
    cells = [*PLAIN, *DATES]
    checked = read(rows("Attack Angle (deg)", cells), numbers=NUMBERS)
    table = table_of(checked, Code.SHOTS_NUMBERS_AS_DATES)
    (problem,) = checked.problems
    assert problem.cost is Cost.STUDENT
    assert (problem.facts["cells"], problem.facts["filled"]) == ("8", "17")
    assert (problem.where.line, problem.facts["found"]) == (11, "04. Mrz")
    assert column(table, Quantity.ATTACK_ANGLE)[9:] == [None] * 8


@pytest.mark.parametrize("cell", DATES)
def test_each_kind_of_date_is_known(read: Read, cell: str) -> None:
    checked = read(rows("Attack Angle (deg)", [*PLAIN[:5], cell]), numbers=NUMBERS)
    assert [p.code for p in checked.problems] == [Code.SHOTS_NUMBERS_AS_DATES]


def test_more_than_a_tenth_without_a_reading_that_can_be_read_is_not_judged(read: Read) -> None:
    checked = read(numbered([*PLAIN, "err 4", "err 4"]), numbers=NUMBERS)
    table_of(checked, Code.SHOTS_CELLS_UNREADABLE)
    assert checked.problems[0].cost is Cost.STUDENT


def test_up_to_a_tenth_costs_the_readings_alone(read: Read) -> None:
    checked = read(numbered([*PLAIN, "err 4"]), numbers=NUMBERS)
    table_of(checked, Code.SHOTS_CELL_UNREADABLE)
    assert checked.problems[0].cost is Cost.NOTHING


def test_a_column_that_nothing_rests_on_is_one_remark(read: Read) -> None:
    cells = [f"{path},150" for path in (*PLAIN, *DATES)]
    checked = read(rows("Club Path (deg),Carry (m)", cells), numbers=frozenset({Quantity.CARRY}))
    table_of(checked, Code.SHOTS_NUMBERS_AS_DATES)
    assert checked.problems[0].cost is Cost.NOTHING


def test_missing_readings_are_not_unreadable(read: Read) -> None:
    table_of(read(numbered([*PLAIN, "-", "n/a", "--"]), numbers=NUMBERS))


def test_columns_whose_cells_say_what_they_are_are_not_offered_to_be_passed_over(
    read: Read,
) -> None:
    told = ["150,7i,28/11/2026 10:02:39 AM,heel,5", "151,Dr,28/11/2026 10:03:11 AM,toe,6"]
    checked = read(rows("Carry (m),Stick,Moment,Mood,Rank", told))
    table_of(checked, Code.SHOTS_COLUMNS_UNKNOWN)
    assert lines_offered(checked.problems[0]) == [
        "Stick: club; Moment: time; Mood: ignore; Rank: ignore"
    ]
