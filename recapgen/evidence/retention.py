"""What stuck: a lesson's gain at the start of the next one.

A gain within the lesson is performance; only a later, uncued block speaks to learning.
"""

from collections.abc import Sequence
from datetime import date
from math import cos, pi, sin, sqrt, tan

import numpy as np

from recapgen.evidence.phases import phase, robust_sd, sample
from recapgen.evidence.shift import Z90, goodness, shift_between
from recapgen.model.evidence import (
    Comparison,
    Interval,
    Kept,
    Retention,
    Sample,
    Shift,
    Verdict,
)
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, SortedShot

_SHIFT_FROM = 3
_HALVINGS = 53  # all digits
_DAY_TO_DAY = 0.3  # of the usual spread, until the student's own is known (convention)
_DAY_TO_DAY_LEAST = 0.15
_OWN_DAYS_FROM = 3  # lessons
_MEDIAN_COST = np.pi / 2  # variance of a median over that of a mean, normal readings
_HALF = 0.5


def baseline(shots: Sequence[SortedShot], quantity: Quantity) -> Sample:
    """The uncued opening block of a lesson: before-shots only, no closing block."""
    return sample(phase(shots, (Block.BEFORE,), quantity), quantity)


def day_to_day_sd(baselines: Sequence[Sample], usual_sd: float) -> float:
    """How much this student's level moves from day to day, beyond the shots' own scatter.

    ``baselines`` of one club and number, one a lesson. Until there are three, 0.3 of
    ``usual_sd``; never under 0.15 of it.
    """
    days = [np.array(b.values) for b in baselines if b.n >= _SHIFT_FROM]
    if len(days) < _OWN_DAYS_FROM:
        return _DAY_TO_DAY * usual_sd
    medians = np.array([np.median(day) for day in days])
    scatter = float(np.mean([_MEDIAN_COST * robust_sd(day) ** 2 / len(day) for day in days]))
    own = sqrt(max(0.0, float(medians.var(ddof=1)) - scatter))
    return max(own, _DAY_TO_DAY_LEAST * usual_sd)


def retained(
    earlier: Comparison, now: Sample, day_sd: float, from_lesson: date, to_lesson: date
) -> Retention | None:
    """What ``now``, a later lesson's baseline, still shows of ``earlier``'s gain.

    Same club and number; at least a day between, else None; None too where a block holds
    fewer than three readings, or where balls are only in or out (a handful of them has no
    share of a gain to tell). All three blocks on ``earlier``'s good scale, unwidened
    intervals. No share where the gain itself is not established, or where the earlier
    lesson's own verdict calls it none.
    """
    blocks = [np.array(s.values) for s in (earlier.before, earlier.after, now)]
    n = min(len(b) for b in blocks)
    if n < _SHIFT_FROM or to_lesson <= from_lesson or earlier.quantity.is_outcome:
        return None
    before, after, later = (goodness(b, earlier.want) for b in blocks)
    gained, still = shift_between(before, after), shift_between(before, later)
    share = None
    kept = Kept.NO_GAIN
    called_a_gain = earlier.verdict in {Verdict.CHANGED, Verdict.PROBABLY}
    if called_a_gain and gained.ci90.low > 0 and gained.estimate >= earlier.smallest_change:
        since = shift_between(after, later)
        share = kept_share(gained, still, since, day_sd=day_sd, n=n, level=0.80)
        kept = _kept(share)
    return Retention(
        quantity=earlier.quantity,
        from_lesson=from_lesson,
        to_lesson=to_lesson,
        gained=gained.estimate,
        still_there=still.estimate,
        share80=share,
        kept=kept,
    )


def kept_share(
    gained: Shift, still: Shift, since: Shift, *, day_sd: float, n: int, level: float
) -> Interval | None:
    """The share kept: all x with |N - x D| <= t sd(N - x D), D gained and N still there.

    Takes shifts on the good scale, the day-to-day standard deviation in their unit and the size
    of the smallest block; gives the interval at ``level``, None where it has no ends (Fieller
    1954). N and D share the before-block, hence their covariance; it is found from the third
    shift, ``since`` the after-block, before the day's own variance is added to N.
    """
    v_gained, v_still, v_since = (_variance(s) for s in (gained, still, since))
    shared = max((v_still + v_gained - v_since) / 2, 0.25 * min(v_still, v_gained))
    v_still += 2 * day_sd**2
    t = student_t(2 * n - 2, level)
    a = gained.estimate**2 - t * t * v_gained
    b = gained.estimate * still.estimate - t * t * shared
    c = still.estimate**2 - t * t * v_still
    inside = b * b - a * c
    if a <= 0 or inside < 0:
        return None
    return Interval((b - sqrt(inside)) / a, (b + sqrt(inside)) / a)


def student_t(freedom: int, level: float) -> float:
    """The t that Student's t keeps within with chance ``level``, for an even ``freedom``.

    Abramowitz and Stegun (1964) 26.7.4, a finite sum in the angle whose tangent is t over the
    root of ``freedom``; halved until it is exact.
    """
    low, high = 0.0, pi / 2
    for _ in range(_HALVINGS):
        angle = (low + high) / 2
        term = within = sin(angle)
        for k in range(1, freedom // 2):
            term *= (2 * k - 1) / (2 * k) * cos(angle) ** 2
            within += term
        low, high = (angle, high) if within < level else (low, angle)
    return sqrt(freedom) * tan((low + high) / 2)


def _variance(shift: Shift) -> float:
    return ((shift.ci90.high - shift.ci90.low) / (2 * Z90)) ** 2


def _kept(share: Interval | None) -> Kept:
    if share is None:
        return Kept.TOO_EARLY
    if share.low >= _HALF:
        return Kept.MOSTLY
    if share.low > 0:
        return Kept.SOME
    if share.high < _HALF:
        return Kept.FADED
    return Kept.TOO_EARLY
