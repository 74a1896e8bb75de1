"""How we know: what a reader who doubts the verdict can follow and work out again."""

from collections.abc import Callable
from datetime import datetime, time

from recapgen.model.evidence import (
    Comparison,
    Declared,
    DriftFinding,
    Interval,
    ShareChange,
    SpreadChange,
    Verdict,
)
from recapgen.model.lesson import Direction
from recapgen.model.rounding import whole
from recapgen.words.amounts import clock, short_day
from recapgen.words.catalogue import Words, key_of
from recapgen.words.shot_sentences import tell_assumed

SizeInWords = Callable[[float], str]

_PAIRS = {
    Direction.WINDOW: "evidence.sure.pairs-window",
    Direction.ZERO: "evidence.sure.pairs-zero",
}
_MOST = 0.75
_ENOUGH_INSIDE = 5  # shots; of fewer, most is one or two


def how_sure(
    comparison: Comparison, amount: SizeInWords, metres: SizeInWords, words: Words
) -> tuple[str, ...]:
    """The sentences of the fold, in the order in which one would check them.

    ``amount`` writes sizes of the declared number, ``metres`` those of distances.
    """
    told = [
        *tell_declared(comparison, words),
        *_planned(comparison, words),
        *_goal(comparison, words),
        *_difference(comparison, amount, words),
        *_air(comparison, amount, words),
        *_smallest_change(comparison, amount, words),
        *_before(comparison, words),
        *_mishits(comparison, words),
        *_spread(comparison.spread, amount, words),
    ]
    if comparison.dispersion is not None:
        before, after = comparison.dispersion.before, comparison.dispersion.after
        told.append(
            words.say(
                "evidence.finish", before=metres(before.radius_m), after=metres(after.radius_m)
            )
        )
    return tuple(told)


def shares_told(change: ShareChange, words: Words) -> str:
    """Counts, never a share alone: "3 of 10, now 8 of 10"."""
    return words.say(
        "evidence.shares",
        was=change.before.count,
        was_of=change.before.n,
        now=change.after.count,
        now_of=change.after.n,
    )


def tell_chosen(comparison: Comparison, words: Words) -> str:
    """When the number was chosen, in a few words for beside the verdict."""
    if comparison.differs_from_seal:
        return words.say("evidence.chosen.changed")
    if comparison.declared is Declared.SEALED and comparison.sealed_at is None:
        return words.say("evidence.chosen.sealed-nameless")
    if comparison.declared is Declared.SEALED and comparison.sealed_at is not None:
        return words.say("evidence.chosen.sealed", sealed=clock(comparison.sealed_at.time(), words))
    return words.say(f"evidence.chosen.{comparison.declared}", noted=_noted(comparison, words))


def tell_step(comparison: Comparison, words: Words) -> str:
    """Which step the verdict speaks of; "" where nothing was noted of how the balls were swung."""
    if comparison.swings is None:
        return ""
    before, after = (words.say(f"evidence.swing.{key_of(swing)}") for swing in comparison.swings)
    if comparison.swings[0] is comparison.swings[1]:
        return words.say("evidence.step.alike", swings=after)
    return words.say("evidence.step.asked", before=before, after=after)


def tell_declared(
    comparison: Comparison, words: Words, *, key: str = "evidence.declared"
) -> tuple[str, ...]:
    """On whose word the number was chosen when, and how a seal stands to the shots.

    ``key`` begins the words for whoever reads it: the student, or the coach.
    """
    sealed, first = comparison.sealed_at, comparison.first_after_at
    if sealed is None:
        noted = _noted(comparison, words)
        return (words.say(f"{key}.{comparison.declared}", noted=noted),)
    times = {"sealed": _moment(sealed, words), "first": _moment(first, words) if first else ""}
    if comparison.differs_from_seal:
        told = [words.say(f"{key}.changed", **times)]
    elif comparison.declared is Declared.SEALED:
        sealed_how = "sealed-times" if first else "sealed-untimed"
        told = [words.say(f"{key}.{sealed_how}", **times)]
    else:
        late = "late" if first else "late-untimed"
        told = [
            words.say(f"{key}.{comparison.declared}", noted=_noted(comparison, words)),
            words.say(f"{key}.{late}", **times),
        ]
    replaced = [_moment(at, words) for at in comparison.sealed_before_at]
    if replaced:
        told.append(words.say(f"{key}.replaced", times=words.listed(replaced)))
    return tuple(told)


