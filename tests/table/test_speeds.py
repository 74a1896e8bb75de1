"""A speed without a unit that may be two: told by the columns beside it, or asked."""

import pytest

from recapgen.model.people import Coach
from recapgen.model.problem import Code
from recapgen.model.quantity import Quantity
from tests.table.conftest import COACH, Read
from tests.table.readings import UNSAID, column, lines_offered, rows, table_of

N = range(8)


def mps(read: Read, text: str, coach: Coach = UNSAID, club: str | None = None) -> float | None:
    table = table_of(read(text, coach=coach, club=club))
    return column(table, Quantity.CLUB_SPEED)[0]


@pytest.mark.parametrize(
    ("heading", "lines", "speed"),
    [
        ("Club Speed,Ball Speed (km/h)", [f"{36 + n * 0.2:.1f},{172 + n}" for n in N], 36.0),
        ("Club Speed,Ball Speed (mph)", [f"{85 + n},{113 + n}" for n in N], 37.998),
        ("Club Speed,Smash Factor,Ball Speed (m/s)", ["130,1.33,48"] * 8, 36.111),
        ("Club Speed,Ball Speed,Carry (m)", [f"{130 + n},{173 + n},140" for n in N], 36.111),
        ("Club Speed,Ball Speed,Carry (m)", [f"{85 + n},{113 + n},150" for n in N], 37.998),
        ("Club Speed,Carry (yd)", [f"{100 + n},{225 + n}" for n in N], 44.704),
    ],
)
def test_the_other_columns_settle_it(
    read: Read, heading: str, lines: list[str], speed: float
) -> None:
    assert mps(read, rows(heading, lines)) == speed


def test_the_coachs_own_unit_is_not_believed_against_the_ball(read: Read) -> None:
    text = rows("Club Speed,Ball Speed (m/s)", [f"{130 + n},{48 + n / 2}" for n in N])
    checked = read(text, coach=COACH, club="7 iron")
    table_of(checked, Code.SHOTS_UNIT_OPEN)
    assert lines_offered(checked.problems[0]) == [
        "Club Speed: {is: club speed, unit: km/h}",
        "Club Speed: {is: club speed, unit: mph}",
    ]


def test_the_coachs_own_unit_stays_where_it_fits_or_nothing_tells(read: Read) -> None:
    fits = rows("Club Speed,Ball Speed (m/s)", [f"{85 + n},{50 + n / 2}" for n in N])
    assert mps(read, fits, COACH, "7 iron") == 37.998
    alone = rows("Club Speed", [str(130 + n) for n in N])
    assert mps(read, alone, COACH) == 58.115


def test_where_two_units_fit_it_is_asked(read: Read) -> None:
    text = rows("Club Speed,Carry (m)", [f"{60 + n},{50 + n}" for n in N])
    table_of(read(text, coach=UNSAID), Code.SHOTS_UNIT_OPEN)


def test_a_lob_with_little_smash_keeps_the_coachs_unit(read: Read) -> None:
    text = rows("Club Speed,Ball Speed (mph),Carry (m)", [f"{55 + n},{38 + n},22" for n in N])
    assert mps(read, text, COACH, "lob wedge") == 24.587
