"""Shots made up for tests: two blocks of readings as a lesson would hold them."""

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta

from msgspec.structs import replace

from recapgen.evidence.compare import compare
from recapgen.evidence.phases import phase, sample
from recapgen.model.evidence import Comparison, Sample
from recapgen.model.lesson import Declaration, Direction, Guard, Seal, Want
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, Shot, ShotStatus, SortedShot
from recapgen.model.source import SourceRef

NOTES = SourceRef("anna/2027-04-11/notes.md", 3, 1)
HIGHER = Want(Direction.HIGHER)
LOWER = Want(Direction.LOWER)
NUMBER = Quantity.CARRY
# shuffled, so that neither block has a trend of its own
BEFORE_10 = [2.1, 1.4, 2.9, 1.8, 2.4, 1.1, 2.6, 2.0, 1.6, 2.3]
AFTER_10 = [4.3, 3.7, 5.0, 4.1, 3.2, 4.6, 3.9, 4.8, 3.5, 4.4]
RISING = [1.0, 1.6, 1.9, 2.6, 3.1, 3.4, 4.1, 4.6, 4.9, 5.6]
NINE = datetime(2027, 4, 11, 9, 0, tzinfo=UTC)


def window(low: float, high: float) -> Want:
    return Want(Direction.WINDOW, low, high)


def one_block(
    block: Block,
    readings: Sequence[float | None],
    *,
    first: int = 1,
    quantity: Quantity = NUMBER,
    tags: Sequence[int] = (),
) -> tuple[SortedShot, ...]:
    """``tags`` are the places in the block, from 0, that the coach called mishits."""
    return tuple(
        SortedShot(
            Shot(
                number=first + i,
                where=SourceRef("anna/2027-04-11/shots.csv", first + i + 1),
                readings={} if value is None else {quantity: value},
                block=block,
                time=NINE + timedelta(minutes=first + i),
                tag="thin" if i in tags else None,
            ),
            block,
            ShotStatus.NOT_READ if value is None else ShotStatus.USED,
        )
        for i, value in enumerate(readings)
    )


def lesson(
    before: Sequence[float | None],
    after: Sequence[float | None],
    closing: Sequence[float | None] = (),
    *,
    tags_before: Sequence[int] = (),
    tags_after: Sequence[int] = (),
) -> tuple[SortedShot, ...]:
    return (
        *one_block(Block.BEFORE, before, tags=tags_before),
        *one_block(Block.AFTER, after, first=len(before) + 1, tags=tags_after),
        *one_block(Block.CLOSING, closing, first=len(before) + len(after) + 1),
    )


def with_drill(shots: Sequence[SortedShot], after: int, balls: int) -> tuple[SortedShot, ...]:
    """``balls`` of a drill put behind the first ``after`` shots."""
    drill = one_block(Block.DRILL, [0.0] * balls, first=900)
    aside = (replace(shot, status=ShotStatus.SET_ASIDE) for shot in drill)
    return (*shots[:after], *aside, *shots[after:])


def sample_of(readings: Sequence[float]) -> Sample:
    return sample(phase(one_block(Block.BEFORE, readings), (Block.BEFORE,), NUMBER), NUMBER)


def declaration(
    want: Want = HIGHER,
    smallest_change: float | None = 0.5,
    *,
    stated: bool = True,
    guard: Guard | None = None,
) -> Declaration:
    return Declaration(NUMBER, want, smallest_change, guard, stated, NOTES)


def compared(
    shots: Sequence[SortedShot],
    want: Want = HIGHER,
    smallest_change: float | None = 0.5,
    *,
    stated: bool = True,
    guard: Guard | None = None,
    seal: Seal | None = None,
    moved: bool = False,
    accuracy: float | None = None,
    resolution: float = 0.0,
    earlier_before: Sequence[Sample] = (),
    on: date | None = None,
) -> Comparison:
    told = compare(
        shots,
        declaration(want, smallest_change, stated=stated, guard=guard),
        seal,
        moved=moved,
        accuracy=accuracy,
        resolution=resolution,
        earlier_before=earlier_before,
        on=on,
    )
    assert told is not None
    return told


def then_and_now(
    before: Sequence[float | None],
    after: Sequence[float | None],
    want: Want = HIGHER,
    smallest_change: float | None = 0.5,
) -> Comparison:
    """The plain comparison of two blocks, the number stated beforehand."""
    return compared(lesson(before, after), want, smallest_change)


def with_reading(
    shots: tuple[SortedShot, ...], quantity: Quantity, values: list[float]
) -> tuple[SortedShot, ...]:
    return tuple(
        replace(s, shot=replace(s.shot, readings={**s.shot.readings, quantity: value}))
        for s, value in zip(shots, values, strict=True)
    )
