"""What the shots say, in plain sentences: the verdict, what goes with it, what stuck.

An ``SizeInWords`` writes a size (a difference, a spread, a margin) in the reader's units and
without a sign: 2.1 becomes "2.1 m". Which way it goes is in the sentence.
"""

from msgspec import Struct

from recapgen.model.carry import FairCarry
from recapgen.model.evidence import (
    Comparison,
    DriftFinding,
    GuardResult,
    IntentRow,
    Interval,
    Kept,
    Retention,
    ShareChange,
    Verdict,
)
from recapgen.model.films import ChosenBecause, FilmSide
from recapgen.model.lesson import Direction
from recapgen.model.people import Hand
from recapgen.model.quantity import Quantity
from recapgen.model.rounding import whole
from recapgen.model.units import Units
from recapgen.words.amounts import day, number, quantity_name, quantity_yours, size
from recapgen.words.catalogue import Words, key_of, sentence_start
from recapgen.words.goal_sentences import tell_goal
from recapgen.words.how_sure import (
    SizeInWords,
    how_sure,
    inside_told,
    mostly_inside,
    shares_told,
    tell_chosen,
    tell_step,
)
from recapgen.words.shot_sentences import why_withheld

_SCALES = {Direction.WINDOW: "window", Direction.ZERO: "zero"}
_MOVING = frozenset({DriftFinding.MOVING, DriftFinding.CLEARLY_MOVING})
_MOVED = frozenset({Verdict.CHANGED, Verdict.PROBABLY})
_TENTHS = 10  # a share is told no finer, as a tenth is what so few balls allow


class VerdictText(Struct, frozen=True):
    """``phrase`` heads the verdict: what happened, then how sure that is and why.

    ``goal`` is what was wanted of the number, in a few words. ``sure`` is for the fold on how
    sure we are: what else is to be said of the verdict comes first there. ``beside`` says in a
    few words when the number was chosen, of which swings it speaks, and in which air.
    """

    phrase: str
    goal: str
    sentences: tuple[str, ...]
    guards: tuple[str, ...]
    sure: tuple[str, ...]
    beside: str


def tell_comparison(
    comparison: Comparison, units: Units, hand: Hand | None, words: Words
) -> VerdictText:
    """Everything to be said about the declared number; sizes have no side, only the goal has."""

    def amount_of(quantity: Quantity) -> SizeInWords:
        return lambda value: size(quantity, value, units, words)

    amount = amount_of(comparison.quantity)
    name = quantity_yours(comparison.quantity, words)
    verdict, more = tell_verdict(comparison, name, amount, words)
    return VerdictText(
        phrase=tell_phrase(comparison.verdict, words),
        goal=tell_goal(comparison, units, hand, words),
        sentences=verdict,
        guards=tuple(
            tell_guard(
                result,
                quantity_yours(result.guard.quantity, words),
                amount_of(result.guard.quantity),
                words,
            )
            for result in comparison.guards
        ),
        sure=(*more, *how_sure(comparison, amount, amount_of(Quantity.CARRY), words)),
        beside=words.together(
            (
                tell_chosen(comparison, words),
                tell_step(comparison, words),
                _fair_air(comparison, amount, words),
            )
        ),
    )


def tell_phrase(verdict: Verdict, words: Words) -> str:
    """The verdict in a few words ("No change.")."""
    return words.say(f"evidence.phrase.{key_of(verdict)}")


