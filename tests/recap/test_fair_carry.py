"""Carries when the air changed between the blocks: made fair with its error, or nothing claimed."""

from collections.abc import Sequence
from datetime import date
from math import hypot
from pathlib import Path
from statistics import median

import pytest
from msgspec.structs import replace

from recapgen.golf.clubs import Family
from recapgen.model.carry import Withheld
from recapgen.model.evidence import Comparison, Hidden, Verdict
from recapgen.model.lesson import (
    Conditions,
    Declaration,
    Direction,
    Lesson,
    Notes,
    Want,
    Wind,
    conditions_in,
)
from recapgen.model.people import Club, Student
from recapgen.model.practice_log import PracticeLog
from recapgen.model.quantity import Quantity
from recapgen.model.recap import Recap
from recapgen.model.shots import Block, Shot, ShotStatus, ShotTable, SortedShot
from recapgen.model.source import SourceRef
from recapgen.model.units import LengthUnit, SpeedUnit, Units
from recapgen.recap.lesson_recaps import PreparedLesson, recap_lessons
from recapgen.words.catalogue import key_of, words
from recapgen.words.verdict_sentences import tell_comparison
from tests.golf.standard_air import in_standard_air

WHERE = SourceRef("anna/2027-04-11/notes.md", 3, 1)
DAY = Conditions(temperature_c=15.0, altitude_m=90.0, target_deg=70.0)
SCATTER = (-3.0, 2.0, 0.5, -1.0, 3.0, -2.0, 1.0, -0.5, 1.5, -1.5)
METRES = Units(SpeedUnit.MPS, LengthUnit.METRE)


def wind(mps: float, from_deg: float) -> Wind:
    return Wind(mps, from_deg, 2.0)


def in_blocks(before: Wind | None, after: Wind | None, base: Conditions = DAY) -> Conditions:
    return replace(
        base,
        blocks=(
            (Block.BEFORE, replace(base, wind=before)),
            (Block.AFTER, replace(base, wind=after)),
        ),
    )


def shots(before_m: float, after_m: float, *, launched: bool = True) -> tuple[SortedShot, ...]:
    launch = (
        {Quantity.BALL_SPEED: 51.4, Quantity.LAUNCH_ANGLE: 16.3, Quantity.SPIN_RATE: 7097.0}
        if launched
        else {}
    )
    told: list[SortedShot] = []
    for block, middle in ((Block.BEFORE, before_m), (Block.AFTER, after_m)):
        for off in SCATTER:
            number = len(told) + 1
            readings = {**launch, Quantity.CARRY: middle + off, Quantity.DYNAMIC_LOFT: 24.0}
            told.append(
                SortedShot(Shot(number, WHERE, readings, block, "7 iron"), block, ShotStatus.USED)
            )
    return tuple(told)


def told(
    conditions: Conditions,
    hit: Sequence[SortedShot],
    number: Quantity = Quantity.CARRY,
    clubs: tuple[Club, ...] = (),
) -> Recap:
    declaration = Declaration(number, Want(Direction.HIGHER), 2.0, None, stated=True, where=WHERE)
    notes = Notes(WHERE, "", club="7 iron", declaration=declaration, conditions=conditions)
    table = ShotTable(tuple(s.shot for s in hit), ("shots.csv",))
    lesson = Lesson(
        "2027-04-11", date(2027, 4, 11), Path("anna"), WHERE, notes, None, None, table, ()
    )
    prepared = PreparedLesson(lesson, (), "page.html", None)
    student = Student("anna", "Anna", clubs=clubs)
    (recap,) = recap_lessons(student, [prepared], PracticeLog(), {}, 90.0)
    return recap


def compared(conditions: Conditions, hit: Sequence[SortedShot]) -> Comparison:
    comparison = told(conditions, hit).number.comparison
    assert comparison is not None
    return comparison


