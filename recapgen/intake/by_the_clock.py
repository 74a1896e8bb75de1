"""Blocks and marks given by time of day become numbers of shots.

The phone's clock and the device's may differ by any constant. No difference is used where none is
needed, else the only one at which every block has shots and a pause before and after it. Where
several fit, or none, a problem offers the numbers of the shots.
"""

import itertools
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, time
from statistics import median

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.clock_words import told
from recapgen.model.clock_marks import DAY_S, ClockMarkKind, ClockSpan, TimedBlock, TimedMark
from recapgen.model.fix import Cut, Offer, Swap, one_of
from recapgen.model.lesson import LeftOut, MishitTag, Notes, ShotSpan
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.shots import Block, Shot, ShotTable

_PAUSE_S = 20.0  # at least so long nobody hits where a block begins or ends
_OF_PACE = 1.5  # and longer than the usual time from ball to ball
_MOST_ASKED = 4
_ZONES_S = 900.0
_BEFORE_MARK_S = 90.0  # a mishit is noted after the ball

Placing = tuple[Block | None, ...]
"""The block of each timed shot, in the order of time."""


class _Ahead(Struct, frozen=True):
    """Seconds by which the device's clock is ahead: the likely value and its bounds."""

    likely: float
    least: float
    most: float


_ALIKE = _Ahead(0.0, 0.0, 0.0)


class _Clocked(Struct, frozen=True):
    """Shots with the seconds of their own clock, in the order of time."""

    shots: tuple[Shot, ...]
    at_s: tuple[float, ...]
    pause_s: float


def place_by_time(notes: Notes, table: ShotTable) -> Checked[Notes]:
    """The notes with blocks, mishits and left-outs as numbers of shots, as far as known."""
    if not (notes.timed or notes.marks) or table.by_hand or not table.shots:
        return Checked(notes, ())
    untimed = [shot for shot in table.shots if shot.time is None]
    if untimed:
        where = notes.timed[0].span.where if notes.timed else notes.marks[0].span.where
        facts = {"n": str(len(untimed)), "of": str(len(table.shots))}
        return Checked(notes, (Problem(Code.SHOTS_WITHOUT_TIMES, where, facts),))
    clocked = _clocked(table.shots)
    if not notes.timed:
        return _with_marks(notes, clocked, _ALIKE)
    blocks = _unwrapped(notes.timed)
    difference, problems = _difference(blocks, clocked)
    if difference is None:
        return Checked(notes, problems)
    spans = tuple(_spans(blocks, _placed(blocks, clocked, difference.likely), clocked))
    placed, found = _with_marks(replace(notes, spans=spans), clocked, difference)
    return Checked(placed, (*problems, *found))


def _clocked(shots: Sequence[Shot]) -> _Clocked:
    """By the clock on the wall; where no day is told but one, it may have struck midnight."""
    walls = [shot.time.replace(tzinfo=None) for shot in shots if shot.time is not None]
    start = datetime.combine(min(walls).date(), time())
    seconds = [(wall - start).total_seconds() for wall in walls]
    if max(seconds) < DAY_S:
        first = _after_longest_gap(seconds)
        seconds = [s if s >= first else s + DAY_S for s in seconds]
    order = sorted(range(len(shots)), key=lambda i: (seconds[i], shots[i].number))
    at_s = tuple(seconds[i] for i in order)
    gaps = [b - a for a, b in itertools.pairwise(at_s) if b > a]
    pace = median(gaps) if gaps else 0.0
    return _Clocked(tuple(shots[i] for i in order), at_s, max(_PAUSE_S, _OF_PACE * pace))


def _after_longest_gap(seconds: Sequence[float]) -> float:
    """The first time of day after the longest gap round the clock, in seconds."""
    dial = sorted(seconds)
    gaps = [b - a for a, b in zip(dial, (*dial[1:], dial[0] + DAY_S), strict=True)]
    return dial[(gaps.index(max(gaps)) + 1) % len(dial)]


def _unwrapped(timed: Sequence[TimedBlock]) -> tuple[TimedBlock, ...]:
    """In the order of time, those after midnight on the next day."""
    first = _after_longest_gap([each.span.first_s for each in timed])

    def moved(span: ClockSpan) -> ClockSpan:
        if span.first_s >= first:
            return span
        return replace(span, first_s=span.first_s + DAY_S, last_s=span.last_s + DAY_S)

    days = (replace(each, span=moved(each.span)) for each in timed)
    return tuple(sorted(days, key=lambda each: each.span.first_s))


def _placed(blocks: Sequence[TimedBlock], clocked: _Clocked, difference: float) -> Placing:
    def block_at(at: float) -> Block | None:
        noted = at - difference
        held = (each for each in blocks if each.span.first_s <= noted < each.span.end_s)
        # The minute in which one ends and the next begins belongs to the next.
        return next((each.block for each in reversed(tuple(held))), None)

    return tuple(block_at(at) for at in clocked.at_s)


