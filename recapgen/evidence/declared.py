"""When was the number chosen: proved by a seal, on the coach's word, or afterwards."""

from collections.abc import Sequence
from datetime import datetime
from math import isclose

from recapgen.model.evidence import Declared
from recapgen.model.lesson import Declaration, Guard, Seal, Want
from recapgen.model.shots import Block, SortedShot


def when_declared(
    declaration: Declaration, seal: Seal | None, shots: Sequence[SortedShot]
) -> Declared:
    """Sealed where the seal says the same and is older than the first after-shot.

    A shot without a time cannot contradict the seal. Where the notes differ from the
    seal, the number was changed after it, whatever the notes say.
    """
    if seal is not None:
        if not _same(declaration, seal):
            return Declared.AFTERWARDS
        first = first_after_at(shots)
        if first is None or _earlier(seal.sealed_at, first):
            return Declared.SEALED
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


def _same(declaration: Declaration, seal: Seal) -> bool:
    return (
        declaration.quantity is seal.quantity
        and _same_want(declaration.want, seal.want)
        and _same_amount(declaration.matters, seal.matters)
        and _same_guard(declaration.guard, seal.guard)
    )


def _same_want(one: Want, other: Want) -> bool:
    return (
        one.direction is other.direction
        and _same_amount(one.low, other.low)
        and _same_amount(one.high, other.high)
    )


def _same_guard(one: Guard | None, other: Guard | None) -> bool:
    if one is None or other is None:
        return one is other
    return (
        one.quantity is other.quantity
        and one.kind is other.kind
        and _same_amount(one.margin, other.margin)
    )


def _same_amount(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return isclose(one, other, rel_tol=1e-6, abs_tol=1e-9)
