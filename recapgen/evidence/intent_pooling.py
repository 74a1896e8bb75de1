"""Which intent moved together with which number, over all of a coach's students.

No control group, and the coach picks the intent to fit the student: never "caused".
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from math import erfc, sqrt
from statistics import NormalDist

import numpy as np
from msgspec import Struct

from recapgen.evidence.advice import hidden
from recapgen.evidence.arrays import Floats
from recapgen.evidence.shift import Z90
from recapgen.model.evidence import Comparison, IntentRow, Interval, LessonGain

_RANKED_FROM = 3  # students
_LEAST_SE = 0.05
_GRID = 24
_TAU = 0.75  # half-normal scale: lessons of one intent differ
_OMEGA = 1.0  # half-normal scale: intents differ
_HALVINGS = 30  # of some units: a billionth
_below_z = np.frompyfunc(lambda z: erfc(-z / sqrt(2)) / 2, 1, 1)
"""The standard normal distribution. SciPy's takes longer to import than all lines to reckon."""


def rests(comparison: Comparison) -> bool:
    """Whether anything may rest on the lesson's number.

    Not where the air withheld it, nor where the error of the air or of what was moved is so
    large that a change that matters would be hidden from any number of balls. Never by what
    came out: leaving out the lessons that showed nothing would make every intent look good.
    """
    if comparison.air is not None and comparison.air.withheld is not None:
        return False
    return not hidden(comparison.smallest_change, comparison.setup_sd)


def lesson_gain(intent: str, student: str, comparison: Comparison) -> LessonGain | None:
    """A lesson's gain in changes that matter; None where there is no interval or no scale."""
    if comparison.good is None or comparison.smallest_change <= 0:
        return None
    width = comparison.good.ci90.high - comparison.good.ci90.low
    return LessonGain(
        intent=intent,
        student=student,
        gain=comparison.good.estimate / comparison.smallest_change,
        se=max(width / (2 * Z90 * comparison.smallest_change), _LEAST_SE),
    )


def pool(gains: Sequence[LessonGain]) -> tuple[IntentRow, ...]:
    """One line an intent, partially pooled: few lessons lean on all the others.

    A student's lessons with the same intent are averaged first, so that one keen student
    is one voice. Then y ~ N(theta, se^2 + tau^2), theta ~ N(mu, omega^2), mu ~ N(0, 1),
    tau and omega half-normal, summed over a grid of equal prior mass. Ranked intents come
    first, most surely helpful on top; the others follow by name.
    """
    voices = _voices(gains)
    if not voices:
        return ()
    lessons = Counter(gain.intent for gain in gains)
    rows = [
        _row(intent, theta, lessons=lessons[intent], students=len(voices[intent]))
        for intent, theta in _posterior(voices).items()
    ]
    ranked = sorted((r for r in rows if r.ranked), key=lambda r: (-(r.p_positive or 0.0), r.intent))
    waiting = sorted((r for r in rows if not r.ranked), key=lambda r: r.intent)
    return (*ranked, *waiting)


class Mixture(Struct, frozen=True):
    """theta of one intent: normals, one for each point of the grid, with their weights."""

    weight: Floats
    mean: Floats
    sd: Floats

    def below(self, x: float) -> float:
        return float(self.weight @ _below_z((x - self.mean) / self.sd).astype(float))

    def quantile(self, p: float) -> float:
        low = float((self.mean - 9 * self.sd).min())
        high = float((self.mean + 9 * self.sd).max())
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            low, high = (low, middle) if self.below(middle) > p else (middle, high)
        return (low + high) / 2


def _voices(gains: Iterable[LessonGain]) -> dict[str, list[tuple[float, float]]]:
    """Each student's (gain, variance) by intent, lessons averaged by inverse variance."""
    by_student: defaultdict[tuple[str, str], list[LessonGain]] = defaultdict(list)
    for gain in gains:
        by_student[gain.intent, gain.student].append(gain)
    voices: defaultdict[str, list[tuple[float, float]]] = defaultdict(list)
    for (intent, _), lessons in sorted(by_student.items()):
        precision = sum(1 / g.se**2 for g in lessons)
        voices[intent].append((sum(g.gain / g.se**2 for g in lessons) / precision, 1 / precision))
    return dict(voices)


def _posterior(voices: dict[str, list[tuple[float, float]]]) -> dict[str, Mixture]:
    """Given tau and omega everything is normal, so mu and theta are summed out by hand."""
    tau, omega = (g.ravel() for g in np.meshgrid(_half_normal(_TAU), _half_normal(_OMEGA)))
    means, variances, fit = [], [], np.zeros_like(tau)
    for heard in voices.values():
        gain, variance = np.array(heard).T
        spread = variance[:, None] + tau**2
        precision = (1 / spread).sum(axis=0)
        mean = (gain[:, None] / spread).sum(axis=0) / precision
        fit -= (np.log(spread) + (gain[:, None] - mean) ** 2 / spread).sum(axis=0) / 2
        fit -= np.log(precision) / 2
        means.append(mean)
        variances.append(1 / precision)
    mean, variance = np.array(means), np.array(variances)  # (intents, grid)
    total = variance + omega**2
    mu_precision = 1 + (1 / total).sum(axis=0)
    mu = (mean / total).sum(axis=0) / mu_precision
    fit -= (np.log(total).sum(axis=0) + np.log(mu_precision)) / 2
    fit -= ((mean**2 / total).sum(axis=0) - mu_precision * mu**2) / 2
    weight = np.exp(fit - fit.max())
    weight /= weight.sum()
    own = omega**2 / total  # how far an intent's own lessons are listened to
    theta = own * mean + (1 - own) * mu
    sd = np.sqrt(own * variance + (1 - own) ** 2 / mu_precision)
    return {intent: Mixture(weight, theta[i], sd[i]) for i, intent in enumerate(voices)}


def _half_normal(scale: float) -> Floats:
    """Points of equal prior mass, (_GRID,)."""
    middles = (np.arange(_GRID) + 0.5) / _GRID
    return np.array([NormalDist(0.0, scale).inv_cdf((1 + middle) / 2) for middle in middles])


def _row(intent: str, theta: Mixture, *, lessons: int, students: int) -> IntentRow:
    ranked = students >= _RANKED_FROM
    return IntentRow(
        intent=intent,
        gain=float(theta.weight @ theta.mean),
        ci90=Interval(theta.quantile(0.05), theta.quantile(0.95)) if ranked else None,
        p_positive=1 - theta.below(0.0) if ranked else None,
        lessons=lessons,
        students=students,
    )
