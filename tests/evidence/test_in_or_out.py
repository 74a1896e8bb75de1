"""Balls that are in or out: judged by their share, by the rules that hold for shares."""

from datetime import date

import pytest

from recapgen.evidence.compare import compare
from recapgen.evidence.retention import baseline, retained
from recapgen.evidence.share import MATTERS, share, share_change
from recapgen.model.evidence import Comparison, DriftFinding, SmallestChangeFrom, Verdict
from recapgen.model.lesson import Declaration
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, SortedShot
from tests.evidence.made_shots import HIGHER, NOTES, one_block


def balls(block: Block, were_in: int, of: int) -> tuple[SortedShot, ...]:
    values = [1.0] * were_in + [0.0] * (of - were_in)
    return one_block(block, values, first=1 + 100 * (block is Block.AFTER), quantity=Quantity.HOLED)


def counted(before: tuple[int, int], after: tuple[int, int], *, moved: bool = False) -> Comparison:
    told = compare(
        (*balls(Block.BEFORE, *before), *balls(Block.AFTER, *after)),
        Declaration(Quantity.HOLED, HIGHER, None, None, True, NOTES),
        None,
        moved=moved,
        accuracy=None,
        resolution=1.0,
        earlier_before=(),
    )
    assert told is not None
    return told


@pytest.mark.parametrize(
    ("before", "after", "verdict"),
    [
        ((3, 10), (8, 10), Verdict.CHANGED),
        ((8, 10), (3, 10), Verdict.OTHER_WAY),
        ((4, 10), (8, 10), Verdict.PROBABLY),
        ((5, 10), (6, 10), Verdict.TOO_EARLY),
        ((60, 100), (60, 100), Verdict.NO_CHANGE),
        ((0, 4), (4, 4), Verdict.TOO_EARLY),  # however far apart: eight a side for shares
        ((0, 2), (2, 2), Verdict.TOO_EARLY),
    ],
)
def test_the_share_decides(
    before: tuple[int, int], after: tuple[int, int], verdict: Verdict
) -> None:
    assert counted(before, after).verdict is verdict


def test_what_is_told_is_the_share_and_nothing_of_levels() -> None:
    told = counted((3, 10), (8, 10), moved=True)
    change = share_change(share(3, 10), share(8, 10))
    assert told.by_share
    assert told.inside == change
    assert (told.before.median, told.after.median) == pytest.approx((0.3, 0.8))
    assert told.as_read is not None
    assert told.as_read.estimate == pytest.approx(0.5)
    assert told.as_read.ci90 == change.newcombe90
    assert (told.smallest_change, told.smallest_change_from) == (MATTERS, SmallestChangeFrom.SHARE)
    assert told.drift is DriftFinding.NOT_CHECKED
    assert told.spread is None
    assert told.setup_sd == 0.0


def test_the_order_of_the_balls_tells_nothing() -> None:
    shots = (*balls(Block.BEFORE, 3, 10), *balls(Block.AFTER, 8, 10))
    aim = Declaration(Quantity.HOLED, HIGHER, None, None, True, NOTES)
    given = {"moved": False, "accuracy": None, "resolution": 1.0, "earlier_before": ()}
    turned = compare(tuple(reversed(shots)), aim, None, **given)  # type: ignore[arg-type]
    straight = compare(shots, aim, None, **given)  # type: ignore[arg-type]
    assert turned is not None
    assert straight is not None
    assert (turned.verdict, turned.inside) == (straight.verdict, straight.inside)


def test_a_handful_of_balls_has_no_share_of_a_gain() -> None:
    now = baseline(balls(Block.BEFORE, 7, 10), Quantity.HOLED)
    then = counted((3, 10), (8, 10))
    assert retained(then, now, 0.1, date(2027, 4, 11), date(2027, 4, 18)) is None
