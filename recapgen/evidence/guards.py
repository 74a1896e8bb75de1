"""What the change may not cost."""

from collections.abc import Sequence

import numpy as np

from recapgen.evidence.arrays import Floats
from recapgen.evidence.phases import AFTER, BEFORE, phase, robust_sd
from recapgen.evidence.shift import shift_between, widened
from recapgen.evidence.smallest_change import setup_error
from recapgen.evidence.verdict import SHIFTS, read_verdict
from recapgen.model.evidence import GuardFinding, GuardResult, Interval, Shift, Verdict
from recapgen.model.lesson import Guard, GuardKind
from recapgen.model.shots import SortedShot

_SHIFT_FROM = 3


def judge_guard(shots: Sequence[SortedShot], guard: Guard, *, moved: bool) -> GuardResult:
    """Held where even the low end of the interval costs less than the margin.

    The guarded value is the reading (a level: less is a loss) or its distance from its
    own block's median (a spread: more is a loss). Lost follows the rule of a number that
    went the other way, with the margin as the change that matters.
    """
    before = phase(shots, BEFORE, guard.quantity).values
    after = phase(shots, AFTER, guard.quantity).values
    setup_sd = setup_error(robust_sd(before), None) if moved and len(before) else 0.0
    if guard.kind is GuardKind.SPREAD:
        before, after = _distances(before), _distances(after)
    n = min(len(before), len(after))
    shift = widened(shift_between(before, after), setup_sd) if n >= _SHIFT_FROM else None
    return GuardResult(
        guard=guard,
        finding=_finding(shift, guard, n) if shift else GuardFinding.CANNOT_TELL,
        before_median=float(np.median(before)) if len(before) else None,
        after_median=float(np.median(after)) if len(after) else None,
        shift=shift,
    )


def _distances(values: Floats) -> Floats:
    return np.abs(values - np.median(values)) if len(values) else values


def _finding(shift: Shift, guard: Guard, n: int) -> GuardFinding:
    good = _turned(shift) if guard.kind is GuardKind.SPREAD else shift
    if n >= SHIFTS.for_changed and good.ci90.low > -guard.margin:
        return GuardFinding.HELD
    if read_verdict(good, guard.margin, n, SHIFTS) is Verdict.OTHER_WAY:
        return GuardFinding.LOST
    return GuardFinding.CANNOT_TELL


def _turned(shift: Shift) -> Shift:
    """A spread's loss is more of it."""
    ci90, ci80 = (Interval(-ends.high, -ends.low) for ends in (shift.ci90, shift.ci80))
    return Shift(-shift.estimate, ci90, ci80)
