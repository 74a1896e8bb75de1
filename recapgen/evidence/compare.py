"""The declared number then and now: one verdict from all the evidence of a lesson."""

from collections import Counter
from collections.abc import Sequence
from datetime import date
from math import hypot, sqrt

from msgspec import Struct

from recapgen.evidence.advice import balls_for_share, balls_for_shift, hidden, leaning
from recapgen.evidence.declared import first_after_at, when_declared
from recapgen.evidence.dispersion import dispersion_change
from recapgen.evidence.drift import after_drift, closing_shift, trend
from recapgen.evidence.guards import judge_guard
from recapgen.evidence.phases import AFTER, BEFORE, Phase, phase, sample
from recapgen.evidence.ranks import interval_rank
from recapgen.evidence.share import MATTERS, share, share_change, share_shift
from recapgen.evidence.shift import goodness, pairs_won, shift_between, widened
from recapgen.evidence.smallest_change import settle_smallest_change, setup_error, usual_spread
from recapgen.evidence.spread import spread_change
from recapgen.evidence.verdict import (
    SHARES,
    SHIFTS,
    capped,
    lower_of,
    read_verdict,
    rounding,
)
from recapgen.evidence.window import both_inside, counted_as, inside_change, overshot
from recapgen.model.aim import same_aim
from recapgen.model.evidence import (
    Comparison,
    DriftFinding,
    Hidden,
    MishitKind,
    Sample,
    ShareChange,
    Shift,
    SmallestChangeFrom,
    Verdict,
)
from recapgen.model.lesson import Declaration, Seal, Want
from recapgen.model.shots import Block, ShotStatus, SortedShot

_SHIFT_FROM = 3
_ADVISED = 10  # balls a block, where there are too few to say how much they vary


class Terms(Struct, frozen=True):
    """What both blocks are judged by; ``by_share`` is settled on all shots, once.

    ``of_outcomes``: balls are in or out, and only their share can be compared.
    """

    want: Want
    smallest_change: float
    moved_sd: float
    air_sd: float
    by_share: bool
    of_outcomes: bool = False

    @property
    def setup_sd(self) -> float:
        """Of each block: what was put down again, and the block's half of the air."""
        return hypot(self.moved_sd, self.air_sd / sqrt(2))


