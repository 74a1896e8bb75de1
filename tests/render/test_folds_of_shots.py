"""The folds about what the readings imply: the flight, what was worked out, second looks."""

import re

import numpy as np
import pytest
from msgspec.structs import replace

from recapgen.model.carry import FairCarry, LoftAtStrike, Withheld
from recapgen.model.lesson import Conditions, Wind
from recapgen.model.quantity import Quantity
from recapgen.model.recap import LessonEvidence, Recap
from recapgen.model.row_rules import Check, RowRule
from recapgen.model.shots import (
    Block,
    Decision,
    ReadAs,
    Shot,
    ShotStatus,
    SortedShot,
    WorkedFrom,
    WorkedOut,
)
from recapgen.render.charts.drawing import draw
from recapgen.render.charts.flight_chart import flight_sentence, seen_from_the_side
from recapgen.render.evidence_view import flight_view
from recapgen.render.lesson_page import lesson_page
from recapgen.render.shots_view import conditions_by_block, standard_air_told
from recapgen.render.worked_view import second_looks, worked_view
from tests.render.pictures_fixture import READER, flown
from tests.render.recaps_fixture import IMPERIAL, WHERE, full_recap

EVIDENCE = full_recap().evidence
CURVE = RowRule(Check.CURVE_DISAGREES)


def shot(
    number: int, block: Block, doubts: tuple[RowRule, ...] = (), **worked: float
) -> SortedShot:
    derived = {
        Quantity(name.replace("_", " ")): WorkedOut(value, 0.02, WorkedFrom.SPEEDS)
        for name, value in worked.items()
    }
    read = Shot(
        number, WHERE, {Quantity.CLUB_SPEED: 40.0}, block, doubts=doubts, derived=derived or None
    )
    return SortedShot(read, block, ShotStatus.USED)


def test_the_flight_fits_a_phone_and_marks_apex_and_landing() -> None:
    flights = flown(48.0)
    picture = seen_from_the_side(flights, READER)
    assert picture.width <= 288
    assert picture.height <= 180
    assert len(picture.dots) == 4
    assert flights.after is not None
    landing = max(picture.dots, key=lambda dot: dot.x)
    assert (landing.x, landing.y) == pytest.approx((flights.after.carry_m, 0.0))
    for line, curve in zip((flights.before, flights.after), picture.curves, strict=True):
        assert line is not None
        drawn = [(picture.x.px(x), picture.y.px(y)) for x, y in curve.points]
        assert all(0 <= x <= picture.width and 0 <= y <= picture.height for x, y in drawn)
        assert curve.points[0] == (line.distance_m[0], line.height_m[0])
        assert curve.points[-1] == (line.distance_m[-1], line.height_m[-1])
        steps = np.diff(np.array(drawn), axis=0)
        turns = np.diff(np.arctan2(steps[:, 1], steps[:, 0]))
        assert np.degrees(np.abs(turns).max()) < 4  # more is seen as a corner


def test_each_flight_is_one_line_and_only_then_is_dashed() -> None:
    svg = draw(seen_from_the_side(flown(48.0), READER), "flight", "A title", "A description")
    then, now = re.findall(r'<path d="M[^"]*"[^>]*>', svg)
    assert "stroke-dasharray" in then
    assert "var(--ink)" in then
    assert "stroke-dasharray" not in now
    assert "var(--spot)" in now


def with_evidence(evidence: LessonEvidence) -> Recap:
    return replace(full_recap(), evidence=evidence)


def test_the_flight_is_told_and_tabled_in_the_readers_units() -> None:
    flights = flown(48.0)
    metres = flight_sentence(flights, READER)
    yards = flight_sentence(flights, replace(READER, units=IMPERIAL))
    assert metres.startswith("Before: the ball climbs ")
    assert "After: the ball climbs" in metres
    assert re.findall(r"[\d.]+\u202fyd", yards)
    recap = with_evidence(replace(EVIDENCE, flights=flights))
    figure = flight_view(recap, READER)
    assert figure is not None
    assert [len(row) for row in figure.rows] == [4, 4]
    assert str(figure.chart).count("<circle") == 4
    assert flight_view(with_evidence(replace(EVIDENCE, flights=None)), READER) is None


def test_one_block_alone_is_drawn_too() -> None:
    picture = seen_from_the_side(replace(flown(48.0), before=None), READER)
    assert len(picture.dots) == 2


