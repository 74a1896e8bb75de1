"""The evidence in plain words: every verdict has its sentence, and none says too much."""

import re
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.model.evidence import (
    Comparison,
    GuardFinding,
    GuardResult,
    Verdict,
)
from recapgen.model.films import ChosenBecause, FilmSide, ImpactFrom, Strike
from recapgen.model.lesson import Direction, Guard, GuardKind, Seal, Swing, Want
from recapgen.model.people import Hand
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block
from recapgen.model.units import Units
from recapgen.words.catalogue import words
from recapgen.words.how_sure import tell_step
from recapgen.words.verdict_sentences import (
    tell_clip,
    tell_comparison,
    tell_guard,
    tell_verdict,
)
from tests.evidence.made_shots import (
    HIGHER,
    LOWER,
    NINE,
    NOTES,
    compared,
    lesson,
    then_and_now,
    window,
)

ENGLISH = words("en")

NEVER = re.compile(
    r"\b(significan\w*|prov(?:en?|es|ed|ing)|proofs?|p|p-values?|fixed|fix(?:es)?|per ?cent"
    r"|caus(?:e[ds]?|ing|al)|cured?|guarantee\w*|improve\w*|confiden\w*|statistic\w*|null)\b"
    r"|% (?!of it|to|further|wider)",
    re.IGNORECASE,
)

BEFORE = [2.1, 1.4, 2.9, 1.8, 2.4, 1.1, 2.6, 2.0, 1.6, 2.3]
AFTER = [4.3, 3.7, 5.0, 4.1, 3.2, 4.6, 3.9, 4.8, 3.5, 4.4]


WIDE = window(-1.0, 1.0)


def metres(value: float) -> str:
    return f"{value:.1f} m"


def verdict_of(told: Comparison) -> tuple[str, ...]:
    """All that is said of it: what happened, how sure and why, and what is left for the fold."""
    verdict, more = tell_verdict(told, "your carry", metres, ENGLISH)
    assert 1 <= len(verdict) <= 2
    return (*verdict, *more)


def test_a_goal_that_ends_at_zero_is_told_as_such() -> None:
    opened = [v + 5 for v in BEFORE]
    told = everything(path_of(then_and_now(opened, BEFORE, Want(Direction.ZERO))))
    assert any(" closer to zero (probably" in sentence for sentence in told)
    assert "The goal is zero. Go past it, and you're moving away from it again." in told
    past = path_of(then_and_now(opened, [-v for v in BEFORE], Want(Direction.ZERO)))
    assert "It went past zero and out the other side." in everything(past)


@pytest.mark.parametrize("want", [HIGHER, LOWER])
def test_a_goal_without_an_end_is_told_where_there_is_a_zero_to_pass(want: Want) -> None:
    no_end = "The goal is a direction with no end point: the further you go that way, the better."
    carry = then_and_now(BEFORE, AFTER, want)
    assert no_end in everything(path_of(carry))
    assert no_end not in everything(carry)


def path_of(told: Comparison) -> Comparison:
    """The same numbers as degrees of the club path."""
    return replace(told, quantity=Quantity.CLUB_PATH)


def everything(told: Comparison) -> list[str]:
    page = tell_comparison(told, Units(), Hand.LEFT, ENGLISH)
    return [page.phrase, *page.sentences, *page.guards, *page.sure, page.beside]


@pytest.mark.parametrize(
    "key",
    sorted(key for key in ENGLISH.keys() if key.startswith("evidence.")),  # noqa: SIM118 (Words is no mapping)
)
def test_no_sentence_says_what_shots_cannot(key: str) -> None:
    for form in ENGLISH.forms(key):
        assert not NEVER.search(form), form


def test_the_list_of_words_bites() -> None:
    for bad in ("It is proven.", "p < .05", "a 20% gain", "Fixed!", "significantly better"):
        assert NEVER.search(bad)


def test_changed() -> None:
    assert verdict_of(then_and_now(BEFORE, AFTER)) == (
        "Your carry moved about 2.1 m the way we wanted (probably 1.6 m to 2.7 m).",
        "That's more than you'd expect from shot-to-shot luck.",
        "This is today's number, not yet a habit.",
    )


