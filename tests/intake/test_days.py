from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.intake.days import DayFault, read_day


@pytest.mark.parametrize(
    "text",
    [
        "2027-04-11", "2027/4/11", "2027-04-11T10:12", "11 April 2027", "11 apr 2027",
        "April 11, 2027", "Apr. 11 2027", "11th April 2027", "11.4.2027", "11.04.2027",
        " 11  APRIL  2027 ", "11-Apr-2027",
    ],
)  # fmt: skip
def test_the_ways_to_write_a_day(text: str) -> None:
    assert read_day(text) == date(2027, 4, 11)


@pytest.mark.parametrize("text", ["25/4/2027", "4/25/2027", "25-04-2027"])
def test_a_day_over_twelve_settles_the_order(text: str) -> None:
    assert read_day(text) == date(2027, 4, 25)


@pytest.mark.parametrize("text", ["3/4/2027", "03-04-2027"])
def test_a_day_that_could_be_a_month_is_not_guessed(text: str) -> None:
    assert read_day(text) is DayFault.AMBIGUOUS


def test_the_same_number_twice_is_not_ambiguous() -> None:
    assert read_day("4/4/2027") == date(2027, 4, 4)


@pytest.mark.parametrize(
    "text", ["2027-02-30", "31 April 2027", "13/13/2027", "0.4.2027", "2027-13-01"]
)
def test_days_that_are_in_no_calendar(text: str) -> None:
    assert read_day(text) is DayFault.IMPOSSIBLE


@pytest.mark.parametrize("text", ["", "soon", "11.4.27", "11 Avril 2027", "2027", "Ma 3 2027"])
def test_what_is_no_day(text: str) -> None:
    assert read_day(text) is DayFault.UNREADABLE


@given(st.dates(min_value=date(1900, 1, 1), max_value=date(2200, 12, 31)))
def test_every_day_is_read_back(day: date) -> None:
    named = f"{day.day} {day:%B} {day.year}"
    assert read_day(day.isoformat()) == read_day(named) == day
    assert read_day(f"{day.day}.{day.month}.{day.year}") == day
