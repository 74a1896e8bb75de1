"""Times as devices, spreadsheets and messengers write them."""

from datetime import datetime

import pytest

from recapgen.model.problem import Code
from tests.table.conftest import Read
from tests.table.readings import rows, table_of


@pytest.mark.parametrize(
    ("cell", "clock"),
    [
        ("[11.04.27, 10:42:13]", "10:42:13"),
        ("[11.04.27, 10:42:13]:", "10:42:13"),
        ("\u200e[11.04.27, 10:42:13]", "10:42:13"),
        ("11.04.27, 10:42 -", "10:42:00"),
        ("10:42 Uhr", "10:42:00"),
        ("11.04.2027, 10.42 Uhr", "10:42:00"),
        ("10:42\u202fPM", "22:42:00"),
        ("4/11/27, 10:42\u202fAM", "10:42:00"),
        ("10:42\u00a0p.\u00a0m.", "22:42:00"),
        ("10:42 a. m.", "10:42:00"),
        ("10 h 42", None),
        ("10h42", "10:42:00"),
        ("10:42 h", "10:42:00"),
        ("午後10:42", "22:42:00"),
        ("2027年4月11日 10時42分13秒", None),
        ("오전 10:42", "10:42:00"),
        ("오후 10시 42분", "22:42:00"),
        ("10時42分", "10:42:00"),
        ("１０：４２", "10:42:00"),
    ],
)
def test_times_pasted_from_elsewhere_are_read_or_told(
    read: Read, cell: str, clock: str | None
) -> None:
    text = rows("Shot;Time;Carry (m)", [f"1;{cell};150", f"2;{cell};151"])
    checked = read(text, day="2027-04-11")
    if clock is None:
        table = table_of(checked, Code.SHOTS_TIMES_UNREADABLE)
        assert table.shots[0].time is None
        return
    table = table_of(checked)
    assert table.shots[0].time == datetime.fromisoformat(f"2027-04-11T{clock}")


def test_one_time_in_many_that_cannot_be_read_is_told(read: Read) -> None:
    text = rows("Shot,Time,Carry (m)", ["1,10:01,150", "2,late,151", "3,10:03,152"])
    checked = read(text)
    table_of(checked, Code.SHOTS_TIMES_UNREADABLE)
    assert (checked.problems[0].where.line, checked.problems[0].facts["cells"]) == (3, "1")
