"""Is a strike that was heard the golfer's own? It is about as loud as those of the other clips."""

from collections.abc import Sequence
from statistics import median

from msgspec.structs import replace

from recapgen.clips.clip_questions import ask_for, ask_whether, seconds_shown, seconds_written
from recapgen.clips.footage import Footage
from recapgen.clips.strike import Hit
from recapgen.model.films import ImpactFrom, Strike
from recapgen.model.problem import Checked, Code, Problem

FEWEST_OTHERS = 2
"""Other clips of a lesson, for how loud the golfer's own strikes are."""

_SOFTER_DB = 7.0  # above 13 kHz; own strikes are within 3.5 dB of their median
_DULL_DB = -9.0  # of the top against the rest: of 100 own strikes one is duller
_SOFT = (Code.CLIP_IMPACT_SOFT, Code.CLIP_IMPACT_SOFT_UNLISTED)


def doubt_soft(looks: Sequence[Checked[Footage]]) -> tuple[Checked[Footage], ...]:
    """One lesson's clips; a strike heard unlike the golfer's own becomes a guess, and asks.

    So a neighbour's is kept apart where the swing was a rehearsal, or where its own strike went
    under: some metres more of air, and a partition, take most of what is above 13 kHz. Where there
    are other clips it is held against theirs; else against what is seldom heard so near.
    """
    heard = [look.value.heard if look.value is not None else None for look in looks]
    return tuple(
        _judged(look, [hit for k, hit in enumerate(heard) if k != number and hit is not None])
        for number, look in enumerate(looks)
    )


def softer_than_own_db(heard: Hit, others: Sequence[Hit]) -> float | None:
    """How much softer it is above 13 kHz than the others, where that is another's; else None."""
    softer_db = median(other.high_db for other in others) - heard.high_db
    return softer_db if softer_db >= _SOFTER_DB else None


def is_dull(heard: Hit) -> bool:
    """Does it lack what a strike has that is heard four metres off?"""
    return heard.top_db < _DULL_DB


def _judged(look: Checked[Footage], others: Sequence[Hit]) -> Checked[Footage]:
    footage = look.value
    if footage is None or footage.heard is None:
        return look
    asked = _doubt(footage, footage.heard, others)
    if asked is None:
        return look
    strike = Strike(footage.strike.at_s, ImpactFrom.GUESS)
    return Checked(replace(footage, strike=strike), (*look.problems, asked))


def _doubt(footage: Footage, heard: Hit, others: Sequence[Hit]) -> Problem | None:
    struck_s = footage.strike.at_s
    if len(others) < FEWEST_OTHERS:
        return ask_whether(footage.clip, struck_s) if is_dull(heard) else None
    softer_db = softer_than_own_db(heard, others)
    if softer_db is None:
        return None
    told = {"guess": seconds_shown(struck_s), "softer": f"{softer_db:.0f}"}
    return ask_for(footage.clip, _SOFT, "impact", (seconds_written(struck_s),), **told)
