"""From where a clip seems to be filmed: as the clip whose picture lies on its own.

It is offered to the coach and never applied: two places at one range can look alike.
"""

from collections.abc import Sequence

from recapgen.clips.alignment import as_they_are, lie_of
from recapgen.clips.footage import Footage, inspect
from recapgen.clips.remembering import remembered
from recapgen.model.lesson import ClipFile, View
from recapgen.tools.apart import LostError, apart
from recapgen.tools.cache import Cache, key_for
from recapgen.tools.media import converter
from recapgen.tools.media.limits import to_watch_s
from recapgen.tools.media.senses import GreyPicture
from recapgen.tools.media.stills import stills_at

BELIEVED = 0.7  # so alike where they lie on each other
CLEARLY = 0.15  # more alike than with any other view
OF_EACH_VIEW = 2  # clips looked at; the newest say most about where the phone stood

_COMPARED = "views compared; 1"
_LONG_SIDE = 256
_ADDRESS_S = 1.5  # before impact, when the golfer stands still


def likely_view(clip: ClipFile, known: Sequence[ClipFile], cache: Cache) -> View | None:
    """The view of those ``known`` clips that ``clip`` looks like; None where nothing is clear.

    ``known`` have a view; of each view those that come first are looked at.
    """
    footage = inspect(clip, cache).value
    if footage is None:
        return None
    alike: dict[View, float] = {}
    for view in View:
        seen = [inspect(each, cache).value for each in known if each.view is view][:OF_EACH_VIEW]
        scores = [_alike(footage, each, cache) for each in seen if each is not None]
        if scores:
            alike[view] = max(scores)
    best = max(alike, key=alike.__getitem__, default=None)
    if best is None or alike[best] < BELIEVED:
        return None
    rest = max((score for view, score in alike.items() if view is not best), default=-1.0)
    return best if alike[best] >= rest + CLEARLY else None


def _alike(one: Footage, other: Footage, cache: Cache) -> float:
    """How alike the two pictures are at address, -1 to 1; -1 where there is none."""
    at_s = (_address_s(one), _address_s(other))
    key = key_for(_COMPARED, converter.version(), one.content, other.content, repr(at_s))

    def compare() -> float:
        first, second = _still(one), _still(other)
        if first is None or second is None:
            return -1.0
        return round(max(as_they_are(first, second), lie_of(first, second).score), 3)

    try:
        return remembered(cache, key, compare, float)
    except LostError:
        return -1.0


def _address_s(footage: Footage) -> float:
    return max(0.0, footage.strike.at_s - _ADDRESS_S)


def _still(footage: Footage) -> GreyPicture | None:
    told = (footage.clip.path, footage.recording, _LONG_SIDE, (_address_s(footage),))
    return apart(stills_at, *told, seconds=to_watch_s(footage.recording))[0]
