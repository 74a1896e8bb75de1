"""What the shots say about the declared number: values, never sentences."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from recapgen.model.lesson import Guard, Want
from recapgen.model.quantity import Quantity


class Verdict(StrEnum):
    """The five levels, from evidence section 2."""

    CHANGED = "changed"
    PROBABLY = "probably changed"
    TOO_EARLY = "too early to tell"
    NO_CHANGE = "no change"
    OTHER_WAY = "went the other way"


class Declared(StrEnum):
    """When the number was chosen, and on whose word."""

    SEALED = "sealed"
    STATED = "stated"
    AFTERWARDS = "afterwards"


class MattersFrom(StrEnum):
    """Where the smallest meaningful change came from."""

    DECLARED = "declared"
    RESOLUTION = "resolution"
    ACCURACY = "accuracy"
    DEFAULT = "default"


@dataclass(frozen=True, slots=True)
class Interval:
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Shift:
    """A Hodges-Lehmann shift with its two-sided 90% and 80% intervals."""

    estimate: float
    ci90: Interval
    ci80: Interval


@dataclass(frozen=True, slots=True)
class Sample:
    """One block's readings in time order, mishits included.

    ``numbers`` are the shots' own numbers, ``mishit`` marks the flagged ones;
    all three run in parallel. Inside units.
    """

    numbers: tuple[int, ...]
    values: tuple[float, ...]
    mishit: tuple[bool, ...]
    median: float | None
    robust_sd: float | None

    @property
    def n(self) -> int:
        return len(self.values)


@dataclass(frozen=True, slots=True)
class Share:
    """How many of ``n`` lay inside the window or were mishits, with a Wilson 90% interval."""

    count: int
    n: int
    wilson90: Interval


@dataclass(frozen=True, slots=True)
class ShareChange:
    """A share then and now, and its Newcombe difference intervals."""

    before: Share
    after: Share
    difference: float
    newcombe90: Interval
    newcombe80: Interval


class DriftFinding(StrEnum):
    """Was the number already moving before anything was changed?"""

    NOT_CHECKED = "not checked"
    STEADY = "steady"
    MOVING = "moving"
    CLEARLY_MOVING = "clearly moving"


class GuardFinding(StrEnum):
    HELD = "held"
    LOST = "lost"
    CANNOT_TELL = "can't tell"


@dataclass(frozen=True, slots=True)
class GuardResult:
    guard: Guard
    finding: GuardFinding
    before_median: float | None
    after_median: float | None
    shift: Shift | None  # after minus before of the guarded value, widened


@dataclass(frozen=True, slots=True)
class Comparison:
    """The declared number then and now.

    ``as_read`` is after minus before with the exact intervals; ``good`` the same on the
    good-direction scale with the widened intervals (set-up term included). Both are None
    under three shots a block. ``verdict`` is after every guard and the cap,
    ``verdict_uncapped`` before the cap for a number chosen afterwards.
    ``balls_needed`` is the advice for each block where it is too early to tell.
    """

    quantity: Quantity
    want: Want
    before: Sample
    after: Sample
    as_read: Shift | None
    good: Shift | None
    matters: float
    matters_from: MattersFrom
    verdict: Verdict
    verdict_uncapped: Verdict
    declared: Declared
    drift: DriftFinding
    lowered_by_mishits: bool
    setup_moved: bool
    overshot: bool
    leaning: int  # +1 towards the goal, -1 away, 0 neither
    balls_needed: int | None
    inside: ShareChange | None
    mishits: ShareChange | None
    guards: tuple[GuardResult, ...]


class Kept(StrEnum):
    """What stuck of a lesson's gain, at the start of the next one."""

    MOSTLY = "mostly still there"
    SOME = "some of it is still there"
    FADED = "mostly faded"
    TOO_EARLY = "too early to tell"
    NO_GAIN = "no lesson gain to keep yet"


@dataclass(frozen=True, slots=True)
class Retention:
    """From one lesson to the next with the same club and number; inside units, good direction."""

    quantity: Quantity
    from_lesson: date
    to_lesson: date
    gained: float
    still_there: float
    share80: Interval | None
    kept: Kept
