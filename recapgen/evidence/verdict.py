"""The five verdicts, and what can lower them."""

from msgspec import Struct

from recapgen.evidence.shift import WIDENING
from recapgen.model.evidence import Declared, Shift, Verdict

_LADDER = (Verdict.TOO_EARLY, Verdict.PROBABLY, Verdict.CHANGED)
_ROUNDING = 1e-9
_FEW = 7
"""Balls a block; so few hardly show a drift, so they must hold wider."""


class Enough(Struct, frozen=True):
    """Shots a block must hold before each verdict may be given, and what the range must stand.

    "Changed" and "went the other way" are said where the exact range stays on its side of
    nothing when made ``holds`` times as wide, ``few_hold`` times in blocks of seven or fewer:
    found by ``tests/benchmarks/search_rules.py``.
    """

    for_changed: int = 5
    for_probably: int = 4
    for_other_way: int = 4
    for_no_change: int = 8
    holds: float = 1.3
    few_hold: float = 1.4

    def asked(self, n: int) -> float:
        """How many times as wide as counted the range must hold; ``n`` of the smaller block."""
        return self.few_hold if n <= _FEW else self.holds


SHIFTS = Enough()
SHARES = Enough(8, 8, 8, 8, holds=WIDENING)


def read_verdict(seen: Shift, smallest_change: float, n: int, enough: Enough) -> Verdict:
    """The verdict before any guard, from a widened shift on the good scale.

    ``n`` is the size of the smaller block; ``smallest_change`` has the shift's unit.

    Amounts that differ by less than rounding count as equal, so that the coach's units
    never decide.
    """
    slack = rounding(seen.estimate, smallest_change, seen.ci80.high - seen.ci80.low)
    towards, away = (
        seen.estimate >= smallest_change - slack,
        seen.estimate <= -smallest_change + slack,
    )
    wider = enough.asked(n) / WIDENING
    low, high = (
        seen.estimate + wider * (end - seen.estimate) for end in (seen.ci90.low, seen.ci90.high)
    )
    if n >= enough.for_other_way and high < -slack and away:
        return Verdict.OTHER_WAY
    if n >= enough.for_changed and low > slack and towards:
        return Verdict.CHANGED
    if n >= enough.for_probably and seen.ci80.low > slack and towards:
        return Verdict.PROBABLY
    inside = seen.ci80.low > -smallest_change + slack and seen.ci80.high < smallest_change - slack
    if n >= enough.for_no_change and inside:
        return Verdict.NO_CHANGE
    return Verdict.TOO_EARLY


def rounding(*amounts: float) -> float:
    """What converting units may add to the largest of ``amounts``, and then some."""
    return _ROUNDING * max(map(abs, amounts))


def lowered(verdict: Verdict, levels: int = 1) -> Verdict:
    """Down the ladder; a movement away from the goal becomes too early to tell."""
    if verdict not in _LADDER:
        return Verdict.TOO_EARLY
    return _LADDER[max(0, _LADDER.index(verdict) - levels)]


def lower_of(one: Verdict, other: Verdict) -> Verdict:
    """The one that claims less; two that contradict each other leave it too early to tell."""
    if one is other:
        return one
    if one in _LADDER and other in _LADDER:
        return min(one, other, key=_LADDER.index)
    return Verdict.TOO_EARLY


def capped(verdict: Verdict, declared: Declared) -> Verdict:
    """A number chosen afterwards has probably changed at best."""
    if declared is Declared.AFTERWARDS and verdict is Verdict.CHANGED:
        return Verdict.PROBABLY
    return verdict
