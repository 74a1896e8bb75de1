"""The other numbers that were looked at: intervals, and one dot that allows for the many."""

from collections.abc import Mapping, Sequence
from math import erfc, sqrt
from statistics import NormalDist

import numpy as np

from recapgen.evidence.phases import AFTER, BEFORE, Phase, phase, robust_sd
from recapgen.evidence.shift import chance_of_such_a_shift, shift_between, widened
from recapgen.evidence.smallest_change import setup_error
from recapgen.model.quantity import Quantity
from recapgen.model.recap import OtherNumber
from recapgen.model.shots import SortedShot

_LOOKED_AT_FROM = 3  # shots a block
_DOT_AT = 0.10
_RESEMBLANCE = sqrt(1.3 / 0.7)


def undeclared_numbers(
    shots: Sequence[SortedShot],
    but_not: Quantity,
    moved: Mapping[Quantity, float] | None = None,
) -> tuple[OtherNumber, ...]:
    """Every number read in both blocks but the declared one, in the trade's order.

    As read, after minus before, with widened 90% intervals. ``moved``, where device, ball or
    line was moved between the blocks: the device's errors (one s.d.), which widen them further.
    The dot: Holm (1979) at .10 over all of them, from the exact chances allowed for shots that
    resemble each other; where something was moved the widened interval must be clear of nothing
    as well.
    """
    seen = [
        (quantity, before, after)
        for quantity in Quantity
        if quantity is not but_not
        for before, after in [(phase(shots, BEFORE, quantity), phase(shots, AFTER, quantity))]
        if min(len(before), len(after)) >= _LOOKED_AT_FROM
    ]
    dots = holm([resembling(chance_of_such_a_shift(b.values, a.values)) for _, b, a in seen])
    return tuple(
        _other(quantity, before, after, moved, stands_out=adjusted <= _DOT_AT)
        for (quantity, before, after), adjusted in zip(seen, dots, strict=True)
    )


def resembling(chance: float) -> float:
    """A two-sided chance where each shot resembles the last by .3.

    Means of such shots scatter sqrt((1 + .3) / (1 - .3)) times as far, so the normal quantile
    of the chance is so much nearer to the middle.
    """
    if chance <= 0:
        return 0.0
    return erfc(-NormalDist().inv_cdf(chance / 2) / _RESEMBLANCE / sqrt(2))


def holm(chances: Sequence[float]) -> list[float]:
    """Chances adjusted for their number, in the order given (Holm 1979)."""
    adjusted = [0.0] * len(chances)
    so_far = 0.0
    by_size = sorted(range(len(chances)), key=chances.__getitem__)
    for rank, i in enumerate(by_size):
        so_far = max(so_far, min(1.0, (len(chances) - rank) * chances[i]))
        adjusted[i] = so_far
    return adjusted


def _other(
    quantity: Quantity,
    before: Phase,
    after: Phase,
    moved: Mapping[Quantity, float] | None,
    *,
    stands_out: bool,
) -> OtherNumber:
    setup_sd = 0.0
    if moved is not None:
        setup_sd = setup_error(robust_sd(before.values), moved.get(quantity))
    shift = widened(shift_between(before.values, after.values), setup_sd)
    clear = moved is None or shift.ci90.low > 0 or shift.ci90.high < 0
    return OtherNumber(
        quantity=quantity,
        before_median=float(np.median(before.values)),
        after_median=float(np.median(after.values)),
        estimate=shift.estimate,
        low90=shift.ci90.low,
        high90=shift.ci90.high,
        dot=stands_out and clear,
    )
