"""The typical clip: of the filmed shots of a block, the one nearest to its middle."""

from msgspec.structs import replace

from recapgen.choosing.typical import typical_shot
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, SortedShot
from tests.evidence.made_shots import NUMBER, one_block

READINGS = [3.1, 2.0, 2.9, 9.0, 2.7, 3.6, 2.2, 2.8]


def test_ties_go_to_the_earliest() -> None:
    shots = one_block(Block.AFTER, [1.0, 2.0, 3.0, 4.0, 5.0])
    found = typical_shot(shots, Block.AFTER, (4, 2), [NUMBER])
    assert found is not None
    assert found.ranking == (2, 4)
    assert (found.shot, found.position, found.of) == (2, 2, 5)


def test_the_nearest_may_still_be_no_typical_one() -> None:
    shots = one_block(Block.BEFORE, [1.0, 2.0, 3.0, 4.0, 5.0])
    found = typical_shot(shots, Block.BEFORE, (1,), [NUMBER])  # two away, s.d. 1.48
    assert found is not None
    assert (found.shot, found.position, found.ranking) == (None, None, (1,))


def test_a_mishit_never_stands_for_its_block() -> None:
    shots = one_block(Block.AFTER, READINGS, tags=[7])
    found = typical_shot(shots, Block.AFTER, (4, 8), [NUMBER])
    assert found is not None
    assert (found.shot, found.ranking) == (None, ())


def test_no_reading_no_middle() -> None:
    assert typical_shot(one_block(Block.AFTER, [None, None]), Block.AFTER, (1,), [NUMBER]) is None


def test_a_missing_second_number_does_not_count_against_a_shot() -> None:
    shots = tuple(
        replace(s, shot=replace(s.shot, readings={**s.shot.readings, Quantity.TOTAL: 10.0 + i}))
        if i != 2
        else s
        for i, s in enumerate(one_block(Block.AFTER, [1.0, 2.0, 3.0, 4.0, 5.0]))
    )
    found = typical_shot(shots, Block.AFTER, (3, 5), (NUMBER, Quantity.TOTAL))
    assert found is not None
    assert found.shot == 3


def test_what_varies_too_much_in_the_number_goes_last_however_usual_its_guard() -> None:
    """Else "we did not film a typical shot" would be said where one was filmed."""
    shots = with_total([1.0, 2.0, 3.0, 4.0, 5.0], [3.0, 9.0, 3.0, 0.0, 3.0])
    found = typical_shot(shots, Block.AFTER, (1, 2), (NUMBER, Quantity.TOTAL))
    assert found is not None
    assert (found.shot, found.ranking) == (2, (2, 1))


def test_where_the_guarded_one_never_varies_but_for_those_filmed_the_number_decides() -> None:
    shots = with_total([3.4, 3.1, 3.0, 2.0, 4.0], [8.0, 8.0, 7.0, 7.0, 7.0])
    found = typical_shot(shots, Block.AFTER, (1, 2), (NUMBER, Quantity.TOTAL))
    assert found is not None
    assert found.ranking == (2, 1)


def with_total(numbers: list[float], totals: list[float]) -> tuple[SortedShot, ...]:
    """A block after, each shot with a second reading."""
    return tuple(
        replace(s, shot=replace(s.shot, readings={**s.shot.readings, Quantity.TOTAL: total}))
        for s, total in zip(one_block(Block.AFTER, numbers), totals, strict=True)
    )


def test_balls_that_never_vary_are_all_typical() -> None:
    found = typical_shot(one_block(Block.AFTER, [7.0] * 5), Block.AFTER, (3, 4), [NUMBER])
    assert found is not None
    assert found.ranking == (3, 4)
