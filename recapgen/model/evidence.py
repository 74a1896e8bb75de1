"""What the shots say about the declared number: values, never sentences."""

from datetime import date, datetime
from enum import StrEnum

from msgspec import Struct

from recapgen.model.carry import FairCarry
from recapgen.model.lesson import Guard, Swing, Want
from recapgen.model.quantity import Quantity


class Verdict(StrEnum):
    """The five levels, from evidence section 2."""

    CHANGED = "changed"
    PROBABLY = "probably changed"
    TOO_EARLY = "too early to tell"
    NO_CHANGE = "no change"
    OTHER_WAY = "went the other way"


class Hidden(StrEnum):
    """What hides a change of this size from any number of balls."""

    SETUP = "setup"
    AIR = "air"


class Declared(StrEnum):
    """When the number was chosen, and on whose word."""

    SEALED = "sealed"
    NOTED = "noted"  # on a phone, at a time before the first after-shot
    STATED = "stated"
    AFTERWARDS = "afterwards"


class SmallestChangeFrom(StrEnum):
    """Where the smallest meaningful change came from."""

    DECLARED = "declared"
    RESOLUTION = "resolution"
    ACCURACY = "accuracy"
    DEFAULT = "default"
    SHARE = "share"  # of what is in or out: a quarter of the balls, whatever the notes say


class Interval(Struct, frozen=True):
    low: float
    high: float


class Shift(Struct, frozen=True):
    """A Hodges-Lehmann shift with its two-sided 90% and 80% intervals."""

    estimate: float
    ci90: Interval
    ci80: Interval


class Sample(Struct, frozen=True):
    """One block's readings in time order, mishits included.

    ``numbers`` are the shots' own numbers, ``mishit`` marks the flagged ones;
    all three run in parallel. Inside units. Of what is in or out ``median`` is the share in.
    """

    numbers: tuple[int, ...]
    values: tuple[float, ...]
    mishit: tuple[bool, ...]
    median: float | None
    robust_sd: float | None

    @property
    def n(self) -> int:
        return len(self.values)

    @property
    def mishit_numbers(self) -> frozenset[int]:
        """The shots among ``numbers`` that were mishits."""
        return frozenset(n for n, bad in zip(self.numbers, self.mishit, strict=True) if bad)


class Share(Struct, frozen=True):
    """How many of ``n`` lay inside the window or were mishits, with a Wilson 90% interval."""

    count: int
    n: int
    wilson90: Interval


class ShareChange(Struct, frozen=True):
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


class SpreadFinding(StrEnum):
    TIGHTER = "tighter"
    WIDER = "wider"
    CANNOT_TELL = "can't tell"


class GuardFinding(StrEnum):
    HELD = "held"
    LOST = "lost"
    CANNOT_TELL = "can't tell"


class GuardResult(Struct, frozen=True):
    guard: Guard
    finding: GuardFinding
    before_median: float | None
    after_median: float | None
    shift: Shift | None  # after minus before of the guarded value, widened


class SpreadChange(Struct, frozen=True):
    """How far shots lie from their own middle, then and now.

    ``before`` and ``after`` are median absolute deviations: half the shots lie within them.
    ``ratio`` is of mean absolute deviations, after to before, with its 95% interval.
    """

    before: float
    after: float
    ratio: float
    ci95: Interval
    finding: SpreadFinding


class Circle(Struct, frozen=True):
    """Where a block's balls finished: the circle round the middle that holds half of them.

    Metres; ``side_m`` right of the target line; ``radius90_m`` None under eight balls.
    """

    n: int
    distance_m: float
    side_m: float
    radius_m: float
    radius90_m: Interval | None


class DispersionChange(Struct, frozen=True):
    """Where the balls landed; ``stopped``: where they came to rest."""

    before: Circle
    after: Circle
    stopped: bool = False


class MishitKind(Struct, frozen=True):
    """One of the coach's own words for a mishit, counted in both blocks."""

    tag: str
    before: int
    after: int


