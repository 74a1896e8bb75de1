"""Thousands of simulated lessons at once: what every rule for a verdict is read from.

One standard deviation of a good strike is the unit. A lesson is ``n`` before-shots, ``drill``
balls of practice and ``n`` after-shots, drawn as one run of balls; arrays are (lessons, n).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt
from msgspec import Struct
from msgspec.structs import replace

from recapgen.evidence.ranks import interval_rank
from recapgen.evidence.shift import WIDENING
from recapgen.evidence.verdict import SHIFTS
from recapgen.model.evidence import Verdict

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]
Places = npt.NDArray[np.intp]
Levels = npt.NDArray[np.int64]
Draw = Callable[[np.random.Generator, int, int], Floats]

FLAG_AT, FLAG_FROM = 3.5, 8
DRIFT_FROM = 6
AT_ONCE = 1000
MATTERS = 0.5
ORDER = (Verdict.TOO_EARLY, Verdict.PROBABLY, Verdict.CHANGED, Verdict.NO_CHANGE, Verdict.OTHER_WAY)
"""Verdicts as numbers: the ladder first, so that the lower of two claims is the smaller."""


def clean(rng: np.random.Generator, lessons: int, balls: int) -> Floats:
    return rng.normal(0, 1, (lessons, balls))


def mishits(rng: np.random.Generator, lessons: int, balls: int) -> Floats:
    """A fifth of the shots 3 SD short, with twice the scatter."""
    return clean(rng, lessons, balls) + _missed(rng, lessons, balls)


def correlated(by: float) -> Draw:
    """Each shot resembles the last by so much."""

    def draw(rng: np.random.Generator, lessons: int, balls: int) -> Floats:
        steps = clean(rng, lessons, balls)
        steps[:, 1:] *= np.sqrt(1 - by**2)
        for i in range(1, balls):
            steps[:, i] += by * steps[:, i - 1]
        return steps

    return draw


def correlated_mishits(rng: np.random.Generator, lessons: int, balls: int) -> Floats:
    return correlated(0.3)(rng, lessons, balls) + _missed(rng, lessons, balls)


def drifting(rng: np.random.Generator, lessons: int, balls: int) -> Floats:
    """Cold for six shots, a slow rise of a quarter SD, correlated, a fifth mishit."""
    shot = np.arange(balls)
    level = -0.8 * np.exp(-shot / 6) + 0.25 * shot / balls
    return correlated_mishits(rng, lessons, balls) + level


def _missed(rng: np.random.Generator, lessons: int, balls: int) -> Floats:
    size = (lessons, balls)
    return (rng.random(size) < 0.2) * rng.normal(-3, np.sqrt(3), size)


SCENARIOS: Mapping[str, Draw] = {
    "clean": clean,
    "20% mishits": mishits,
    "correlation .3": correlated(0.3),
    "correlation, mishits": correlated_mishits,
    "drift, correlation, mishits": drifting,
}


class Seen(Struct, frozen=True):
    """What is read off each lesson, all (lessons,), exact and unwidened.

    ``slope_before`` is of the before-block alone, ``slope_both`` the middle of all slopes
    within either block, in units a ball; ``rising`` and ``falling`` the chances that shuffled
    before-shots rise or fall at least as steadily. ``apart`` is how many balls lie between
    the blocks' mean places, ``apart_all`` the same with the drill balls.
    """

    estimate: Floats
    low90: Floats
    high90: Floats
    low80: Floats
    high80: Floats
    slope_before: Floats
    slope_both: Floats
    rising: Floats
    falling: Floats
    apart: Floats
    apart_all: Floats
    before: Floats  # balls before
    balls: Floats  # of the shorter block as hit

    @classmethod
    def nothing(cls, lessons: int) -> "Seen":
        return cls(*(np.full(lessons, np.nan) for _ in cls.__struct_fields__))

    def put(self, where: Places, part: "Seen") -> None:
        for name in self.__struct_fields__:
            getattr(self, name)[where] = getattr(part, name)


@dataclass(frozen=True, slots=True)
class Lessons:
    """``whole`` with every ball; ``without`` flagged mishits, where ``flagged``."""

    whole: Seen
    without: Seen
    flagged: Flags


def lessons_of(draw: Draw, seed: list[int], lessons: int, n: int, drill: int) -> Lessons:
    """As many simulated lessons in which nothing changed; the same ``seed`` gives the same."""
    rng = np.random.default_rng(seed)
    whole, without = Seen.nothing(lessons), Seen.nothing(lessons)
    flagged = np.zeros(lessons, dtype=np.bool_)
    for first in range(0, lessons, AT_ONCE):
        where = np.arange(first, min(first + AT_ONCE, lessons))
        balls = draw(rng, len(where), 2 * n + drill)
        before, after = balls[:, :n], balls[:, n + drill :]
        read_into(before, after, drill, whole, without, flagged, where)
    return Lessons(whole, without, flagged)


def moved(lessons: Lessons, by: float) -> Lessons:
    """The same lessons with every after-ball moved: what is read off them moves along."""

    def along(seen: Seen) -> Seen:
        return replace(
            seen,
            estimate=seen.estimate + by,
            low90=seen.low90 + by,
            high90=seen.high90 + by,
            low80=seen.low80 + by,
            high80=seen.high80 + by,
        )

    return Lessons(along(lessons.whole), along(lessons.without), lessons.flagged)


def read_into(  # noqa: PLR0917 (the parts of one lesson)
    before: Floats,
    after: Floats,
    drill: int,
    whole: Seen,
    without: Seen,
    flagged: Flags,
    where: Places,
) -> None:
    n, m = before.shape[1], after.shape[1]
    places = np.broadcast_to(np.arange(n), before.shape)
    later = np.broadcast_to(np.arange(m) + n, after.shape)
    whole.put(where, read(before, after, places, later, drill, min(n, m)))
    bad, bad_after = far_off(before), far_off(after)
    removed, removed_after = bad.sum(axis=1), bad_after.sum(axis=1)
    flagged[where] = (removed + removed_after) > 0
    for gone, gone_after in {*zip(removed.tolist(), removed_after.tolist(), strict=True)}:
        if gone + gone_after == 0:
            continue
        rows = np.flatnonzero((removed == gone) & (removed_after == gone_after))
        kept = np.sort(np.argsort(bad[rows], axis=1, kind="stable")[:, : n - gone], axis=1)
        kept_after = np.argsort(bad_after[rows], axis=1, kind="stable")[:, : m - gone_after]
        kept_after = np.sort(kept_after, axis=1)
        part = read(
            np.take_along_axis(before[rows], kept, axis=1),
            np.take_along_axis(after[rows], kept_after, axis=1),
            kept,
            kept_after + n,
            drill,
            min(n, m),
        )
        without.put(where[rows], part)


def read(  # noqa: PLR0917 (the parts of one lesson)
    before: Floats,
    after: Floats,
    places: Places,
    later: Places,
    drill: int,
    balls: int,
) -> Seen:
    """``places`` and ``later`` are where the balls stand, the drill balls not counted."""
    lessons, n = before.shape
    m = after.shape[1]
    differences = np.sort((after[:, :, None] - before[:, None, :]).reshape(lessons, -1), axis=1)
    ends = {}
    for one_in in (20, 10):
        rank = interval_rank(n, m, one_in)
        never = np.full(lessons, np.inf)
        ends[one_in] = (
            (differences[:, rank - 1], differences[:, -rank]) if rank else (-never, never)
        )
    within = slopes(before, places)
    within_after = slopes(after, later)
    rising, falling = steady(before)
    apart = later.mean(axis=1) - places.mean(axis=1)
    return Seen(
        estimate=np.median(differences, axis=1),
        low90=ends[20][0],
        high90=ends[20][1],
        low80=ends[10][0],
        high80=ends[10][1],
        slope_before=np.median(within, axis=1) if n > 1 else np.zeros(lessons),
        slope_both=np.median(np.hstack([within, within_after]), axis=1),
        rising=rising,
        falling=falling,
        apart=apart,
        apart_all=apart + drill,
        before=np.full(lessons, float(n)),
        balls=np.full(lessons, float(balls)),
    )


def slopes(values: Floats, places: Places) -> Floats:
    first, second = np.triu_indices(values.shape[1], 1)
    return np.asarray(
        (values[:, second] - values[:, first]) / (places[:, second] - places[:, first])
    )


def steady(values: Floats) -> tuple[Floats, Floats]:
    """Exact one-sided chances of a rise, and of a fall, at least as steady (Kendall 1938)."""
    n = values.shape[1]
    first, second = np.triu_indices(n, 1)
    score = np.sign(values[:, second] - values[:, first]).sum(axis=1).astype(np.int64)
    chances = _orders(n)
    pairs = n * (n - 1) // 2
    return chances[(pairs - score) // 2], chances[(pairs + score) // 2]


@cache
def _orders(n: int) -> Floats:
    """Chance of at most 0, 1, ... n (n - 1) / 2 falls among shuffled readings."""
    chances = np.ones(1)
    for i in range(2, n + 1):
        chances = np.convolve(chances, np.full(i, 1 / i))
    return np.cumsum(chances)


def far_off(values: Floats) -> Flags:
    """What is flagged as a mishit."""
    if values.shape[1] < FLAG_FROM:
        return np.zeros(values.shape, dtype=np.bool_)
    away = np.abs(values - np.median(values, axis=1, keepdims=True))
    usual = 1.4826 * np.median(away, axis=1, keepdims=True)
    return np.asarray((away > FLAG_AT * usual) & (usual > 0))


@dataclass(frozen=True, slots=True)
class Rule:
    """What may be chosen: how wide the range must hold, and how far a trend is believed.

    A change is explained where ``goes_on`` times what the slope would bring leaves less than
    what matters; it is dropped where a trend whose chance is at most ``clear_at`` leaves so
    little when it goes on in full.
    """

    holds: float
    few_hold: float
    goes_on: float
    clear_at: float
    both_slopes: bool = False
    drill_counts: bool = False
    few: int = 7
    widens: float = WIDENING  # what "probably" and "no change" rest on


BUILT = Rule(SHIFTS.holds, SHIFTS.few_hold, goes_on=0.5, clear_at=0.01)


def judged(lessons: Lessons, rule: Rule, smallest_change: float = MATTERS) -> Levels:
    """Places in ``ORDER``, one a lesson, every guard on."""
    with np.errstate(invalid="ignore"):
        whole = _after_drift(lessons.whole, rule, smallest_change)
        without = _after_drift(lessons.without, rule, smallest_change)
    on_the_ladder = np.maximum(whole, without) <= ORDER.index(Verdict.CHANGED)
    lower = np.where(on_the_ladder, np.minimum(whole, without), 0)
    return np.asarray(np.where(lessons.flagged & (whole != without), lower, whole))


def _after_drift(seen: Seen, rule: Rule, smallest_change: float) -> Levels:
    level = _read(seen, rule, smallest_change)
    slope = seen.slope_both if rule.both_slopes else seen.slope_before
    gone_on = slope * (seen.apart_all if rule.drill_counts else seen.apart)
    for way, steady_at, claims in ((1, seen.rising, (1, 2)), (-1, seen.falling, (4,))):
        claimed = np.isin(level, claims) & (seen.before >= DRIFT_FROM)
        part = way * rule.goes_on * gone_on
        explained = claimed & (part > 0) & (way * seen.estimate - part < smallest_change)
        full = way * seen.slope_before * (seen.apart_all if rule.drill_counts else seen.apart)
        dropped = claimed & (full > 0) & (way * seen.estimate - full < smallest_change)
        dropped &= steady_at <= rule.clear_at
        lower = np.where(level == 4, 0, level - 1)
        level = np.where(dropped, 0, np.where(explained, lower, level))
    return np.asarray(level)


def _read(seen: Seen, rule: Rule, smallest_change: float) -> Levels:
    asked = np.where(seen.balls <= rule.few, rule.few_hold, rule.holds)
    low, high = (seen.estimate + asked * (end - seen.estimate) for end in (seen.low90, seen.high90))
    low80, high80 = (
        seen.estimate + rule.widens * (end - seen.estimate) for end in (seen.low80, seen.high80)
    )
    towards = seen.estimate >= smallest_change
    return np.select(
        [
            (seen.balls >= SHIFTS.for_other_way) & (high < 0) & (seen.estimate <= -smallest_change),
            (seen.balls >= SHIFTS.for_changed) & (low > 0) & towards,
            (seen.balls >= SHIFTS.for_probably) & (low80 > 0) & towards,
            (seen.balls >= SHIFTS.for_no_change)
            & (low80 > -smallest_change)
            & (high80 < smallest_change),
        ],
        [
            ORDER.index(v)
            for v in (Verdict.OTHER_WAY, Verdict.CHANGED, Verdict.PROBABLY, Verdict.NO_CHANGE)
        ],
        default=0,
    )