def worked_recap(*shots: SortedShot, loft: LoftAtStrike | None = None) -> Recap:
    return with_evidence(replace(EVIDENCE, shots=shots, loft=loft))


def test_what_was_worked_out_is_named_with_its_doubt_and_from_what() -> None:
    recap = worked_recap(
        shot(1, Block.BEFORE, smash_factor=1.30),
        shot(2, Block.BEFORE, smash_factor=1.34),
        shot(3, Block.AFTER, smash_factor=1.40),
        shot(4, Block.WARM_UP, smash_factor=9.0),
    )
    view = worked_view(recap, READER)
    assert view is not None
    (row,) = view.rows
    assert (row.name, row.then, row.now, row.doubt) == ("smash factor", "1.32", "1.40", "0.02")
    assert row.way == "club speed, ball speed, smash factor"


def test_a_number_that_was_read_is_not_worked_out_beside() -> None:
    read = shot(1, Block.BEFORE)
    read = replace(read, shot=replace(read.shot, readings={Quantity.SMASH_FACTOR: 1.3}))
    assert worked_view(worked_recap(read, shot(2, Block.AFTER, smash_factor=1.4)), READER) is None


@pytest.mark.parametrize(("lean", "way"), [(7.0, "off"), (-4.0, "to")])
def test_loft_is_told_against_the_own_club_and_lean_as_an_estimate(lean: float, way: str) -> None:
    loft = LoftAtStrike("7 iron", 31.0, lean, None, 3.0)
    view = worked_view(worked_recap(shot(1, Block.BEFORE), loft=loft), READER)
    assert view is not None
    first, second = view.sentences
    assert f"{way} your 7 iron (31.0°)" in first
    assert "estimate" in second
    assert "3.0°" in second


def test_second_looks_name_the_rule_and_the_shots() -> None:
    recap = worked_recap(
        shot(7, Block.BEFORE, (CURVE,)),
        shot(9, Block.AFTER, (CURVE, RowRule(Check.SMASH_HIGH))),
    )
    curve, smash = second_looks(recap, READER)
    assert curve.endswith("Shots: 7, 9.")
    assert smash.endswith("Shots: 9.")
    left_out = replace(recap.evidence.shots[0], status=ShotStatus.LEFT_OUT)
    assert second_looks(worked_recap(left_out), READER) == ()


def test_conditions_of_a_block_stand_under_those_of_the_lesson() -> None:
    base = Conditions(temperature_c=14.0)
    windy = replace(base, wind=Wind(2.0, 70.0, 2.0))
    facts = conditions_by_block(
        replace(base, blocks=((Block.BEFORE, windy), (Block.AFTER, base))), READER
    )
    assert [fact.name for fact in facts] == ["Temperature", "Wind, before"]


def test_carry_in_standard_air_is_told_with_the_conditions() -> None:
    air = FairCarry(132.0, 142.0, 134.0, 139.0, 2.0, (), None)
    recap = with_evidence(replace(EVIDENCE, fair_carry=air))
    (told,) = standard_air_told(recap, READER)
    assert "134\u202fm before and 139\u202fm after" in told
    windy = replace(air, before_m=None, after_m=None, withheld=Withheld.TOO_WINDY)
    (told,) = standard_air_told(with_evidence(replace(EVIDENCE, fair_carry=windy)), READER)
    assert told.endswith("it was too windy to say.")
    unknown = replace(windy, withheld=Withheld.AIR_UNKNOWN)
    assert standard_air_told(with_evidence(replace(EVIDENCE, fair_carry=unknown)), READER) == ()


def test_the_page_keeps_all_of_it_folded_and_escaped() -> None:
    recap = with_evidence(
        replace(
            EVIDENCE,
            flights=flown(48.0),
            decided=(Decision("<b>Ball Speed</b>", ReadAs.UNIT, "mph"),),
            loft=LoftAtStrike("7 iron", 31.0, 7.0, 6.0, 3.0),
        )
    )
    body = str(lesson_page(recap, READER, []).body)
    first_fold = body.index('<div class="folds">')
    for text in ("The flight, seen from the side", "How we read the file", "Worked out, not"):
        assert body.index(text) > first_fold
    assert "<b>Ball Speed" not in body
    assert "&lt;b&gt;Ball Speed" in body
