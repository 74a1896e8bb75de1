"""What comes out as nothing is told in words: no side of zero metres, no wind from nowhere."""

from datetime import date

from msgspec.structs import replace

from recapgen.model.evidence import Circle, DispersionChange, Interval, Kept, Retention
from recapgen.model.lesson import Conditions, Wind
from recapgen.model.quantity import Quantity
from recapgen.render.cases_site import what_stuck
from recapgen.render.charts.dispersion_chart import dispersion_sentence
from recapgen.render.shots_view import conditions_told
from tests.render.pictures_fixture import READER

NARROW = "\u202f"  # the blank between an amount and its unit
AFTER = Circle(12, 40.3, 0.9, 2.1, None)


def test_a_middle_on_the_line_has_no_side() -> None:
    before = Circle(10, 30.4, 0.01, 2.4, None)
    told = dispersion_sentence(DispersionChange(before, AFTER), READER).replace(NARROW, " ")
    assert "30.4 m out and on the target line, and half" in told
    assert "40.3 m out and 0.9 m right, and half" in told


def test_still_air_comes_from_nowhere() -> None:
    windy = Conditions(wind=Wind(3.0, 250.0, 2.0))
    still = replace(windy, wind=Wind(0.0, 0.0, 10.0))
    assert [fact.value for fact in conditions_told(still, READER)] == ["no wind"]
    assert "250°" in conditions_told(windy, READER)[0].value


def test_a_case_of_which_nothing_stuck_says_so() -> None:
    faded = Retention(
        Quantity.CARRY,
        date(2027, 4, 11),
        date(2027, 4, 25),
        gained=2.8,
        still_there=-0.4,
        share80=Interval(0.0, 0.3),
        kept=Kept.FADED,
    )
    told = what_stuck(faded, READER)[0].replace(NARROW, " ")
    assert told == "The gain was 2.8 m. At the start of the next lesson, we saw none of it."
