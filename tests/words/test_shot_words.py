"""Rules of rows, how a file was read, and what else moves a number: all in plain words."""

import pytest

from recapgen.golf.quantity_facts import FACTS
from recapgen.model.carry import Assumed, FairCarry, Withheld
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import Check, RowRule, leans_on
from recapgen.model.shots import Decision, ReadAs, WorkedFrom
from recapgen.words.amounts import quantity_also
from recapgen.words.catalogue import words
from recapgen.words.shot_sentences import (
    tell_assumed,
    tell_decided,
    tell_rule,
    tell_way,
    why_withheld,
)

ENGLISH = words("en")
CONFOUNDERS = {
    "warmth": "how warmed up",
    "tiredness": "how tired you are",
    "ball": "the kind of ball",
    "strike": "where on the face",
    "tee": "how high you tee",
    "aim": "were aimed",
    "wet": "water",
    "wind": "the wind",
    "air": "the air",
    "ground": "the ground",
    "camera": "the phone stood",
}


def test_every_rule_has_a_sentence_of_its_own() -> None:
    of_bounds = (Check.IMPOSSIBLE, Check.UNUSUAL)
    rules = [RowRule(check) for check in Check if check not in of_bounds]
    rules += [RowRule(check, quantity) for check in of_bounds for quantity in Quantity]
    told = {tell_rule(rule, ENGLISH) for rule in rules}
    assert len(told) == len(rules)
    assert all("{" not in sentence for sentence in told)


def test_a_rule_that_leans_on_a_calculated_number_says_so() -> None:
    rule = RowRule(Check.CARRY_FAR_FROM_LAUNCH)
    (carry,) = leans_on(rule, (Quantity.CARRY, Quantity.APEX))
    plain = tell_rule(rule, ENGLISH)
    assert tell_rule(rule, ENGLISH, [carry]) == (
        f"{plain} The device works out carry instead of measuring, so this tells us less."
    )
    assert leans_on(RowRule(Check.SMASH_HIGH), tuple(Quantity)) == ()


def test_what_a_comma_was_taken_for_is_told_in_words() -> None:
    told = tell_decided(
        (
            Decision("Spin", ReadAs.COMMA_THOUSANDS),
            Decision("Carry", ReadAs.COMMA_DECIMALS),
            Decision("Ball Spin", ReadAs.POINT_THOUSANDS),
        ),
        (),
        ENGLISH,
    )
    assert told == (
        "Under “Spin”, we read a comma as the thousands separator.",
        "Under “Carry”, we read a comma as the decimal point.",
        "Under “Ball Spin”, we read a point as the thousands separator.",
    )


def test_what_was_decided_is_told_without_the_labels_of_totals() -> None:
    decided = (
        Decision("Ball Speed", ReadAs.UNIT, "mph"),
        Decision("Distance", ReadAs.QUANTITY, quantity=Quantity.CARRY),
        Decision("Carry yd", ReadAs.SAME, "Carry"),
        Decision("Club Speed", ReadAs.NOUGHTS),
        Decision("When", ReadAs.BLOCKS),
        Decision("Date", ReadAs.COUNTED_DAYS),
        Decision("Average of somebody", ReadAs.SUMMARY),
    )
    told = tell_decided(decided, (Quantity.CARRY,), ENGLISH)
    assert told[0] == "We read “Ball Speed” in mph, the only unit that fits."
    assert told[1] == "We read “Distance” as carry, the only thing it could still mean."
    assert told[4] == "We took “When” to say which balls were before and which were after."
    assert "“Date”" in told[5]
    assert told[6:] == (
        "One row was an average or a total, not a shot.",
        "Your coach says the device works these out instead of measuring them: carry.",
    )
    assert "somebody" not in " ".join(told)


@pytest.mark.parametrize("quantity", [q for q in Quantity if FACTS[q].confounders])
def test_everything_that_confounds_a_number_is_told(quantity: Quantity) -> None:
    told = quantity_also(quantity, ENGLISH)
    for key, phrase in CONFOUNDERS.items():
        assert (phrase in told) == (key in FACTS[quantity].confounders), (key, told)


def test_ways_reasons_and_what_was_assumed_have_words() -> None:
    ways = [tell_way(way, ENGLISH) for way in WorkedFrom]
    assert len(set(ways)) == len(WorkedFrom)
    reasons = [
        why_withheld(FairCarry(1.0, 1.0, None, None, 0.0, (), why), ENGLISH) for why in Withheld
    ]
    assert len(set(reasons)) == len(Withheld)
    (told,) = tell_assumed(FairCarry(1.0, 1.0, 1.0, 1.0, 0.1, tuple(Assumed), None), ENGLISH)
    assert told.count(",") == len(Assumed)