def test_probably_tells_the_balls() -> None:
    told = compared(lesson(BEFORE[:5], [3.0, 1.9, 3.2, 2.2, 3.1]), smallest_change=0.3)
    assert told.verdict is Verdict.PROBABLY
    first, why, *_, last = verdict_of(told)
    assert first.startswith("It looks as if your carry moved about 0.6 m the way we wanted")
    assert "5 balls before and 5 balls after" in why
    assert last == ENGLISH.say("evidence.habit")


def test_too_early_tells_spread_and_balls() -> None:
    told = then_and_now(
        [5.1, 4.2, 6.0, 5.5, 4.8, 3.9, 5.9, 4.4, 5.2, 4.6],
        [5.4, 4.9, 4.1, 6.2, 5.0, 5.7, 4.3, 5.3, 4.7, 5.8],
    )
    n = told.balls_needed
    assert verdict_of(told) == (
        ("We have 10 balls before and 10 balls after, and your shots usually vary by about 0.8 m."),
        f"About {n} balls before and {n} after would usually be enough to tell.",
    )


def test_few_balls_are_counted_in_the_singular() -> None:
    first, advice = verdict_of(then_and_now([1.0], [2.0, 3.0]))
    assert first == "We only have 1 ball before and 2 balls after."
    assert advice == "About 10 balls before and 10 after would usually be enough to tell."


def test_no_change() -> None:
    told = then_and_now(BEFORE, [x + 0.01 for x in BEFORE], smallest_change=1.0)
    assert verdict_of(told) == (
        "Your carry stayed within 1.0 m of where it was.",
        "With 10 balls before and 10 balls after, a bigger change would probably have shown up.",
    )


def test_the_other_way_is_told_without_a_sign() -> None:
    assert verdict_of(then_and_now(AFTER, BEFORE)) == (
        "Your carry moved about 2.1 m away from the goal (probably 1.6 m to 2.7 m).",
        "That's good to know, and worth talking over with your coach.",
    )


def test_a_window_is_told_as_nearness() -> None:
    told = then_and_now([x - 7 for x in BEFORE], BEFORE, window(0.0, 4.0))
    assert verdict_of(told)[0].startswith(
        "Your carry got about 6.5 m closer to the middle of the target window (probably "
    )


def test_a_window_that_is_hit_does_not_sound_like_a_lesson_that_failed() -> None:
    most = ENGLISH.say("evidence.inside.most")
    inside = [-0.9, -0.6, 0.2, 0.7, 0.9, -0.3, 0.5, 0.1]
    hit = then_and_now([-0.8, 1.2, 0.1, 0.4, -1.1, 0.6], [*inside, 1.4, -1.6], WIDE)
    assert hit.verdict is Verdict.TOO_EARLY
    assert most in verdict_of(hit)
    few = then_and_now([-2.4, 1.9], [0.1, 0.2, 0.3], WIDE)
    assert few.verdict is Verdict.TOO_EARLY
    assert most not in verdict_of(few)
    assert most not in verdict_of(then_and_now([x + 9 for x in inside], inside, WIDE))


def test_a_share_is_told_in_counts() -> None:
    before = [-1.8, -1.4, -1.2, -0.8, -0.5, -0.2, 0.0, 0.3, 0.6, 0.9, 1.2, 1.5, 1.9]
    told = then_and_now(before, [x / 2 for x in before], window(-1.0, 1.0))
    assert told.by_share
    assert verdict_of(told)[:2] == (
        "More of your shots are inside the window: 7 of 13 before, 13 of 13 after.",
        "That's more than you'd expect from shot-to-shot luck.",
    )


def test_drift_is_said_beside_the_verdict() -> None:
    rising = [1.0, 1.6, 1.9, 2.6, 3.1, 3.4, 4.1, 4.6, 4.9, 5.6]
    told = then_and_now(rising, [x + 5 for x in rising])
    assert verdict_of(told)[1] == ENGLISH.say("evidence.drift.clearly")
    assert not any("after would usually be enough to tell" in s for s in verdict_of(told))


