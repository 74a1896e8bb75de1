"""Shares of shots, then and now, with intervals that hold for a handful of shots."""

from math import sqrt

from recapgen.evidence.shift import Z80, Z90
from recapgen.model.evidence import Interval, Share, ShareChange, Shift

MATTERS = 0.25
"""The smallest change of a share worth speaking of."""


def share(count: int, n: int) -> Share:
    return Share(count, n, wilson(count, n, Z90))


def share_change(before: Share, after: Share) -> ShareChange:
    """Both blocks need a shot."""
    return ShareChange(
        before=before,
        after=after,
        difference=after.count / after.n - before.count / before.n,
        newcombe90=newcombe(before, after, Z90),
        newcombe80=newcombe(before, after, Z80),
    )


def share_shift(change: ShareChange) -> Shift:
    """The difference of two shares with its intervals, as the verdicts read a shift."""
    return Shift(change.difference, change.newcombe90, change.newcombe80)


def wilson(count: int, n: int, z: float) -> Interval:
    """Score interval of a share (Wilson 1927)."""
    if n == 0:
        return Interval(0.0, 1.0)
    p = count / n
    middle = (p + z * z / (2 * n)) / (1 + z * z / n)
    half = z * sqrt(p * (1 - p) / n + z * z / (4 * n * n)) / (1 + z * z / n)
    return Interval(max(0.0, middle - half), min(1.0, middle + half))


def newcombe(before: Share, after: Share, z: float) -> Interval:
    """Hybrid score interval of after minus before (Newcombe 1998, method 10)."""
    was, now = before.count / before.n, after.count / after.n
    was_in, now_in = wilson(before.count, before.n, z), wilson(after.count, after.n, z)
    difference = now - was
    return Interval(
        difference - sqrt((now - now_in.low) ** 2 + (was_in.high - was) ** 2),
        difference + sqrt((now_in.high - now) ** 2 + (was - was_in.low) ** 2),
    )
