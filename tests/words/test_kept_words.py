"""What stuck, and the ledger of intents, in words."""

from datetime import date

import pytest
from msgspec.structs import replace

from recapgen.model.evidence import (
    IntentRow,
    Interval,
    Kept,
    Retention,
)
from recapgen.model.quantity import Quantity
from recapgen.words.catalogue import words
from recapgen.words.verdict_sentences import (
    tell_intent,
    tell_retention,
)

ENGLISH = words("en")
GAINED = "You gained 2.1 m on 11 April 2027. At the start of this lesson, "


def metres(value: float) -> str:
    return f"{value:.1f} m"


@pytest.mark.parametrize(
    ("kept", "share", "still", "expected"),
    [
        (
            Kept.MOSTLY,
            Interval(0.622, 1.114),
            1.8,
            (
                f"{GAINED}1.8 m was still there.",
                "Most of it is still there.",
                "That's about 60% of it or more.",
            ),
        ),
        (
            Kept.FADED,
            Interval(-0.2, 0.31),
            -0.1,
            (
                f"{GAINED}we saw none of it.",
                "Most of it has faded.",
                "Up to 30% of it could still be there.",
            ),
        ),
        (
            Kept.SOME,
            Interval(0.04, 1.2),
            1.1,
            (
                f"{GAINED}1.1 m was still there.",
                "Some of it is still there.",
                "That could be a little of it or all of it. These shots can't tell us.",
            ),
        ),
        (
            Kept.SOME,
            Interval(0.2, 0.72),
            0.9,
            (
                f"{GAINED}0.9 m was still there.",
                "Some of it is still there.",
                "That's about 20% to 70% of it.",
            ),
        ),
        (
            Kept.SOME,
            Interval(0.25, 0.65),
            0.9,
            (
                f"{GAINED}0.9 m was still there.",
                "Some of it is still there.",
                "That's about 30% to 70% of it.",
            ),
        ),
        (
            Kept.MOSTLY,
            Interval(0.96, 1.3),
            2.2,
            (
                f"{GAINED}2.2 m was still there.",
                "Most of it is still there.",
                "That's about all of it.",
            ),
        ),
        (
            Kept.FADED,
            Interval(-0.6, -0.1),
            -0.8,
            (
                f"{GAINED}we saw none of it.",
                "Most of it has faded.",
            ),
        ),
        (
            Kept.TOO_EARLY,
            None,
            0.8,
            (
                f"{GAINED}0.8 m was still there.",
                "It's too early to say how much of it stayed.",
            ),
        ),
        (
            Kept.NO_GAIN,
            None,
            0.8,
            ("On 11 April 2027 we hadn't seen a gain yet, so there was nothing to keep.",),
        ),
    ],
)
def test_what_stuck(
    kept: Kept, share: Interval | None, still: float, expected: tuple[str, ...]
) -> None:
    retention = Retention(
        Quantity.CARRY, date(2027, 4, 11), date(2027, 4, 25), 2.1, still, share, kept
    )
    assert tell_retention(retention, metres, ENGLISH) == expected


def test_the_ledger_never_says_why() -> None:
    row = IntentRow("hum", 1.24, Interval(0.3, 2.1), 0.98, lessons=5, students=3)
    assert tell_intent(row, ENGLISH) == (
        "On average it moved 1.2 times the smallest change worth having (0.3 to 2.1), "
        "over 5 lessons with 3 students."
    )
    waiting = replace(row, lessons=1, students=1, ci90=None)
    assert tell_intent(waiting, ENGLISH) == "Not enough yet: 1 lesson, 1 student."