class Comparison(Struct, frozen=True):
    """The declared number then and now.

    ``as_read`` is after minus before with the exact intervals; ``good`` the same on the
    good-direction scale with the widened intervals (set-up term included). Both are None
    under three shots a block. ``verdict`` is after every guard and the cap,
    ``verdict_uncapped`` before the cap for a number chosen afterwards.
    ``balls_needed`` is the advice for each block where it is too early to tell; None where
    more balls than a lesson holds would be needed, or would not help.

    ``by_share``: both medians lie in the window, so the verdict speaks of the share inside;
    so it does wherever balls are in or out, and both shifts are then of that share.
    ``closing_n`` of the before-shots, the last ones, came from the closing block;
    ``closing_shift`` is how far these lie from the opening ones, as read.
    ``pairs_won``: of all before-after pairs, the share in which the after-shot is better.
    ``verdict_put_back`` is the verdict with the coach's left-out shots put back, where that
    differs. ``sealed_at`` and ``first_after_at`` let a reader see which came first, where
    both are known; ``sealed_before_at`` are the times of seals that it replaced, and
    ``differs_from_seal`` that the notes say something else than it. ``planned_*`` are the
    sealed counts, ``hit_*`` all balls of the before- and the after-block whatever became of
    them.
    """

    quantity: Quantity
    want: Want
    before: Sample
    after: Sample
    as_read: Shift | None
    good: Shift | None
    smallest_change: float
    smallest_change_from: SmallestChangeFrom
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
    by_share: bool = False
    closing_n: int = 0
    closing_shift: float | None = None
    sealed_at: datetime | None = None
    sealed_before_at: tuple[datetime, ...] = ()
    differs_from_seal: bool = False
    noted_s: int | None = None  # seconds after midnight, of Declared.NOTED
    first_after_at: datetime | None = None
    planned_before: int | None = None
    planned_after: int | None = None
    hit_before: int = 0
    hit_after: int = 0
    pairs_won: float | None = None
    verdict_put_back: Verdict | None = None
    mishit_kinds: tuple[MishitKind, ...] = ()
    rank90: int | None = None  # of the pairwise difference that ends the exact range, from 1
    rank80: int | None = None
    setup_sd: float = 0.0  # error of putting something down again that is in ``good``
    held_at: float = 1.0  # times as wide as counted that the range must hold to be "changed"
    hidden_by: Hidden | None = None  # where it is too early and more balls would not help
    swings: tuple[Swing, Swing] | None = None  # before and after, where the notes speak of them
    spread: SpreadChange | None = None
    dispersion: DispersionChange | None = None
    air: FairCarry | None = None  # the number is the carry and the air was not the same


class Kept(StrEnum):
    """What stuck of a lesson's gain, at the start of the next one."""

    MOSTLY = "mostly still there"
    SOME = "some of it is still there"
    FADED = "mostly faded"
    TOO_EARLY = "too early to tell"
    NO_GAIN = "no lesson gain to keep yet"


class Retention(Struct, frozen=True):
    """From one lesson to the next with the same club and number; inside units, good direction."""

    quantity: Quantity
    from_lesson: date
    to_lesson: date
    gained: float
    still_there: float
    share80: Interval | None
    kept: Kept


class LessonGain(Struct, frozen=True):
    """What one lesson's declared number did while one intent was tried.

    ``intent`` is the coach's own short name for it, synonyms already joined; ``student``
    any key. ``gain`` counts changes that matter: 1.0 is just enough; ``se`` likewise.
    """

    intent: str
    student: str
    gain: float
    se: float


class IntentRow(Struct, frozen=True):
    """A row of the coach's page of intents: what moved together with one intent.

    ``gain`` with its 90% interval counts changes that matter; ``p_positive`` is the chance
    that it helps at all. Too few students are no ground for either, nor for an order.
    """

    intent: str
    gain: float
    ci90: Interval | None
    p_positive: float | None
    lessons: int
    students: int

    @property
    def ranked(self) -> bool:
        return self.ci90 is not None