def tell_verdict(
    comparison: Comparison, name: str, amount: SizeInWords, words: Words
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What happened, and how sure that is and why; then what else is to be said, for the fold.

    What lowered the verdict, or would turn it, is the better reason and takes the place of the
    usual one. A fresh change is no habit yet, which ends the fold's first part.
    """
    what, *usual = _said(comparison, name, amount, words)
    first, later = _doubts(comparison, name, amount, words)
    inside = inside_told(comparison, words)
    why, *more = [*first, *usual, *inside, *later] or [""]
    if comparison.verdict in _MOVED:
        more.append(words.say("evidence.habit"))
    return (what, why) if why else (what,), tuple(more)


def tell_guard(result: GuardResult, name: str, amount: SizeInWords, words: Words) -> str:
    """What the change may not cost: held, lost, or not known."""
    finding = key_of(result.finding)
    return words.say(
        f"evidence.guard.{finding}.{result.guard.kind}",
        name=name,
        margin=amount(result.guard.margin),
        size=amount(abs(result.shift.estimate)) if result.shift else "",
    )


def tell_retention(retention: Retention, amount: SizeInWords, words: Words) -> tuple[str, ...]:
    """Units first, then the share in words and percent, where there is a gain to share."""
    on = day(retention.from_lesson, words)
    if retention.kept is Kept.NO_GAIN:
        return (words.say("evidence.kept.no-gain", day=on),)
    left = retention.still_there > 0
    units = words.say(
        f"evidence.kept.{'units' if left else 'nothing'}",
        gained=amount(retention.gained),
        still=amount(retention.still_there),
        day=on,
    )
    kept = words.say(f"evidence.kept.{key_of(retention.kept)}")
    if retention.share80 is None or retention.kept is Kept.TOO_EARLY:
        return units, kept
    return units, kept, *_share(retention.share80, words)


def tell_intent(row: IntentRow, words: Words) -> str:
    """A row of the coach's page of intents: what moved together with one, no cause claimed."""
    counted = {
        "lessons": words.count("evidence.ledger.lessons", row.lessons),
        "students": words.count("evidence.ledger.students", row.students),
    }
    if row.ci90 is None:
        return words.say("evidence.ledger.waiting", **counted)
    return words.say(
        "evidence.ledger.row",
        gain=number(row.gain, 1, words),
        low=number(row.ci90.low, 1, words),
        high=number(row.ci90.high, 1, words),
        **counted,
    )


def tell_clip(side: FilmSide, words: Words) -> str:
    """Which shot a clip shows, and why it stands for its block; "" where no shot is known."""
    if side.shot is None:
        return (
            words.say("evidence.clip.chosen") if side.chosen_because is ChosenBecause.CHOSEN else ""
        )
    if side.position is None:
        alone = "chosen" if side.chosen_because is ChosenBecause.CHOSEN else "only"
        return words.say(f"evidence.clip.{alone}-alone", shot=str(side.shot))
    key = side.chosen_because.value
    if side.chosen_because is ChosenBecause.CHOSEN:
        key = "chosen-mishit" if side.rank is None else "chosen-ranked"
    return words.say(
        f"evidence.clip.{key}",
        shot=str(side.shot),
        position=side.position,
        of=side.of,
        rank=side.rank,
        filmed=side.filmed,
    )


def _said(comparison: Comparison, name: str, amount: SizeInWords, words: Words) -> tuple[str, ...]:
    """What happened, then the usual reason for being so sure of it and whatever goes with it."""
    if comparison.air is not None and comparison.air.withheld is not None:
        withheld = words.say("air.differed.withheld", **_air(comparison.air, amount, words))
        return (withheld, words.say("air.differed.would-tell"))
    if comparison.verdict is Verdict.TOO_EARLY or comparison.good is None:
        return _too_early(comparison, amount, words)
    key = key_of(comparison.verdict)
    balls = {
        "before": words.count("evidence.balls", comparison.before.n),
        "after": words.count("evidence.balls", comparison.after.n),
    }
    why: tuple[str, ...] = ()
    if not _lowered(comparison):
        shares = comparison.by_share and comparison.verdict is Verdict.PROBABLY
        why = (words.say(f"evidence.why.{key}{'-shares' if shares else ''}", **balls),)
    if comparison.by_share and comparison.inside is not None:
        return (_shares(comparison, comparison.inside, key, words), *why)
    good = comparison.good
    interval = good.ci80 if comparison.verdict_uncapped is Verdict.PROBABLY else good.ci90
    scale = _SCALES.get(comparison.want.direction, "level")
    told = words.say(
        f"evidence.{scale}.{key}",
        name=name,
        size=amount(abs(good.estimate)),
        range=_range(interval, amount, words),
        matters=amount(comparison.smallest_change),
    )
    return (sentence_start(told), *why)  # it may begin with "your club path"


def _shares(comparison: Comparison, inside: ShareChange, key: str, words: Words) -> str:
    """How many were inside the window, or in at all."""
    shares = shares_told(inside, words)
    if comparison.quantity.is_outcome:
        name = sentence_start(quantity_name(comparison.quantity, words))
        return words.say(f"evidence.outcome.{key}", name=name, shares=shares)
    if comparison.verdict is Verdict.TOO_EARLY:
        return words.say("evidence.too-early.shares", shares=shares)
    return words.say(f"evidence.share.{key}", shares=shares)


def _too_early(comparison: Comparison, amount: SizeInWords, words: Words) -> tuple[str, ...]:
    before = words.count("evidence.balls", comparison.before.n)
    after = words.count("evidence.balls", comparison.after.n)
    if comparison.good is None or comparison.before.robust_sd is None:
        what = words.say("evidence.too-early.few", before=before, after=after)
    elif comparison.by_share and comparison.inside is not None:
        key = key_of(comparison.verdict)
        what = _shares(comparison, comparison.inside, key, words)
    else:
        spread = amount(comparison.before.robust_sd)
        what = words.say("evidence.too-early.spread", before=before, after=after, spread=spread)
    why = []
    if mostly_inside(comparison):
        why.append(words.say("evidence.inside.most"))
    if comparison.balls_needed is not None:
        why.append(words.count("evidence.too-early.balls", comparison.balls_needed))
    elif comparison.hidden_by is not None:
        why.append(words.say(f"evidence.{comparison.hidden_by}.hides"))
    elif not _drifted(comparison):
        why.append(words.say("evidence.too-early.too-many"))
    if comparison.leaning:
        way = "towards" if comparison.leaning > 0 else "away"
        why.append(words.say(f"evidence.leaning.{way}"))
    return (what, *why)


def _doubts(
    comparison: Comparison, name: str, amount: SizeInWords, words: Words
) -> tuple[list[str], list[str]]:
    """What lowered the verdict, turns it or goes past it; and what only goes with it."""
    first: list[str] = []
    if comparison.verdict_put_back is not None:
        verdict = words.say(f"evidence.name.{key_of(comparison.verdict_put_back)}")
        first.append(words.say("evidence.put-back", verdict=verdict))
    if comparison.overshot:
        past = "zero" if comparison.want.direction is Direction.ZERO else "window"
        first.append(words.say(f"evidence.overshot.{past}"))
    first.extend(_drift(comparison, name, amount, words))
    if comparison.setup_moved and comparison.verdict is not Verdict.TOO_EARLY:
        first.append(words.say("evidence.setup.moved"))
    if comparison.lowered_by_mishits:
        first.append(words.say("evidence.mishits.lowered"))
    if comparison.verdict is not comparison.verdict_uncapped:
        why = "changed" if comparison.differs_from_seal else "capped"
        first.append(words.say(f"evidence.afterwards.{why}"))
    return first, _mishits(comparison.mishits, words)


def _fair_air(comparison: Comparison, amount: SizeInWords, words: Words) -> str:
    """The air that the two amounts are for; "" where they are as read."""
    if comparison.air is None or comparison.air.withheld is not None:
        return ""
    return words.say("air.differed.fair", **_air(comparison.air, amount, words))


def _air(air: FairCarry, amount: SizeInWords, words: Words) -> dict[str, str]:
    carries = {
        "before": air.before_m,
        "after": air.after_m,
        "before_read": air.before_read_m,
        "after_read": air.after_read_m,
    }
    told = {name: "" if carry is None else amount(carry) for name, carry in carries.items()}
    return {**told, "why": why_withheld(air, words)}


def _drift(comparison: Comparison, name: str, amount: SizeInWords, words: Words) -> list[str]:
    if not _drifted(comparison):
        return []
    if comparison.closing_shift is not None:
        apart = amount(abs(comparison.closing_shift))
        return [words.say("evidence.drift.closing", name=name, size=apart)]
    if comparison.verdict is Verdict.NO_CHANGE or comparison.drift is not DriftFinding.MOVING:
        beside = comparison.verdict is Verdict.NO_CHANGE
        return [words.say(f"evidence.drift.{'beside' if beside else 'clearly'}")]
    return [words.say("evidence.drift.moving")]


def _mishits(change: ShareChange | None, words: Words) -> list[str]:
    """A sentence where the share of mishits differs by more than luck (90% interval), else none."""
    if change is None or change.newcombe90.low <= 0 <= change.newcombe90.high:
        return []
    way = "fewer" if change.difference < 0 else "more"
    return [words.say(f"evidence.mishits.{way}", shares=shares_told(change, words))]


def _lowered(comparison: Comparison) -> bool:
    """Probable not for want of balls: the sentences that follow say why."""
    return comparison.verdict is Verdict.PROBABLY and (
        comparison.verdict_uncapped is not Verdict.PROBABLY
        or comparison.lowered_by_mishits
        or (comparison.drift in _MOVING and comparison.closing_shift is None)
    )


def _drifted(comparison: Comparison) -> bool:
    return comparison.drift in _MOVING


def _range(interval: Interval, amount: SizeInWords, words: Words) -> str:
    """Both ends on one side of nothing, so that neither needs a sign."""
    low, high = sorted((abs(interval.low), abs(interval.high)))
    return words.say("evidence.range", low=amount(low), high=amount(high))


def _share(kept: Interval, words: Words) -> list[str]:
    """How much of a gain is left, to the nearest tenth; nothing where none of it is."""
    low = max(0, whole(_TENTHS * kept.low))
    high = min(_TENTHS, whole(_TENTHS * kept.high))
    if high < 1:
        return []
    if low >= _TENTHS:
        return [words.say("evidence.kept.share-all")]
    if low < 1 and high == _TENTHS:
        return [words.say("evidence.kept.share-any")]
    one_end = "up-to" if low < 1 else "at-least" if high == _TENTHS else "one"
    if one_end == "one" and low != high:
        return [words.say("evidence.kept.share", low=10 * low, high=10 * high)]
    n = 10 * (high if low < 1 else low)
    return [words.say(f"evidence.kept.share-{one_end}", n=n)]