def _noted(comparison: Comparison, words: Words) -> str:
    """The phone's time at which the number was noted; "" where it was not."""
    if comparison.noted_s is None:
        return ""
    minutes = comparison.noted_s // 60
    return clock(time(minutes // 60, minutes % 60), words)


def _moment(at: datetime, words: Words) -> str:
    """The clock's time and the day, so that no seal of another day passes for one of today."""
    return words.say(
        "evidence.declared.moment", clock=clock(at.time(), words), day=short_day(at.date(), words)
    )


def _planned(comparison: Comparison, words: Words) -> list[str]:
    planned = (comparison.planned_before, comparison.planned_after)
    hit = (comparison.hit_before, comparison.hit_after)
    if None in planned or planned == hit:
        return []
    return [
        words.say(
            "evidence.planned",
            planned_before=planned[0],
            planned_after=planned[1],
            hit_before=hit[0],
            hit_after=hit[1],
        )
    ]


def _goal(comparison: Comparison, words: Words) -> list[str]:
    """Where the goal ends, for a number that has a zero to pass."""
    direction = comparison.want.direction
    if direction is Direction.ZERO:
        return [words.say("evidence.goal.zero")]
    if comparison.quantity.sideways and direction in (Direction.HIGHER, Direction.LOWER):
        return [words.say("evidence.goal.no-end")]
    return []


def _difference(comparison: Comparison, amount: SizeInWords, words: Words) -> list[str]:
    good = comparison.good
    if good is None:
        return [words.say("evidence.sure.fewer")]
    if comparison.by_share and comparison.inside is not None:
        kind = "outcomes" if comparison.quantity.is_outcome else "shares"
        told = [_share_difference(comparison.inside, kind, words)]
        ends = comparison.inside.newcombe90
        return told if ends.low <= 0 <= ends.high else [*told, _held(comparison, words)]
    pairs = comparison.before.n * comparison.after.n
    told = [
        words.count(
            _PAIRS.get(comparison.want.direction, "evidence.sure.pairs"),
            pairs,
            size=_sided(good.estimate, amount, words),
        )
    ]
    if comparison.pairs_won is not None:
        told.append(_won(comparison.pairs_won, words))
    between = _between(good.ci90, amount, words)
    told.append(words.say("evidence.sure.interval", range=between))
    if comparison.verdict_uncapped is Verdict.PROBABLY:
        narrower = _between(good.ci80, amount, words)
        told.append(words.say("evidence.sure.interval80", range=narrower))
    if comparison.rank90 is not None:
        last = pairs + 1 - comparison.rank90
        told.append(words.say("evidence.sure.rank", first=comparison.rank90, last=last))
    if not good.ci90.low <= 0 <= good.ci90.high:
        told.append(_held(comparison, words))
    if comparison.setup_moved:
        told.append(words.say("evidence.sure.setup", error=amount(comparison.setup_sd)))
    return told


def _held(comparison: Comparison, words: Words) -> str:
    """How much wider the range had to hold, in percent."""
    return words.say("evidence.sure.held", wider=whole(100 * (comparison.held_at - 1)))


def _air(comparison: Comparison, amount: SizeInWords, words: Words) -> list[str]:
    """What standard air is, and what working the carries out for it leaves open."""
    air = comparison.air
    if air is None or air.withheld is not None:
        return []
    return [words.say("air.error", error=amount(air.sd_m)), *tell_assumed(air, words)]


def _won(share: float, words: Words) -> str:
    tenths = whole(10 * share)
    ends = {0: "evidence.sure.won-none", 10: "evidence.sure.won-all"}
    return words.say(ends.get(tenths, "evidence.sure.won"), tenths=tenths)


def _between(interval: Interval, amount: SizeInWords, words: Words) -> str:
    """Both ends without a sign: which way each lies is said in words."""
    if interval.low < 0 < interval.high:
        return words.say(
            "evidence.between.both", low=amount(-interval.low), high=amount(interval.high)
        )
    way = "towards" if interval.high > 0 or interval.low == 0 else "away"
    low, high = sorted((abs(interval.low), abs(interval.high)))
    return words.say(f"evidence.between.{way}", low=amount(low), high=amount(high))


def _share_difference(change: ShareChange, kind: str, words: Words) -> str:
    low, high = (
        words.say(f"evidence.sure.{'more' if end >= 0 else 'less'}", tenths=abs(whole(10 * end)))
        for end in (change.newcombe90.low, change.newcombe90.high)
    )
    shares = shares_told(change, words)
    return words.say(f"evidence.sure.{kind}", shares=shares, low=low, high=high)


def _smallest_change(comparison: Comparison, amount: SizeInWords, words: Words) -> list[str]:
    if comparison.by_share:
        return []
    told = [
        words.say(
            f"evidence.matters.{comparison.smallest_change_from}",
            matters=amount(comparison.smallest_change),
        )
    ]
    unsure = comparison.verdict in (Verdict.TOO_EARLY, Verdict.PROBABLY)
    if unsure and comparison.good is not None:
        low, high = comparison.good.ci90.low, comparison.good.ci90.high
        if comparison.smallest_change < (high - low) / 2:
            told.append(words.say("evidence.matters.unseen"))
    return told


def inside_told(comparison: Comparison, words: Words) -> list[str]:
    """How many are inside the window, where the verdict does not say so already."""
    if comparison.inside is None or comparison.by_share:
        return []
    return [words.say("evidence.inside", shares=shares_told(comparison.inside, words))]


def mostly_inside(comparison: Comparison) -> bool:
    """Are the shots after nearly all inside the window?

    A goal that is reached must not sound like a lesson that failed where no more is known.
    """
    if comparison.inside is None:
        return False
    after = comparison.inside.after
    return after.n >= _ENOUGH_INSIDE and after.count >= _MOST * after.n


def _before(comparison: Comparison, words: Words) -> list[str]:
    """What was found where drift was looked for; drift itself is stated beside the verdict."""
    if comparison.drift is DriftFinding.NOT_CHECKED and not comparison.by_share:
        return [words.say("evidence.drift.not-checked")]
    if comparison.drift is not DriftFinding.STEADY:
        return []
    tried_again = comparison.closing_shift is not None
    return [words.say(f"evidence.drift.{'old-feel' if tried_again else 'steady'}")]


def _mishits(comparison: Comparison, words: Words) -> list[str]:
    change = comparison.mishits
    if change is None:
        return []
    if not change.before.count and not change.after.count:
        return [] if comparison.quantity.is_outcome else [words.say("evidence.mishits.none")]
    told = [words.say("evidence.mishits.shares", shares=shares_told(change, words))]
    if comparison.mishit_kinds:
        kinds = (
            words.say("evidence.mishits.kind", tag=kind.tag, was=kind.before, now=kind.after)
            for kind in comparison.mishit_kinds
        )
        told.append(words.say("page.sentence", text=words.clauses(kinds)))
    return [*told, words.say("evidence.mishits.rule")]


def _spread(spread: SpreadChange | None, amount: SizeInWords, words: Words) -> list[str]:
    if spread is None:
        return []
    finding = key_of(spread.finding)
    before, after = amount(spread.before), amount(spread.after)
    return [words.say(f"evidence.spread.{finding}", before=before, after=after)]


def _sided(value: float, amount: SizeInWords, words: Words) -> str:
    return words.say(f"evidence.{'towards' if value >= 0 else 'away'}", amount=amount(abs(value)))