def test_a_number_chosen_afterwards_says_so() -> None:
    told = compared(lesson(BEFORE, AFTER), stated=False)
    assert ENGLISH.say("evidence.afterwards.capped") in verdict_of(told)
    assert everything(told)[-1] != ""
    assert ENGLISH.say("evidence.declared.afterwards") in everything(told)


def test_a_capped_change_does_not_blame_the_balls() -> None:
    assert verdict_of(compared(lesson(BEFORE, AFTER), stated=False))[:2] == (
        (
            "It looks as if your carry moved about 2.1 m the way we wanted "
            "(probably 1.6 m to 2.7 m)."
        ),
        ENGLISH.say("evidence.afterwards.capped"),
    )


def test_fewer_mishits_are_a_gain_of_their_own() -> None:
    shots = lesson(BEFORE, AFTER, tags_before=(0, 2, 4, 6, 8))
    assert (
        "You had fewer mishits (5 of 10 before, 0 of 10 after), "
        "and cleaner contact is a gain in itself."
    ) in verdict_of(compared(shots))
    one = lesson(BEFORE, AFTER, tags_before=(0,))
    assert not any("mishits" in sentence for sentence in verdict_of(compared(one)))


def test_the_range_is_told_by_sides() -> None:
    def range_of(before: list[float], after: list[float]) -> str:
        sure = everything(then_and_now(before, after))
        told = next(s for s in sure if s.startswith("The true difference"))
        return told.split(". ")[0].replace("\u202f", " ").partition("between ")[2]

    assert range_of(BEFORE, AFTER) == "1.6 m and 2.7 m in the direction we want"
    assert range_of(AFTER, BEFORE) == "1.6 m and 2.7 m in the other direction"
    both = "0.6 m in the other direction and 0.6 m in the direction we want"
    assert range_of(BEFORE, BEFORE) == both


def test_a_seal_is_told_with_its_time() -> None:
    shots = lesson(BEFORE, AFTER)
    seal = Seal(Quantity.CARRY, HIGHER, 0.5, None, 10, 12, NINE, NOTES)
    told = everything(compared(shots, stated=False, seal=seal))
    assert (
        "The number and its goal were sealed at 9:00 on 11 Apr. "
        "You hit the first “after” shot at 9:11 on 11 Apr."
    ) in told
    assert "The plan was 10 balls before and 12 after. You hit 10 and 10." in told


def test_each_state_of_a_declaration_is_told_with_how_the_seal_stands() -> None:
    shots = lesson(BEFORE, AFTER)
    before = Seal(Quantity.CARRY, HIGHER, 0.5, None, 10, 12, NINE, NOTES)
    untimed = tuple(replace(s, shot=replace(s.shot, time=None)) for s in shots)
    late = replace(before, sealed_at=NINE + timedelta(hours=2))
    again = replace(before, earlier_at=(NINE - timedelta(minutes=9),))
    other = replace(before, want=LOWER)
    for seal, stated, hit, said in (
        (None, True, shots, "Your coach says the number"),
        (None, False, shots, "was chosen after you hit the shots"),
        (before, False, shots, "were sealed at 9:00 on 11 Apr. You hit the first “after” shot"),
        (before, False, untimed, "so we can't check which came first."),
        (
            late,
            True,
            shots,
            "only sealed at 11:00 on 11 Apr. By then you'd already hit the first “after” shot",
        ),
        (late, False, shots, "so the seal doesn't count."),
        (other, True, shots, "was changed after it was sealed at 9:00 on 11 Apr"),
        (again, False, shots, "replaced an earlier one (8:51 on 11 Apr)."),
    ):
        told = " ".join(everything(compared(hit, stated=stated, seal=seal)))
        assert said in told


def test_the_step_that_the_verdict_speaks_of_is_told() -> None:
    told = then_and_now(BEFORE, AFTER)
    assert tell_step(told, ENGLISH) == ""
    half = replace(told, swings=(Swing.HALF, Swing.HALF))
    assert tell_step(half, ENGLISH) == "This is about half swings."
    asked = replace(told, swings=(Swing.FULL, Swing.HALF))
    assert tell_step(asked, ENGLISH) == (
        "This compares full swings before with half swings after, "
        "because your coach asked for that."
    )


