"""Rules of rows, how a file was read, and what else moves a number: all in plain words."""

import numpy as np
import pytest

from recapgen.golf.catalogue import FACTS
from recapgen.golf.derived import derive
from recapgen.golf.row_checks import check_rows
from recapgen.model.carry import Assumed, FairCarry, Withheld
from recapgen.model.cross_checks import RULE_READS, leans_on
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Way
from recapgen.words.amounts import quantity_also
from recapgen.words.catalogue import words
from recapgen.words.shots import tell_assumed, tell_decided, tell_rule, tell_way, why_withheld

ENGLISH = words("en")
CONFOUNDERS = {
    "warmth": "how warm you are",
    "tiredness": "how tired you are",
    "ball": "the kind of ball",
    "strike": "where on the face",
    "tee": "the tee and the lie",
    "aim": "were aimed",
    "wet": "water",
    "wind": "the wind",
    "air": "the air",
    "ground": "the ground",
    "camera": "the phone stood",
}


def _every_rule() -> set[str]:
    """All rules that readings can break, found by breaking them."""
    wild = (-1e4, -30.0, 0.1, 1.0, 3.0, 40.0, 70.0, 1e5)
    rng = np.random.default_rng(7)
    readings = {q: rng.choice(wild, 600).tolist() for q in Quantity}
    found = check_rows(readings, ["7 iron"] * 600)
    spread = {q: rng.uniform(*FACTS[q].plausible, 600).tolist() for q in Quantity}
    spread[Quantity.SMASH_FACTOR] = [*[1.5] * 300, *[1.7] * 300]
    again = check_rows(spread, ["7 iron"] * 600)
    crossed = derive(spread, ["7 iron"] * 600)
    doubts = (*found.doubts.values(), *again.doubts.values(), *crossed.doubts.values())
    rules = {rule for row in doubts for rule in row}
    return {*found.impossible.values(), *again.impossible.values(), *rules, *RULE_READS}


def test_every_rule_has_a_sentence_of_its_own() -> None:
    rules = _every_rule()
    assert {"smash-over-ceiling", "spin-over-speed", "curve-disagrees"} <= rules
    told = {rule: tell_rule(rule, ENGLISH) for rule in (*rules, "quote-open", "row-uneven")}
    assert len(set(told.values())) == len(told)
    assert all("{" not in sentence for sentence in told.values())


def test_a_rule_that_leans_on_a_calculated_number_says_so() -> None:
    (carry,) = leans_on("carry-far-from-launch", (Quantity.CARRY, Quantity.APEX))
    plain = tell_rule("carry-far-from-launch", ENGLISH)
    assert tell_rule("carry-far-from-launch", ENGLISH, [carry]) == (
        f"{plain} The device calculates carry instead of measuring it, so this says less."
    )
    assert leans_on("smash-high", tuple(Quantity)) == ()


def test_what_a_comma_was_taken_for_is_told_in_words() -> None:
    told = tell_decided((("Spin", "“,” = thousands"), ("Carry", "“,” = decimals")), (), ENGLISH)
    assert told == (
        "Under “Spin”, a comma was taken for the mark between thousands.",
        "Under “Carry”, a comma was taken for the decimal point.",
    )


def test_what_was_decided_is_told_without_the_labels_of_totals() -> None:
    decided = (
        ("Ball Speed", "mph"),
        ("Distance", "carry"),
        ("Carry yd", "= Carry"),
        ("Club Speed", "0 = not read"),
        ("Average of somebody", "not a shot"),
    )
    told = tell_decided(decided, (Quantity.CARRY,), ENGLISH)
    assert told[0] == "“Ball Speed” was read in mph, the only unit that fits."
    assert told[1] == "“Distance” was taken for carry, the only meaning left."
    assert told[4:] == (
        "One row was an average or a total, not a shot.",
        "In the coach’s word, the device calculates these instead of measuring them: carry.",
    )
    assert "somebody" not in " ".join(told)


@pytest.mark.parametrize("quantity", [q for q in Quantity if FACTS[q].confounders])
def test_everything_that_confounds_a_number_is_told(quantity: Quantity) -> None:
    told = quantity_also(quantity, ENGLISH)
    for key, phrase in CONFOUNDERS.items():
        assert (phrase in told) == (key in FACTS[quantity].confounders), (key, told)


def test_ways_reasons_and_what_was_assumed_have_words() -> None:
    ways = [tell_way(way, ENGLISH) for way in Way]
    assert len(set(ways)) == len(Way)
    reasons = [
        why_withheld(FairCarry(1.0, 1.0, None, None, 0.0, (), why), ENGLISH) for why in Withheld
    ]
    assert len(set(reasons)) == len(Withheld)
    (told,) = tell_assumed(FairCarry(1.0, 1.0, 1.0, 1.0, 0.1, tuple(Assumed), None), ENGLISH)
    assert told.count(",") == len(Assumed)
