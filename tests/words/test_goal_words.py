"""The goal in words: what was wanted of the number, beside the number."""

import pytest
from msgspec.structs import replace

from recapgen.model.evidence import Comparison, SmallestChangeFrom
from recapgen.model.lesson import Direction, Want
from recapgen.model.people import Hand
from recapgen.model.quantity import Quantity
from recapgen.model.units import LengthUnit, Units
from recapgen.words.catalogue import words
from recapgen.words.goal_sentences import tell_goal
from recapgen.words.languages import LANGUAGES
from tests.evidence.made_shots import HIGHER, LOWER, then_and_now, window

SHOTS = [2.0, 3.0, 4.0, 5.0]
ZERO = Want(Direction.ZERO)


def wanted(quantity: Quantity, want: Want, smallest_change: float | None = None) -> Comparison:
    told = then_and_now(SHOTS, SHOTS, want)
    return replace(
        told,
        quantity=quantity,
        smallest_change=smallest_change or 0.5,
        smallest_change_from=SmallestChangeFrom.DEFAULT
        if smallest_change is None
        else SmallestChangeFrom.DECLARED,
    )


@pytest.mark.parametrize(
    ("quantity", "want", "smallest_change", "told"),
    [
        (Quantity.CARRY, window(128.0, 136.0), 3.0, "128 to 136 m"),
        (Quantity.CARRY, window(38.5, 44.0), None, "38.5 to 44.0 m"),
        (Quantity.CLUB_PATH, window(-2.0, 2.0), None, "2° left to 2° right"),
        (Quantity.CLUB_PATH, window(2.0, 5.5), None, "2.0 to 5.5° right"),
        (Quantity.ATTACK_ANGLE, window(-5.0, -3.0), None, "3 to 5° down"),
        (Quantity.LAUNCH_ANGLE, window(10.0, 14.0), None, "10 to 14°"),
        (Quantity.CLUB_PATH, HIGHER, None, "more in-to-out"),
        (Quantity.CLUB_PATH, LOWER, 1.0, "more out-to-in by at least 1°"),
        (Quantity.FACE_TO_PATH, HIGHER, None, "more open"),
        (Quantity.ATTACK_ANGLE, LOWER, 0.7, "further downward by at least 0.7°"),
        (Quantity.LAUNCH_DIRECTION, LOWER, None, "further left"),
        (Quantity.CARRY, HIGHER, 2.0, "higher by at least 2 m"),
        (Quantity.SMASH_FACTOR, HIGHER, 0.02, "higher by at least 0.02"),
        (Quantity.FACE_ANGLE, ZERO, 1.0, "closer to zero by at least 1°"),
    ],
)
def test_a_goal_is_told_as_a_coach_would(
    quantity: Quantity, want: Want, smallest_change: float | None, told: str
) -> None:
    goal = tell_goal(wanted(quantity, want, smallest_change), Units(), Hand.RIGHT, words("en"))
    assert goal.replace("\u202f", " ") == told


def test_sides_are_those_of_the_students_hand_and_figures_in_their_units() -> None:
    path = wanted(Quantity.CLUB_PATH, HIGHER)
    assert tell_goal(path, Units(), Hand.LEFT, words("en")) == "more out-to-in"
    assert tell_goal(path, Units(), None, words("en")) == "further right"
    yards = Units(length=LengthUnit.YARD)
    carry = wanted(Quantity.CARRY, window(128.016, 137.16))
    assert tell_goal(carry, yards, None, words("en")).replace("\u202f", " ") == "140 to 150 yd"


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("want", [HIGHER, LOWER, ZERO, window(-2.0, 2.0)], ids=str)
def test_every_number_has_a_goal_in_every_language(want: Want, language: str) -> None:
    for quantity in Quantity:
        for hand in (None, *Hand):
            told = tell_goal(wanted(quantity, want, 1.0), Units(), hand, words(language))
            assert told
            assert "{" not in told