def test_a_following_wind_is_not_taken_for_a_gain() -> None:
    """Ten metres more, all of them the wind's."""
    hit = shots(132.0, 142.0)
    raw = compared(DAY, hit)
    fair = compared(in_blocks(wind(2.0, 70.0), wind(2.0, 250.0)), hit)
    assert (raw.verdict, raw.air) == (Verdict.CHANGED, None)
    assert fair.verdict not in (Verdict.CHANGED, Verdict.PROBABLY)
    assert fair.air is not None
    assert (fair.air.before_read_m, fair.air.after_read_m) == pytest.approx((132.0, 142.0), abs=0.5)
    assert fair.air.before_m == fair.before.median
    assert fair.air.before_m is not None
    assert fair.air.after_m is not None
    assert fair.air.after_m - fair.air.before_m < 4.0


def test_a_gain_against_the_wind_is_still_seen() -> None:
    comparison = compared(in_blocks(wind(1.5, 250.0), wind(1.5, 70.0)), shots(132.0, 150.0))
    assert comparison.verdict in (Verdict.CHANGED, Verdict.PROBABLY)
    assert comparison.air is not None
    assert comparison.air.withheld is None


def test_the_range_is_wider_by_the_error_of_both_corrections() -> None:
    conditions = in_blocks(wind(2.0, 70.0), wind(1.0, 250.0))
    hit = shots(132.0, 142.0)
    comparison = compared(conditions, hit)
    sds = []
    for block in (Block.BEFORE, Block.AFTER):
        here = [s.shot.readings for s in hit if s.block is block]
        carry = in_standard_air(here, conditions_in(conditions, block, 90.0), Family.IRON)
        assert carry.factor_sd is not None
        sds.append(carry.factor_sd * median(r[Quantity.CARRY] for r in here))
    assert comparison.air is not None
    assert comparison.air.sd_m == pytest.approx(hypot(*sds))
    assert comparison.good is not None
    assert comparison.as_read is not None
    exact = comparison.as_read.ci90
    below = 1.15 * (comparison.as_read.estimate - exact.low)
    reach = comparison.good.estimate - comparison.good.ci90.low
    assert reach == pytest.approx(hypot(below, 1.6449 * comparison.air.sd_m), rel=1e-3)


@pytest.mark.parametrize(
    ("before", "after", "base", "launched", "why"),
    [
        (wind(8.0, 70.0), wind(0.0, 0.0), DAY, True, Withheld.TOO_WINDY),
        (wind(2.0, 70.0), wind(0.0, 0.0), DAY, False, Withheld.LAUNCH_UNKNOWN),
        (wind(2.0, 70.0), wind(0.0, 0.0), replace(DAY, target_deg=None), True,
         Withheld.TARGET_UNKNOWN),
        (wind(2.0, 70.0), wind(0.0, 0.0), replace(DAY, temperature_c=None), True,
         Withheld.AIR_UNKNOWN),
    ],
)  # fmt: skip
def test_where_the_air_hides_it_nothing_is_claimed_and_the_reason_said(
    before: Wind, after: Wind, base: Conditions, why: Withheld, *, launched: bool
) -> None:
    comparison = compared(in_blocks(before, after, base), shots(120.0, 142.0, launched=launched))
    assert comparison.air is not None
    assert comparison.air.withheld is why
    assert comparison.verdict is Verdict.TOO_EARLY
    assert (comparison.air.before_m, comparison.air.after_m) == (None, None)
    assert comparison.before.median == pytest.approx(120.0)
    said = " ".join(tell_comparison(comparison, METRES, None, words("en")).sentences)
    assert words("en").say(f"air.why.{key_of(why)}") in said
    assert "more balls" not in said
    assert "More balls wouldn't help. We'd need the same wind before and after" in said


def test_what_the_correction_leaves_open_is_hidden_from_any_number_of_balls() -> None:
    """Not "more balls than a lesson holds": what would tell is the same wind."""
    comparison = compared(in_blocks(wind(2.0, 70.0), wind(2.0, 250.0)), shots(132.0, 142.0))
    assert comparison.verdict is Verdict.TOO_EARLY
    assert (comparison.hidden_by, comparison.balls_needed) == (Hidden.AIR, None)
    for language in ("en", "de", "fr", "es", "ja", "ko"):
        say = words(language)
        said = tell_comparison(comparison, METRES, None, say).sentences
        assert say.say("evidence.air.hides") in said
        assert say.say("evidence.too-early.too-many") not in said