def compare(
    shots: Sequence[SortedShot],
    declaration: Declaration,
    seal: Seal | None,
    *,
    moved: bool,
    accuracy: float | None,
    resolution: float,
    earlier_before: Sequence[Sample],
    on: date | None = None,
    air_sd: float = 0.0,
) -> Comparison | None:
    """The verdict on ``declaration``'s number, every guard applied; None without a reading.

    ``moved``: device, ball or target line was moved between before and after.
    ``accuracy`` is the device's error (one s.d.), ``resolution`` its step, inside units.
    ``earlier_before`` are this student's before-blocks of earlier lessons with the same
    club and number, oldest first. ``on`` is the lesson's day.
    ``air_sd`` is what correcting both blocks for their air leaves in their difference (one
    s.d.): common to all shots of a block, so that no number of them makes it smaller.
    """
    quantity = declaration.quantity
    before, after = (phase(shots, blocks, quantity) for blocks in (BEFORE, AFTER))
    if not len(before) and not len(after):
        return None
    before_sample = sample(before, quantity)
    usual_sd = usual_spread(before_sample, earlier_before)
    smallest_change, smallest_change_from = (
        (MATTERS, SmallestChangeFrom.SHARE)
        if quantity.is_outcome
        else settle_smallest_change(
            declaration.smallest_change, usual_sd, resolution, accuracy if moved else None
        )
    )
    want = counted_as(declaration.want, quantity)
    terms = Terms(
        want=want,
        smallest_change=smallest_change,
        moved_sd=setup_error(usual_sd, accuracy) if moved and not quantity.is_outcome else 0.0,
        air_sd=air_sd,
        by_share=quantity.is_outcome or both_inside(before.values, after.values, want),
        of_outcomes=quantity.is_outcome,
    )
    judged = _judge(before, after, terms)
    declared = when_declared(declaration, seal, shots, on)
    return Comparison(
        quantity=quantity,
        want=declaration.want,
        before=before_sample,
        after=sample(after, quantity),
        as_read=judged.as_read,
        good=judged.good,
        smallest_change=smallest_change,
        smallest_change_from=smallest_change_from,
        verdict=capped(judged.verdict, declared),
        verdict_uncapped=judged.verdict,
        declared=declared,
        drift=judged.drift,
        lowered_by_mishits=judged.lowered_by_mishits,
        setup_moved=moved,
        overshot=overshot(before.values, after.values, declaration.want, smallest_change),
        leaning=judged.leaning,
        balls_needed=judged.balls_needed,
        inside=judged.inside,
        mishits=_mishit_change(before, after),
        guards=()
        if declaration.guard is None
        else (judge_guard(shots, declaration.guard, moved=moved),),
        by_share=terms.by_share,
        closing_n=int(before.closing.sum()),
        closing_shift=closing_shift(before),
        sealed_at=seal.sealed_at if seal else None,
        sealed_before_at=seal.earlier_at if seal else (),
        differs_from_seal=seal is not None and not same_aim(declaration, seal),
        noted_s=declaration.noted_s,
        first_after_at=first_after_at(shots),
        planned_before=seal.planned_before if seal else None,
        planned_after=seal.planned_after if seal else None,
        hit_before=sum(s.block is Block.BEFORE for s in shots),
        hit_after=sum(s.block is Block.AFTER for s in shots),
        pairs_won=judged.pairs_won,
        rank90=_rank(judged, before, after, 20),
        rank80=_rank(judged, before, after, 10),
        setup_sd=terms.setup_sd,
        held_at=(SHARES if terms.by_share else SHIFTS).asked(min(len(before), len(after))),
        hidden_by=judged.hidden_by,
        verdict_put_back=_put_back(shots, declaration, terms, judged.verdict),
        mishit_kinds=_mishit_kinds(before, after),
        spread=None if quantity.is_outcome else spread_change(before.values, after.values),
        dispersion=dispersion_change(shots),
    )


class Judged(Struct, frozen=True):
    """The verdict after drift and mishits, before the cap, and what it was read from."""

    verdict: Verdict
    drift: DriftFinding
    lowered_by_mishits: bool
    as_read: Shift | None
    good: Shift | None
    inside: ShareChange | None
    pairs_won: float | None
    leaning: int
    balls_needed: int | None
    hidden_by: Hidden | None = None


def _judge(before: Phase, after: Phase, terms: Terms) -> Judged:
    n = min(len(before), len(after))
    inside = inside_change(before.values, after.values, terms.want)
    if n < _SHIFT_FROM:
        return Judged(
            verdict=Verdict.TOO_EARLY,
            drift=DriftFinding.NOT_CHECKED,
            lowered_by_mishits=False,
            as_read=None,
            good=None,
            inside=inside,
            pairs_won=None,
            leaning=0,
            balls_needed=_ADVISED,
        )
    verdict, drift = _verdict(before, after, terms, n)
    shown = lower_of(verdict, _without_mishits(before, after, terms, n, verdict))
    good_before, good_after = (goodness(p.values, terms.want) for p in (before, after))
    exact, as_read = (
        (share_shift(inside), share_shift(inside))
        if terms.of_outcomes and inside is not None
        else (shift_between(good_before, good_after), shift_between(before.values, after.values))
    )
    too_early = shown is Verdict.TOO_EARLY
    lowered_by_drift = drift in (DriftFinding.MOVING, DriftFinding.CLEARLY_MOVING)
    advised = too_early and not lowered_by_drift
    return Judged(
        verdict=shown,
        drift=drift,
        lowered_by_mishits=shown is not verdict,
        as_read=as_read,
        good=widened(exact, terms.setup_sd),
        inside=inside,
        pairs_won=pairs_won(good_before, good_after),
        leaning=leaning(exact) if too_early else 0,
        balls_needed=_balls_needed(before, after, terms, exact, inside) if advised else None,
        hidden_by=_hidden_by(exact, terms) if advised else None,
    )


