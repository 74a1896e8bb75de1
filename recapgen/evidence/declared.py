"""When was the number chosen: proved by a seal, on the coach's word, or afterwards."""

from collections.abc import Sequence
from datetime import date, datetime

from recapgen.model.aim import same_aim
from recapgen.model.evidence import Declared
from recapgen.model.lesson import Declaration, Seal
from recapgen.model.shots import Block, SortedShot


def when_declared(
    declaration: Declaration,
    seal: Seal | None,
    shots: Sequence[SortedShot],
    on: date | None = None,
) -> Declared:
    """Sealed where the seal says the same and is older than the first after-shot.

    What was noted on a phone comes with a time that was checked at reading.

    Where no after-shot has a time, a seal from the lesson's own day (``on``) or before it
    stands. Where the notes differ from the seal, the number was changed after it, whatever
    the notes say.
    """
    if seal is not None:
        if not same_aim(declaration, seal):
            return Declared.AFTERWARDS
        first = first_after_at(shots)
        if first is None:
            in_time = on is None or seal.sealed_at.date() <= on
        else:
            in_time = _earlier(seal.sealed_at, first)
        if in_time:
            return Declared.SEALED
    if declaration.noted_s is not None:
        return Declared.NOTED
    return Declared.STATED if declaration.stated else Declared.AFTERWARDS


def first_after_at(shots: Sequence[SortedShot]) -> datetime | None:
    """When the first after-shot with a time was hit, whatever became of it."""
    return next(
        (s.shot.time for s in shots if s.block is Block.AFTER and s.shot.time is not None), None
    )


def _earlier(sealed: datetime, shot: datetime) -> bool:
    """By the clock on the wall where one of the two knows no time zone."""
    if (sealed.tzinfo is None) != (shot.tzinfo is None):
        sealed, shot = sealed.replace(tzinfo=None), shot.replace(tzinfo=None)
    return sealed <= shot