def _cuts(blocks: Sequence[TimedBlock], placing: Placing, clocked: _Clocked) -> tuple[int, bool]:
    """How many ends of blocks fall between balls hit one after another, and if by the minute."""
    by_minute = {each.block for each in blocks if not each.span.exact}
    cuts, rough = 0, False
    for at, (one, other) in enumerate(itertools.pairwise(placing)):
        if one is not other and clocked.at_s[at + 1] - clocked.at_s[at] < clocked.pause_s:
            cuts += 1
            rough = rough or bool({one, other} & by_minute)
    return cuts, rough


def _difference(
    blocks: Sequence[TimedBlock], clocked: _Clocked
) -> tuple[_Ahead | None, tuple[Problem, ...]]:
    """How far the shots' clock is ahead; None where it has to be asked."""
    wanted = {each.block for each in blocks}
    edges = [e for each in blocks for e in (each.span.first_s, each.span.end_s - 0.5)]
    alike = [float(days * DAY_S) for days in (-1, 0, 1)]
    others = sorted({at - edge for at in clocked.at_s for edge in edges}, key=abs)
    first: dict[Placing, float] = {}
    reach: dict[Placing, list[float]] = {}
    for difference in (*alike, *others):
        placing = _placed(blocks, clocked, difference)
        if wanted <= set(placing):
            first.setdefault(placing, difference)
            reach.setdefault(placing, []).append(difference)
    fit = {placing: cuts for placing in first for cuts in (_cuts(blocks, placing, clocked),)}
    for difference in alike:
        placing = _placed(blocks, clocked, difference)
        if placing in fit and (fit[placing][0] == 0 or fit[placing] == (1, False)):
            return _Ahead(difference, difference, difference), ()
    clear = [placing for placing, (cuts, _) in fit.items() if not cuts]
    if len(clear) == 1:
        ahead = _within(min(reach[clear[0]]), max(reach[clear[0]]))
        return ahead, (_clocks_differ(blocks, clear[0], ahead.likely, clocked),)
    likely = sorted(fit, key=lambda p: (fit[p][0], p.count(None), abs(first[p])))
    asked = [p for p in (_placed(blocks, clocked, d) for d in alike) if p in fit]
    ways = tuple(dict.fromkeys((*asked, *(clear or likely))))[:_MOST_ASKED]
    return None, (_asked(blocks, clocked, ways),)


def _within(least: float, most: float) -> _Ahead:
    """Clocks of two time zones are quarters of an hour apart; else the middle is as good as any."""
    zone = round((least + most) / 2 / _ZONES_S) * _ZONES_S
    if least <= zone <= most:
        return _Ahead(zone, zone, zone)
    return _Ahead((least + most) / 2, least, most)


def _asked(blocks: Sequence[TimedBlock], clocked: _Clocked, ways: Sequence[Placing]) -> Problem:
    facts = {
        "blocks": ", ".join(f"{each.block} {each.span.text}" for each in blocks),
        "first": told(clocked.at_s[0]),
        "last": told(clocked.at_s[-1]),
    }
    offers = one_of(_in_numbers(blocks, placing, clocked) for placing in ways)
    return Problem(Code.SPANS_TIME_OPEN, blocks[0].span.where, facts, offers=offers)


def _clocks_differ(
    blocks: Sequence[TimedBlock], placing: Placing, difference: float, clocked: _Clocked
) -> Problem:
    """Taken, and reported; the numbers of the shots end the question."""
    minutes = round(abs(difference) / 60)
    facts = {
        "minutes": str(minutes),
        "way": "ahead of" if difference > 0 else "behind",
        "shots": ", ".join(
            f"{block} {', '.join(_runs(block, placing, clocked))}"
            for block in dict.fromkeys(each.block for each in blocks)
        ),
    }
    offers = one_of([_in_numbers(blocks, placing, clocked)])
    return Problem(Code.CLOCKS_DIFFER, blocks[0].span.where, facts, offers=offers)


def _in_numbers(
    blocks: Sequence[TimedBlock], placing: Placing, clocked: _Clocked
) -> tuple[Swap | Cut, ...]:
    """The same blocks in numbers of shots; one that is written twice, once."""
    seen: set[Block] = set()
    changes: list[Swap | Cut] = []
    for each in blocks:
        if each.block not in seen:
            runs = tuple(_runs(each.block, placing, clocked))
            new = runs if len(runs) > 1 else runs[0]
            changes.append(Swap(each.span.where, each.span.text, new))
        seen.add(each.block)
    return tuple(changes)


def _runs(block: Block, placing: Placing, clocked: _Clocked) -> Iterator[str]:
    for first, last in _stretches(block, placing, clocked):
        yield str(first) if first == last else f"{first}-{last}"


def _stretches(block: Block, placing: Placing, clocked: _Clocked) -> list[tuple[int, int]]:
    """The block's numbers of shots as (first, last) runs."""
    numbers = sorted(
        shot.number for shot, own in zip(clocked.shots, placing, strict=True) if own is block
    )
    there = sorted(shot.number for shot in clocked.shots)
    follows = dict(itertools.pairwise(there))
    stretches: list[tuple[int, int]] = []
    for number in numbers:
        if stretches and follows.get(stretches[-1][1]) == number:
            stretches[-1] = (stretches[-1][0], number)
        else:
            stretches.append((number, number))
    return stretches