def test_shots_left_out_are_put_back_in_words() -> None:
    told = replace(then_and_now(BEFORE, AFTER), verdict_put_back=Verdict.TOO_EARLY)
    assert verdict_of(told)[1] == (
        "If we count the shots we left out, the answer is: too early to tell."
    )


@pytest.mark.parametrize(
    ("finding", "kind", "expected"),
    [
        (GuardFinding.HELD, GuardKind.LEVEL, "And your ball speed held up"),
        (GuardFinding.LOST, GuardKind.LEVEL, "But it cost you about"),
        (
            GuardFinding.CANNOT_TELL,
            GuardKind.SPREAD,
            "We can't tell from these shots whether the spread of your ball speed",
        ),
        (GuardFinding.LOST, GuardKind.SPREAD, "But the spread of your ball speed grew by about"),
    ],
)
def test_guards(finding: GuardFinding, kind: GuardKind, expected: str) -> None:
    shift = then_and_now(AFTER, BEFORE).as_read
    guard = Guard(Quantity.BALL_SPEED, kind, 1.0, NOTES)
    told = tell_guard(
        GuardResult(guard, finding, 1.0, 2.0, shift), "your ball speed", metres, ENGLISH
    )
    assert told.startswith(expected)


def test_clips() -> None:
    strike = Strike(1.0, ImpactFrom.SOUND)
    side = FilmSide("a.mov", Block.AFTER, 18, strike, ChosenBecause.TYPICAL, 7, 12, 1, 3)
    told = "shot 18 (ball 7 of the 12 you hit)"
    assert tell_clip(side, ENGLISH) == f"{told}, the most typical shot we filmed."
    chosen = replace(side, chosen_because=ChosenBecause.CHOSEN, rank=3)
    assert tell_clip(chosen, ENGLISH) == (
        f"{told}, chosen by your coach. It's number 3 of the 3 we filmed, "
        "counting from the most typical."
    )
    mishit = replace(chosen, rank=None)
    assert tell_clip(mishit, ENGLISH) == f"{told}, a mishit, chosen by your coach."
    nearest = replace(side, chosen_because=ChosenBecause.NEAREST)
    assert "We didn't film a typical shot" in tell_clip(nearest, ENGLISH)
    alone = FilmSide("a.mov", Block.AFTER, 18, strike)
    assert tell_clip(alone, ENGLISH) == "shot 18."
    assert tell_clip(replace(alone, shot=None), ENGLISH) == ""


tenths = st.integers(-60, 60).map(lambda n: n / 10)


@given(
    st.lists(tenths, min_size=1, max_size=14),
    st.lists(tenths, min_size=1, max_size=14),
    st.lists(tenths, max_size=5),
    st.sampled_from([HIGHER, LOWER, window(-2.0, 3.0)]),
    st.sampled_from([(False, False), (False, True), (True, False), (True, True)]),
)
def test_any_lesson_is_told_in_whole_sentences(
    before: list[float],
    after: list[float],
    closing: list[float],
    want: Want,
    circumstances: tuple[bool, bool],
) -> None:
    moved, stated = circumstances
    told = compared(
        lesson(before, after, closing, tags_after=[0]),
        want,
        smallest_change=None,
        moved=moved,
        stated=stated,
        guard=Guard(Quantity.CARRY, GuardKind.SPREAD, 1.0, NOTES),
    )
    page = tell_comparison(told, Units(), Hand.LEFT, ENGLISH)
    assert 1 <= len(page.sentences) <= 2
    for sentence in everything(told):
        assert sentence[0].isupper() or sentence[0].isdigit() or sentence.startswith("thin")
        assert sentence.endswith(".")
        assert not NEVER.search(sentence)
        assert "nan" not in sentence.lower().split()
        assert "inf" not in sentence.lower().split()
        assert "−" not in sentence  # a size has no sign
    habit = ENGLISH.say("evidence.habit") in everything(told)
    assert habit == (told.verdict in (Verdict.CHANGED, Verdict.PROBABLY))
