"""What must hold for any shots at all."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.model.evidence import Comparison, Verdict
from recapgen.model.lesson import Want
from tests.evidence.made_shots import HIGHER, LOWER, compared, lesson, then_and_now, window

# tenths, so that ties and coarse readings are common
readings = st.integers(-300, 300).map(lambda tenths: tenths / 10)


def blocks(least: int = 3, most: int = 14) -> st.SearchStrategy[list[float]]:
    return st.lists(readings, min_size=least, max_size=most)


wants = st.sampled_from([HIGHER, LOWER, window(-2.0, 3.0), window(5.0, 9.0)])
MIRROR = {Verdict.CHANGED: Verdict.OTHER_WAY}


def estimate(told: Comparison) -> float:
    assert told.as_read is not None
    return told.as_read.estimate


@given(st.data(), blocks(), blocks(), wants)
def test_order_within_a_block_matters_only_to_drift(
    data: st.DataObject, before: list[float], after: list[float], want: Want
) -> None:
    told = then_and_now(before, after, want)
    shuffled = then_and_now(
        data.draw(st.permutations(before)), data.draw(st.permutations(after)), want
    )
    assert told.as_read == shuffled.as_read
    assert told.good == shuffled.good
    assert told.inside == shuffled.inside
    assert told.mishits == shuffled.mishits
    if len(before) < 6:  # the drift guard needs six
        assert told.verdict is shuffled.verdict


@given(blocks(), blocks(), st.integers(0, 50))
def test_a_better_shot_never_lowers_the_estimate(
    before: list[float], after: list[float], more: int
) -> None:
    better = max(after) + more / 10
    assert estimate(then_and_now(before, [*after, better])) >= estimate(then_and_now(before, after))


@given(blocks(), blocks())
def test_swapping_the_blocks_mirrors_the_estimate(before: list[float], after: list[float]) -> None:
    there, back = then_and_now(before, after), then_and_now(after, before)
    assert there.as_read is not None
    assert back.as_read is not None
    assert there.as_read.estimate == pytest.approx(-back.as_read.estimate)
    assert there.as_read.ci90.low == pytest.approx(-back.as_read.ci90.high)
    assert there.as_read.ci80.high == pytest.approx(-back.as_read.ci80.low)


@given(blocks(), blocks())
def test_lower_is_higher_upside_down(before: list[float], after: list[float]) -> None:
    up = then_and_now(before, after, HIGHER)
    down = then_and_now([-x for x in before], [-x for x in after], LOWER)
    assert up.verdict is down.verdict
    assert up.good == down.good


@given(blocks(), blocks(), wants, st.sampled_from([0.9144, 0.3048, 0.44704, 1 / 3.6, 57.3]))
def test_units_change_nothing(
    before: list[float], after: list[float], want: Want, unit: float
) -> None:
    told = then_and_now(before, after, want, 0.5)
    scaled = Want(
        want.direction,
        None if want.low is None else want.low * unit,
        None if want.high is None else want.high * unit,
    )
    other = then_and_now([x * unit for x in before], [x * unit for x in after], scaled, 0.5 * unit)
    assert other.verdict is told.verdict
    assert other.inside == told.inside
    assert other.before.mishit == told.before.mishit
    assert estimate(other) == pytest.approx(unit * estimate(told))


@given(blocks(1, 2), blocks(1, 14), wants, st.booleans())
def test_under_three_shots_is_never_a_verdict(
    few: list[float], many: list[float], want: Want, few_before: bool
) -> None:
    told = then_and_now(*((few, many) if few_before else (many, few)), want)
    assert told.verdict is Verdict.TOO_EARLY
    assert told.good is None
    assert told.as_read is None


@given(blocks(3, 3), blocks(3, 3), wants, st.sampled_from([0.0, 0.1, None]))
def test_three_against_three_is_never_a_verdict(
    before: list[float], after: list[float], want: Want, smallest_change: float | None
) -> None:
    assert then_and_now(before, after, want, smallest_change).verdict is Verdict.TOO_EARLY


@given(blocks(), blocks(), wants)
def test_chosen_afterwards_has_probably_changed_at_best(
    before: list[float], after: list[float], want: Want
) -> None:
    told = compared(lesson(before, after), want, stated=False)
    stated = compared(lesson(before, after), want)
    assert told.verdict is not Verdict.CHANGED
    assert told.verdict_uncapped is stated.verdict
    capped = stated.verdict is Verdict.CHANGED
    assert told.verdict is (Verdict.PROBABLY if capped else stated.verdict)


@given(blocks(5), blocks(5), wants)
def test_a_moved_device_never_makes_it_surer(
    before: list[float], after: list[float], want: Want
) -> None:
    still = compared(lesson(before, after), want)
    moved = compared(lesson(before, after), want, moved=True)
    assert still.good is not None
    assert moved.good is not None
    assert moved.good.ci90.low <= still.good.ci90.low
    assert moved.good.ci90.high >= still.good.ci90.high
    assert not (moved.verdict is Verdict.CHANGED and still.verdict is not Verdict.CHANGED)


@given(st.data(), blocks(8), blocks(8))
def test_a_missing_reading_is_never_a_zero(
    data: st.DataObject, before: list[float], after: list[float]
) -> None:
    place = data.draw(st.integers(0, len(after)))
    gap: list[float | None] = [*after[:place], None, *after[place:]]
    told, whole = compared(lesson(before, gap)), compared(lesson(before, after))
    assert told.after.values == whole.after.values
    assert told.good == whole.good


@given(blocks(3), blocks(3))
def test_the_same_shots_give_the_same_answer(before: list[float], after: list[float]) -> None:
    assert then_and_now(before, after) == then_and_now(before, after)


@given(blocks(8), blocks(8), st.lists(st.integers(0, 7), unique=True))
def test_calling_shots_mishits_never_raises_the_verdict(
    before: list[float], after: list[float], called: list[int]
) -> None:
    """A mishit stays in the headline; calling one can only make the page more careful."""
    ladder = [Verdict.TOO_EARLY, Verdict.PROBABLY, Verdict.CHANGED]
    plain = then_and_now(before, after)
    tagged = compared(lesson(before, after, tags_after=called))
    assume(not any(plain.before.mishit) and not any(plain.after.mishit))
    assert tagged.good == plain.good
    if tagged.verdict is not plain.verdict:
        assert tagged.lowered_by_mishits
        lower = ladder[: ladder.index(plain.verdict)] if plain.verdict in ladder else ladder[:1]
        assert tagged.verdict in lower


def test_equal_comparisons_differ_only_by_declaration() -> None:
    shots = lesson([1.0, 2, 3, 4, 5], [4.0, 5, 6, 7, 8])
    sealed_word = compared(shots)
    after_word = compared(shots, stated=False)
    assert (
        replace(after_word, declared=sealed_word.declared, verdict=sealed_word.verdict)
        == sealed_word
    )
