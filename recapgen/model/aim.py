"""Do notes and seal aim at the same? Amounts that differ by rounding of units do not differ."""

from math import isclose

from msgspec.structs import replace

from recapgen.model.lesson import Declaration, Guard, Seal, Want


def same_aim(one: Declaration | Seal, other: Declaration | Seal) -> bool:
    """The same number, want, smallest change and guard; silence is a difference."""
    return (
        one.quantity is other.quantity
        and _same_want(one.want, other.want)
        and _same_amount(one.smallest_change, other.smallest_change)
        and _same_guard(one.guard, other.guard)
    )


def with_what_was_sealed(declaration: Declaration, seal: Seal) -> Declaration:
    """The notes' declaration; where it is silent, what was sealed for the same number holds."""
    if declaration.quantity is not seal.quantity:
        return declaration
    return replace(
        declaration,
        smallest_change=seal.smallest_change
        if declaration.smallest_change is None
        else declaration.smallest_change,
        guard=declaration.guard or seal.guard,
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