def _hidden_by(exact: Shift, terms: Terms) -> Hidden | None:
    if terms.by_share or not hidden(
        max(abs(exact.estimate), terms.smallest_change), terms.setup_sd
    ):
        return None
    return Hidden.AIR if terms.air_sd > sqrt(2) * terms.moved_sd else Hidden.SETUP


def _verdict(before: Phase, after: Phase, terms: Terms, n: int) -> tuple[Verdict, DriftFinding]:
    """The verdict after the drift guard; ``n`` is the smaller block's size as hit."""
    if terms.by_share:
        change = inside_change(before.values, after.values, terms.want)
        if change is None:
            return Verdict.TOO_EARLY, DriftFinding.NOT_CHECKED
        return read_verdict(
            widened(share_shift(change), 0.0), MATTERS, n, SHARES
        ), DriftFinding.NOT_CHECKED
    good_before, good_after = (goodness(p.values, terms.want) for p in (before, after))
    exact = shift_between(good_before, good_after)
    verdict = read_verdict(widened(exact, terms.setup_sd), terms.smallest_change, n, SHIFTS)
    back_to_old_feel = closing_shift(before)
    if back_to_old_feel is not None:
        slack = rounding(back_to_old_feel, terms.smallest_change)
        apart = abs(back_to_old_feel) >= terms.smallest_change - slack > 0
        return verdict, DriftFinding.MOVING if apart else DriftFinding.STEADY
    was = trend(before.only(~before.closing), good_before[~before.closing], after)
    if was is None:
        return verdict, DriftFinding.NOT_CHECKED
    return after_drift(verdict, exact.estimate, terms.smallest_change, was)


def _without_mishits(
    before: Phase, after: Phase, terms: Terms, n: int, verdict: Verdict
) -> Verdict:
    """The verdict with flagged mishits taken out: never shown, it can only lower the other."""
    if not before.mishit.any() and not after.mishit.any():
        return verdict
    clean_before, clean_after = before.only(~before.mishit), after.only(~after.mishit)
    if not len(clean_before) or not len(clean_after):
        return Verdict.TOO_EARLY
    return _verdict(clean_before, clean_after, terms, n)[0]


def _balls_needed(
    before: Phase, after: Phase, terms: Terms, exact: Shift, inside: ShareChange | None
) -> int | None:
    if terms.by_share and inside is not None:
        return balls_for_share(inside)
    return balls_for_shift(exact, len(before), len(after), terms.smallest_change, terms.setup_sd)


def _rank(judged: Judged, before: Phase, after: Phase, one_in: int) -> int | None:
    """None where there is no range, or where no difference is far enough out to end it."""
    return None if judged.good is None else interval_rank(len(before), len(after), one_in) or None


def _put_back(
    shots: Sequence[SortedShot], declaration: Declaration, terms: Terms, verdict: Verdict
) -> Verdict | None:
    """The verdict with the shots that the coach left out, where it differs."""
    if not any(s.left_out_by_coach for s in shots):
        return None
    clubs = {s.shot.club for s in shots if s.status is ShotStatus.USED} | {None}
    one_club = [s for s in shots if s.shot.club in clubs]
    before = phase(one_club, BEFORE, declaration.quantity, put_back=True)
    after = phase(one_club, AFTER, declaration.quantity, put_back=True)
    with_all = _judge(before, after, terms).verdict
    return with_all if with_all is not verdict else None


def _mishit_change(before: Phase, after: Phase) -> ShareChange | None:
    if not len(before) or not len(after):
        return None
    return share_change(*(share(int(p.mishit.sum()), len(p)) for p in (before, after)))


def _mishit_kinds(before: Phase, after: Phase) -> tuple[MishitKind, ...]:
    was, now = (Counter(tag for tag in p.tags if tag) for p in (before, after))
    return tuple(MishitKind(tag, was[tag], now[tag]) for tag in sorted(was | now))