def _spans(blocks: Sequence[TimedBlock], placing: Placing, clocked: _Clocked) -> Iterator[ShotSpan]:
    where = {each.block: each.span.where for each in reversed(blocks)}
    for block in dict.fromkeys(each.block for each in blocks):
        for first, last in _stretches(block, placing, clocked):
            yield ShotSpan(block, first, last, where[block])


def _with_marks(notes: Notes, clocked: _Clocked, ahead: _Ahead) -> Checked[Notes]:
    mishits, left_out = list(notes.mishits), list(notes.left_out)
    problems: list[Problem] = []
    seen: Mapping[ClockMarkKind, set[int]] = {
        ClockMarkKind.MISHIT: {one.shot for one in mishits},
        ClockMarkKind.LEFT_OUT: {one.shot for one in left_out},
    }
    for mark in notes.marks:
        shots, near = _marked(mark, clocked, ahead.likely)
        ends = [_marked(mark, clocked, end)[0] for end in (ahead.least, ahead.most)]
        if any(end != shots for end in ends):
            either = {shot.number: shot for end in (near, *ends) for shot in end}
            shots, near = (), tuple(either[number] for number in sorted(either))
        if not shots:
            problems.append(_mark_open(mark, near))
        for shot in shots:
            if shot.number in seen[mark.kind]:
                facts = {"key": str(mark.kind), "shot": str(shot.number)}
                offers = one_of([Cut(mark.span.where)])
                problems.append(Problem(Code.SHOT_TWICE, mark.span.where, facts, offers=offers))
                continue
            seen[mark.kind].add(shot.number)
            if mark.kind is ClockMarkKind.MISHIT:
                mishits.append(MishitTag(shot.number, mark.words, mark.span.where))
            else:
                left_out.append(LeftOut(shot.number, mark.words, mark.span.where))
    placed = replace(notes, mishits=tuple(mishits), left_out=tuple(left_out))
    return Checked(placed, tuple(problems))


def _marked(
    mark: TimedMark, clocked: _Clocked, difference: float
) -> tuple[tuple[Shot, ...], tuple[Shot, ...]]:
    """The shots that are meant; without any, those that may be."""
    span, day = mark.span, DAY_S
    noted = [(at - difference, shot) for at, shot in zip(clocked.at_s, clocked.shots, strict=True)]
    first, end = span.first_s, span.end_s
    if noted and first + day / 2 < noted[0][0]:
        first, end = first + day, end + day
    elif noted and first - day / 2 > noted[-1][0]:
        first, end = first - day, end - day
    within = tuple(shot for at, shot in noted if first <= at < end)
    if span.last_s > span.first_s or (len(within) == 1 and not span.exact):
        return within, _nearest(noted, first)
    before = [shot for at, shot in noted if first - _BEFORE_MARK_S <= at < end]
    if span.exact:
        return tuple(before[-1:]), _nearest(noted, first)
    if not within and len(before) == 1:
        return tuple(before), ()
    return (), within or _nearest(noted, first)


def _nearest(noted: Sequence[tuple[float, Shot]], at: float) -> tuple[Shot, ...]:
    """The last shot before it, and the first after."""
    before = [shot for time, shot in noted if time < at][-1:]
    after = [shot for time, shot in noted if time >= at][:1]
    return (*before, *after)


def _mark_open(mark: TimedMark, near: Sequence[Shot]) -> Problem:
    """Which shot it was, only the coach can tell."""
    facts = {
        "key": str(mark.kind),
        "found": mark.span.text,
        "shots": ", ".join(str(shot.number) for shot in near[:_MOST_ASKED]) or "-",
    }
    offers: tuple[Offer, ...] = one_of(
        Swap(mark.span.where, mark.span.text, str(shot.number)) for shot in near[:_MOST_ASKED]
    )
    return Problem(Code.MARK_TIME_OPEN, mark.span.where, facts, offers=offers)


def check_apart(timed: Sequence[TimedBlock]) -> Iterator[Problem]:
    """No time of day in two blocks."""
    blocks = _unwrapped(timed) if timed else ()
    for one, other in itertools.pairwise(blocks):
        if other.span.first_s >= one.span.last_s:
            continue
        share = told(other.span.first_s), told(min(one.span.last_s, other.span.last_s))
        facts = {
            "block": str(other.block), "other": str(one.block),
            "span": other.span.text, "other_span": one.span.text, "shared": "-".join(share),
        }  # fmt: skip
        ways = []
        if one.span.last_s < other.span.last_s:
            later = f"{told(one.span.last_s)}-{told(other.span.last_s)}"
            ways.append(Swap(other.span.where, other.span.text, later))
        if one.span.first_s < other.span.first_s:
            earlier = f"{told(one.span.first_s)}-{told(other.span.first_s)}"
            ways.append(Swap(one.span.where, one.span.text, earlier))
        yield Problem(Code.SPANS_OVERLAP, other.span.where, facts, offers=one_of(ways))
