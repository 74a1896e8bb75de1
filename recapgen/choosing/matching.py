"""Which clip shows which shot: the phone's clock against the times of the shots.

The two clocks may be any time apart, be it a slow watch or a time zone, but always by the same.
Every difference that a clip and a shot could have is tried; the one that brings most clips to a
shot is believed where no other does as well and chance would hardly do it.
"""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC
from itertools import permutations
from math import comb, inf

from msgspec.structs import replace

from recapgen.choosing.block_times import blocks_by_time
from recapgen.model.clip_line import is_listed, said_of
from recapgen.model.clock_marks import TimedBlock
from recapgen.model.films import FilmedClip
from recapgen.model.fix import Add, Change, Offer, Put, one_of
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Code, Problem
from recapgen.model.shots import Block, SortedShot
from recapgen.model.source import SourceRef

WITHIN_S = (1.0, 2.0)
"""How far a clip's strike may be from its shot; the narrowest that settles it is taken."""

_BY_CHANCE = 0.05  # so many differences as good would be found among unrelated clips
_LEAD = 2  # so many clips more than any other difference brings to a shot
_KNOWN_COUNTS = 1  # more, for a clip that notes or name say the same of
_MOST = 0.5  # of the clips with a time have to be brought to a shot

Assigned = Mapping[int, int]
"""Which clip -> which shot, both counted from 0."""


def match(
    clips: Sequence[FilmedClip], shots: Sequence[SortedShot], timed: Sequence[TimedBlock] = ()
) -> tuple[tuple[ClipFile, ...], tuple[Problem, ...]]:
    """The clips, each with its shot: by notes or name, else by its time, else with its block.

    What the notes say goes first, then the name, then the time. Where they disagree, or two
    clips of one view show one shot, the coach is asked, with the words to write. ``timed`` are
    the blocks as the notes give them by the clock.
    """
    by_time = _by_time(clips, shots)
    taken = {(one.clip.view, one.clip.shot) for one in clips if one.clip.shot is not None}
    block_of = {each.shot.number: each.block for each in shots}
    matched = []
    problems: list[Problem] = []
    for one in clips:
        clip, shot = one.clip, by_time.get(one)
        if shot is not None and (said := _says_otherwise(clip, shot, block_of.get(shot))):
            offers = one_of([said_of(clip, "shot", str(shot))])
            problems.append(_asked(clip, Code.CLIP_TIME_DIFFERS, shot, offers, said=said))
        elif shot is not None and clip.shot is None and (clip.view, shot) not in taken:
            clip = replace(clip, shot=shot)
        matched.append(clip)
    problems.extend(_shared(matched))
    at_a_shot = {one.clip.path for one in by_time}
    known = [replace(one, clip=clip) for one, clip in zip(clips, matched, strict=True)]
    found = blocks_by_time(known, timed, shots)
    blocks = {one: block for one, block in found.items() if one.clip.path not in at_a_shot}
    matched = [replace(one.clip, block=blocks.get(one, one.clip.block)) for one in known]
    if any(one.struck_at is not None for one in clips) and (timed or _times(shots)):
        in_time = sorted(range(len(clips)), key=lambda at: clips[at].struck_at or inf)
        problems.extend(_open([matched[at] for at in in_time]))
    return tuple(matched), tuple(problems)


def _says_otherwise(clip: ClipFile, shot: int, block: str | None) -> str | None:
    """What notes or name say, as the notes would write it, where the time gives another."""
    if clip.shot is not None:
        return f"shot: {clip.shot}" if clip.shot != shot else None
    told = clip.block
    return f"block: {told}" if told is not None and block is not None and told != block else None


def _asked(
    clip: ClipFile, code: Code, shot: int, offers: tuple[Offer, ...] = (), /, **facts: str
) -> Problem:
    facts |= {"file": clip.path.name, "shot": str(shot)}
    return Problem(code, clip.where, facts, offers=offers)


def _shared(clips: Sequence[ClipFile]) -> Iterator[Problem]:
    """Two clips of one view cannot show one shot."""
    first: dict[tuple[str | None, int], ClipFile] = {}
    for clip in clips:
        if clip.shot is None:
            continue
        other = first.setdefault((clip.view, clip.shot), clip)
        if other is not clip:
            yield _asked(clip, Code.CLIP_SHOT_SHARED, clip.shot, other=other.path.name)


def _open(clips: Sequence[ClipFile]) -> Iterator[Problem]:
    """One question for all clips, in the order of time, of which nothing says what they show.

    The first half is of the block before, or else of the one after.
    """
    unknown = [clip for clip in clips if clip.shot is None and clip.block is None]
    if not unknown:
        return
    facts = {"files": ", ".join(clip.path.name for clip in unknown)}
    half = (len(unknown) + 1) // 2
    ways = []
    for first, second in permutations((Block.BEFORE, Block.AFTER)):
        blocks = {clip.path.name: first if n < half else second for n, clip in enumerate(unknown)}
        ways.append(tuple(_said_of_blocks(clips, blocks)))
    yield Problem(Code.CLIP_SHOT_OPEN, unknown[0].where, facts, offers=one_of(ways))


