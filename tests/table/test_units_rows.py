"""A row of units below the headings: whatever else is in it, its units count and it is no shot."""

import pytest

from recapgen.model.quantity import Quantity
from tests.table.conftest import Read

HEADINGS = "No.;Club;Ball Speed;Club Speed;Spin Rate;Carry;Smash Factor"
SHOTS = "".join(
    f"{n};7 iron;{170 + n},2;{128 + n},8;{6200 + n};{131 + n},4;1,33\n" for n in range(1, 9)
)


@pytest.mark.parametrize(
    ("spin", "smash"),
    [
        ("rpm", "-"), ("rpm", ""), ("1/min", ""), ("1/min", "-"), ("-", "-"), ("-", ""),
        ("x", ""), ("/min", ""), ("rpm", "ratio"), ("per minute", ""),
    ],
)  # fmt: skip
def test_its_units_count_and_it_is_no_shot(spin: str, smash: str, read: Read) -> None:
    row = f";;km/h;km/h;{spin};m;{smash}"
    table, _ = read(f"{HEADINGS}\n{row}\n{SHOTS}")
    assert table is not None
    assert [shot.number for shot in table.shots] == list(range(1, 9))
    assert table.shots[0].readings[Quantity.CARRY] == pytest.approx(132.4)
    assert table.shots[0].readings[Quantity.BALL_SPEED] == pytest.approx(171.2 / 3.6)
