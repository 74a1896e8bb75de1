"""How long a swing takes back and down, and how far that may be trusted."""

from recapgen.clips.footage import Footage
from recapgen.model.filming import Position
from recapgen.model.films import ImpactFrom, Moment, Tempo

_START_WITHIN_S = 0.07
_TOP_WITHIN_S = 0.04
"""Of the movement's estimates, in the drawn swings (``tests/benchmarks/strike_accuracy.py``)."""


def tempo_of(side: Footage) -> Tempo | None:
    """In seconds of life; None where start, top or strike are not known well enough.

    Each moment read off pictures is right within half of their distance, so a difference of
    two within the whole; estimates add their own error.
    """
    known = {moment.position: moment for moment in side.moments}
    if side.strike.found_in is ImpactFrom.GUESS or not {Position.START, Position.TOP} <= set(known):
        return None
    start, top = known[Position.START], known[Position.TOP]
    pace = side.clip.directions.pace
    began_s, turned_s, struck_s = (
        pace.life_s(at_s) for at_s in (start.at_s, top.at_s, side.strike.at_s)
    )
    back_s, down_s = turned_s - began_s, struck_s - turned_s
    if back_s <= 0 or down_s <= 0:
        return None
    picture_s = 1 / (side.recording.fps * pace.times_at(side.strike.at_s))
    return Tempo(
        back_s=back_s,
        down_s=down_s,
        back_within_s=picture_s + _off_by(start, _START_WITHIN_S) + _off_by(top, _TOP_WITHIN_S),
        down_within_s=picture_s + _off_by(top, _TOP_WITHIN_S),
    )


def _off_by(moment: Moment, estimated_within_s: float) -> float:
    return 0.0 if moment.stated else estimated_within_s