def _said_of_blocks(clips: Sequence[ClipFile], blocks: Mapping[str, Block]) -> Iterator[Change]:
    """The block of each of ``blocks``; where no list is yet, one of all clips of the folder."""
    unlisted = [clip for clip in clips if not is_listed(clip)]
    names = (name for clip in unlisted for name in (clip.path.name, *clip.beside))
    for name in dict.fromkeys((*(clip.path.name for clip in unlisted), *names)):
        told = {"block": blocks[name].value} if name in blocks else {}
        notes = SourceRef(unlisted[0].impact_where.file)
        yield Add(notes, ("clips",), {"file": name} | told)
    for clip in clips:
        if is_listed(clip) and clip.path.name in blocks:
            yield Put(clip.where, ("block",), blocks[clip.path.name].value)


def _times(shots: Sequence[SortedShot]) -> dict[int, float]:
    """Shot number -> seconds, where all shots that have a time tell it alike."""
    times = {each.shot.number: each.shot.time for each in shots if each.shot.time is not None}
    if len({time.tzinfo is None for time in times.values()}) > 1:
        return {}
    return {
        number: (time if time.tzinfo else time.replace(tzinfo=UTC)).timestamp()
        for number, time in times.items()
    }


def _by_time(clips: Sequence[FilmedClip], shots: Sequence[SortedShot]) -> dict[FilmedClip, int]:
    times = _times(shots)
    numbers = sorted(times, key=lambda number: (times[number], number))
    timed = [one for one in clips if one.struck_at is not None]
    struck = [one.struck_at or 0.0 for one in timed]
    said = {
        i: numbers.index(one.clip.shot) for i, one in enumerate(timed) if one.clip.shot in times
    }
    assigned = solve(struck, [times[number] for number in numbers], said)
    return {timed[i]: numbers[j] for i, j in assigned.items()}


def solve(clips: Sequence[float], shots: Sequence[float], said: Assigned) -> Assigned:
    """Which clip was filmed at which shot, by one constant difference of the clocks.

    ``clips`` and ``shots`` are seconds, each on its own clock, the shots ascending; ``said`` is
    what is known already and only helps to choose. Nothing where no difference stands out.
    """
    for within_s in WITHIN_S if clips and shots else ():
        found = _best(clips, shots, said, within_s)
        if found is not None and _chance(found, clips, shots, said, within_s) <= _BY_CHANCE:
            return found
    return {}


def _best(
    clips: Sequence[float], shots: Sequence[float], said: Assigned, within_s: float
) -> Assigned | None:
    """The shots by the best difference; None where it does not lead every other clearly."""
    pairs = sorted((at - clip, i, j) for i, clip in enumerate(clips) for j, at in enumerate(shots))
    starts = [difference for difference, _, _ in pairs]
    tried = []
    for place, start in enumerate(starts):
        here = pairs[place : bisect_right(starts, start + 2 * within_s)]
        met = Counter(i for _, i, _ in here)
        told = {i: j for _, i, j in here if met[i] == 1}
        tried.append((_votes(told, said), start, told))
    most, start, _ = max(tried, key=lambda one: one[:2])
    alike = [told for votes, _, told in tried if votes == most]
    rest = (votes for votes, other, _ in tried if abs(other - start) > 2 * within_s)
    if max(rest, default=0) > most - _LEAD:
        return None
    shown = {(i, j) for told in alike for i, j in told.items()}
    found = dict(shown)
    return found if len(found) == len(shown) else None


def _votes(told: Assigned, said: Assigned) -> int:
    agreeing = sum(said.get(i) == j for i, j in told.items())
    return len(told) + _KNOWN_COUNTS * agreeing


def _chance(
    found: Assigned,
    clips: Sequence[float],
    shots: Sequence[float],
    said: Assigned,
    within_s: float,
) -> float:
    """How many differences as good as this one clips of nothing would be expected to have.

    The first clip meets every shot at some difference, or one where it is known which; each
    further one then meets a shot with the share of the time that lies near one.
    """
    span_s = shots[-1] - shots[0]
    fit, of = len(found), len(clips)
    if span_s <= 0 or fit <= _MOST * of:
        return inf
    near = min(1.0, len(shots) * 2 * within_s / span_s)
    agreed = any(said.get(i) == j for i, j in found.items())
    distinct = len(set(found.values()))
    beginnings = 1 if agreed else len(shots)
    return float(beginnings * comb(of - 1, fit - 1) * near ** (distinct - 1))
