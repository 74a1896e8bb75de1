"""Times as devices, spreadsheets and messengers write them."""

from datetime import datetime

import pytest

from recapgen.model.problem import Code
from recapgen.model.shots import ReadAs
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


@pytest.mark.parametrize("first", ["46500", "45038"])
def test_days_that_a_spreadsheet_saved_as_numbers_are_of_the_lesson_s_day(
    read: Read, first: str
) -> None:
    rows = f"1,{first}.4375,150\n2,{first}.4380787,151\n"
    table, problems = read(f"Shot,Time,Carry (m)\n{rows}")
    assert problems == ()
    assert table is not None
    assert [str(shot.time) for shot in table.shots] == [
        "2027-04-23 10:30:00",
        "2027-04-23 10:30:50",
    ]
    assert [one.read_as for one in table.decided] == [ReadAs.COUNTED_DAYS]


def test_counts_of_another_day_are_not_guessed_at(read: Read) -> None:
    table, problems = read("Shot,Time,Carry (m)\n1,46512.4,150\n2,46512.5,151\n")
    assert [p.code for p in problems] == [Code.SHOTS_TIMES_UNREADABLE]
    assert table is not None
    assert [shot.time for shot in table.shots] == [None, None]