def test_the_same_air_in_both_blocks_changes_nothing() -> None:
    windy = replace(DAY, wind=wind(2.0, 70.0))
    assert compared(windy, shots(132.0, 142.0)) == compared(DAY, shots(132.0, 142.0))


def test_indoors_the_weather_outside_does_not_matter() -> None:
    indoors = in_blocks(wind(8.0, 70.0), wind(0.0, 0.0), replace(DAY, indoors=True))
    assert compared(indoors, shots(132.0, 142.0)).air is None


def test_another_number_is_left_as_read() -> None:
    recap = told(
        in_blocks(wind(2.0, 70.0), wind(2.0, 250.0)), shots(132.0, 142.0), Quantity.BALL_SPEED
    )
    assert recap.number.comparison is not None
    assert recap.number.comparison.air is None
    assert next(s.shot.readings[Quantity.CARRY] for s in recap.evidence.shots) == 129.0


def test_both_are_told_in_words() -> None:
    comparison = compared(in_blocks(wind(2.0, 70.0), wind(1.0, 250.0)), shots(132.0, 142.0))
    said = tell_comparison(comparison, METRES, None, words("en"))
    assert "The air wasn't the same" in said.beside
    assert "132\u202fm before and 142\u202fm after would have been" in said.beside
    assert any("could be off by about" in s for s in said.sure)


def test_carries_in_standard_air_are_never_set_beside_carries_as_read() -> None:
    """What stuck is not told from one lesson to another where either was corrected."""
    hit = shots(132.0, 142.0)
    first = told(in_blocks(wind(2.0, 70.0), wind(1.0, 250.0)), hit)
    assert first.number.comparison is not None
    student = Student("anna", "Anna")
    declaration = Declaration(
        Quantity.CARRY, Want(Direction.HIGHER), 2.0, None, stated=True, where=WHERE
    )

    def lesson(day: int, conditions: Conditions) -> PreparedLesson:
        notes = Notes(WHERE, "", club="7 iron", declaration=declaration, conditions=conditions)
        table = ShotTable(tuple(s.shot for s in hit), ("shots.csv",))
        on = date(2027, 4, day)
        told_lesson = Lesson(str(on), on, Path("anna"), WHERE, notes, None, None, table, ())
        return PreparedLesson(told_lesson, (), f"{day}.html", None)

    windy = in_blocks(wind(2.0, 70.0), wind(1.0, 250.0))
    _, mixed = recap_lessons(student, [lesson(1, windy), lesson(8, DAY)], PracticeLog(), {}, 90.0)
    _, plain = recap_lessons(student, [lesson(1, DAY), lesson(8, DAY)], PracticeLog(), {}, 90.0)
    assert mixed.number.retention is None
    assert plain.number.retention is not None


def test_the_loft_at_the_strike_is_set_beside_the_students_own_club() -> None:
    recap = told(DAY, shots(132.0, 142.0), clubs=(Club("7 iron", 31.0),))
    assert (loft := recap.evidence.loft) is not None
    assert (loft.club_loft_deg, loft.before_lean_deg, loft.lean_doubt_deg) == (
        31.0,
        7.0,
        3.0,
    )
    assert told(DAY, shots(132.0, 142.0), clubs=(Club("driver", 10.5),)).evidence.loft is None


def test_the_flight_is_that_of_the_middle_launch() -> None:
    recap = told(DAY, shots(132.0, 142.0))
    flights = recap.evidence.flights
    assert flights is not None
    assert flights.before is not None
    assert flights.before == flights.after
    assert 130 < flights.before.carry_m < 150
    assert told(DAY, shots(132.0, 142.0, launched=False)).evidence.flights is None
