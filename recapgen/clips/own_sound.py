"""Is a strike that was heard the golfer's own? It is about as loud as those of the other clips."""

from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from recapgen.clips.footage import Footage, ask_for
from recapgen.clips.strike import SOFTER_DB
from recapgen.model.films import ImpactFrom, Strike
from recapgen.model.problem import Checked, Code

_FEWEST = 2  # other clips that tell how loud the golfer is heard
_SOFT = (Code.CLIP_STRIKE_SOFT, Code.CLIP_STRIKE_SOFT_UNLISTED)


def doubt_soft(looks: Sequence[Checked[Footage]]) -> tuple[Checked[Footage], ...]:
    """One lesson's clips; a strike heard much softer than the others' becomes a guess, and asks.

    So a neighbour's is told from the golfer's own where the swing was a rehearsal, or its own
    strike went under.
    """
    heard = [look.value.loudness_db if look.value is not None else None for look in looks]
    return tuple(
        _judged(look, [db for k, db in enumerate(heard) if k != number and db is not None])
        for number, look in enumerate(looks)
    )


def _judged(look: Checked[Footage], others_db: Sequence[float]) -> Checked[Footage]:
    footage = look.value
    if footage is None or footage.loudness_db is None or len(others_db) < _FEWEST:
        return look
    softer_db = median(others_db) - footage.loudness_db
    if softer_db < SOFTER_DB:
        return look
    strike = Strike(footage.strike.at_s, ImpactFrom.GUESS)
    asked = ask_for(
        footage.clip,
        _SOFT,
        "impact",
        (f"{strike.at_s:.3f}",),
        guess=f"{strike.at_s:.2f}",
        softer=f"{softer_db:.0f}",
    )
    return Checked(replace(footage, strike=strike), (*look.problems, asked))
