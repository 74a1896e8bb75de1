"""One clip looked into: is it whole, what is in it, and when was the strike."""

from collections.abc import Mapping
from math import inf
from pathlib import Path

import numpy as np
from msgspec import Struct
from msgspec.structs import astuple, replace

from recapgen.clips.ball_departure import ball_gone
from recapgen.clips.clip_questions import ask_how_slow, refusal_of, seconds_shown, which_impact
from recapgen.clips.following import marked, travel_to
from recapgen.clips.movement import Movement, movement_in, slowness
from recapgen.clips.positions import find_positions
from recapgen.clips.remembering import recalled, remembered, tried
from recapgen.clips.strike import BallGone, Hit, StrikeFound, find_strike, hits_in
from recapgen.model.clip_line import said_of
from recapgen.model.filming import Covered, Pace, Position
from recapgen.model.films import ImpactFrom, Moment, Strike, Travel
from recapgen.model.fix import Cut, one_of
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Checked, Code, Cost, Problem
from recapgen.model.source import SourceRef
from recapgen.tools.apart import LostError, apart
from recapgen.tools.cache import Cache, digest_of_file, key_for
from recapgen.tools.media import converter
from recapgen.tools.media.limits import to_look_s, to_watch_s
from recapgen.tools.media.recording import Recording, Unusable, look
from recapgen.tools.media.senses import Glimpses, close_up, glimpse, hear
from recapgen.tools.media.wholeness import Stretch, whole_stretches

LONGEST_UNTRIMMED_S = 60.0
_LOOKED_INTO = "looked into; 5"
_LISTENED_TO = "listened to and watched; 5"
_SEARCHED = "searched for damage; 2"
_LEAST_WHOLE_S = 0.3  # of life; less around a strike shows nothing
_MOST_OFFERED = 3
_BALL_WATCHED = "ball watched; 1"
_PATCH_FOLLOWED = "patch followed; 1"
BALL_SIDE = 0.014
"""Of the picture's longer side: a little less than a ball looks from a tripod's place."""

_GLIMPSE_LONG_SIDE = 96
_GLIMPSES_APART_S = 1 / 70  # one per picture at 60 a second, every fourth at 240


class _Sensed(Struct, frozen=True):
    """What was heard and seen, as it is kept: the movement is (times, speed).

    ``broken`` where some of it could not be decoded.
    """

    hits: tuple[Hit, ...]
    times_s: tuple[float, ...]
    speed: tuple[float, ...]
    broken: bool

    def movement(self, pace: Pace) -> Movement:
        """In seconds of life, where the clip plays as ``pace`` says."""
        times_s = np.array([pace.life_s(at_s) for at_s in self.times_s])
        slower = np.array([pace.times_at(at_s) for at_s in self.times_s])
        return Movement(times_s, np.array(self.speed) * slower)


class Footage(Struct, frozen=True):
    """A clip that can be shown; ``content`` is the digest of its file.

    ``whole`` is the part around the strike that is not damaged, in seconds from the first
    picture; None where all of it is whole. ``travel`` is that of the patch to be followed.
    ``heard`` is the sound of the strike, where it is believed by that;
    ``impacts_s`` are the strikes in question where there are several. ``covered`` hides the face
    in a case.
    """

    clip: ClipFile
    content: str
    recording: Recording
    strike: Strike
    moments: tuple[Moment, ...] = ()
    whole: Stretch | None = None
    travel: Travel | None = None
    heard: Hit | None = None
    impacts_s: tuple[float, ...] = ()
    covered: tuple[Covered, ...] = ()

    @property
    def starts_s(self) -> float:
        """The first still: what the coach marks is marked there."""
        return next((m.at_s for m in self.moments if m.position is Position.START), 0.0)

    @property
    def struck_at(self) -> float | None:
        """The strike in seconds of the phone's clock; None where the phone wrote no time."""
        began = self.recording.recorded_at
        return None if began is None else began + self.clip.directions.pace.life_s(self.strike.at_s)

    @property
    def shown_s(self) -> Stretch:
        """From when to when it can be shown."""
        return self.whole or (0.0, self.recording.times_s[-1])


def inspect(clip: ClipFile, cache: Cache) -> Checked[Footage]:
    """Look into a clip and find its strike; a clip that cannot be shown is a problem.

    The notes' word on the strike goes before everything. A strike that is only a guess
    still gives footage, with the line that would settle it. Whatever a file does to its reader
    costs that clip.
    """
    try:
        return _looked_into(clip, cache)
    except LostError:
        return _refused(clip, Code.CLIP_NOT_READ)


def recorded_at(path: Path, cache: Cache) -> float | None:
    """When the phone says that the clip was made, in seconds since 1970; None where it says not."""
    where = SourceRef(path.name)
    try:
        content = digest_of_file(path)
        recording = _recording(ClipFile(path, where, None, None, None, None, where), content, cache)
    except (OSError, LostError):
        return None
    return recording.recorded_at if isinstance(recording, Recording) else None


def inspect_any_length(clip: ClipFile, cache: Cache) -> Checked[Footage]:
    """The same, but in a recording too long to be looked through, where it seems to be heard."""
    try:
        content = digest_of_file(clip.path)
        recording = _recording(clip, content, cache)
        if isinstance(recording, Recording) and recording.length_s > LONGEST_UNTRIMMED_S:
            heard_s = _heard_in(clip, content, recording, cache)
            clip = replace(clip, impact_s=heard_s[0]) if heard_s else clip
    except (OSError, LostError):
        pass  # is told below, as of any clip
    return inspect(clip, cache)


def _looked_into(clip: ClipFile, cache: Cache) -> Checked[Footage]:
    try:
        size = clip.path.stat().st_size
        content = digest_of_file(clip.path)
        recording = _recording(clip, content, cache)
        if clip.path.stat().st_size != size:
            return _refused(clip, Code.CLIP_STILL_GROWING)
    except OSError as unread:
        return _refused(clip, Code.CLIP_UNREADABLE, reason=unread.strerror or type(unread).__name__)
    if isinstance(recording, Unusable):
        return _refused(clip, refusal_of(recording.flaw), detail=recording.detail)
    if misplaced := _misplaced(clip, content, recording, cache):
        return Checked(None, (misplaced,))
    if recording.length_s > LONGEST_UNTRIMMED_S:
        strike = Strike(clip.impact_s or 0.0, ImpactFrom.NOTES)
        footage = Footage(clip, content, recording, strike, _moments(clip, {}))
        return Checked(replace(footage, travel=_travel(footage, cache)), ())
    return _followed(clip, content, recording, cache)


def _followed(clip: ClipFile, content: str, recording: Recording, cache: Cache) -> Checked[Footage]:
    """The strike and the positions, from what was heard and seen, in seconds of life."""
    sensed = _sensed(clip, content, recording, cache)
    pace = clip.directions.pace
    movement = sensed.movement(pace)
    gone = _gone(clip, content, recording, cache)
    hits = sensed.hits if pace.times == 1 else ()  # slowed sound tells nothing
    found = find_strike(hits, movement, gone)
    factor = _slowness(clip, found, movement)
    strike = _strike(clip, found, slowed=factor is not None)
    damage = Checked[Stretch](None, ())
    if sensed.broken:
        damage = _damage(clip, content, recording, strike, cache)
    whole, asked = damage.value, [*damage.problems]
    if any(problem.cost is Cost.CLIP for problem in asked):
        return Checked(None, damage.problems)
    positions = find_positions(movement, pace.life_s(strike.at_s))
    moments = _moments(clip, {at: pace.clip_s(life_s) for at, life_s in positions.items()}, whole)
    if clip.directions.ball is not None and gone is None:
        asked.append(Problem(Code.CLIP_BALL_STAYS, clip.where, {"file": clip.path.name}))
    if factor is not None:
        asked.append(ask_how_slow(clip, factor))
    footage = Footage(clip, content, recording, strike, moments, whole)
    if strike.found_in is ImpactFrom.GUESS:
        footage = replace(footage, impacts_s=found.impacts_s)
        asked.append(which_impact(clip, strike.at_s, found.impacts_s))
    elif strike.found_in is ImpactFrom.SOUND:
        footage = replace(footage, heard=found.heard)
    return Checked(replace(footage, travel=_travel(footage, cache)), tuple(asked))


def _slowness(clip: ClipFile, found: StrikeFound, movement: Movement) -> int | None:
    """How many times slower it seems to play; beside a stated impact only the sound can tell."""
    if clip.directions.slow is not None or (clip.impact_s is not None and not found.slowed):
        return None
    return slowness(movement, dull=found.slowed)


def _strike(clip: ClipFile, found: StrikeFound, *, slowed: bool) -> Strike:
    """The notes' word; a sound is not believed in a clip that seems to play slowed."""
    if clip.impact_s is not None:
        return Strike(clip.impact_s, ImpactFrom.NOTES)
    doubtful = slowed and found.found_in is ImpactFrom.SOUND
    at_s = clip.directions.pace.clip_s(found.at_s)
    return Strike(at_s, ImpactFrom.GUESS if doubtful else found.found_in)


def _travel(footage: Footage, cache: Cache) -> Travel | None:
    """How far the marked patch went from the first still to the strike."""
    asked = footage.clip.directions
    if asked.follow is None:
        return None
    patch = marked(footage.clip.path, footage.recording, asked.follow, footage.starts_s, asked)
    told = (*astuple(patch.box), patch.at_s, patch.slow, patch.mirrored, footage.strike.at_s)
    key = key_for(_PATCH_FOLLOWED, footage.content, converter.version(), *told)
    watch_s = to_watch_s(footage.recording)

    def follow() -> tuple[Travel, ...]:
        return (apart(travel_to, patch, footage.strike.at_s, seconds=watch_s),)

    return remembered(cache, key, follow, tuple[Travel, ...])[0]


def _damage(
    clip: ClipFile, content: str, recording: Recording, strike: Strike, cache: Cache
) -> Checked[Stretch]:
    """The whole part around the strike, which is all that is shown; without one, a refusal."""
    key = key_for(_SEARCHED, content, converter.version())
    watch_s = to_watch_s(recording)

    def search() -> tuple[Stretch, ...]:
        return apart(whole_stretches, clip.path, recording, seconds=watch_s)

    stretches = remembered(cache, key, search, tuple[Stretch, ...])
    if stretches == ((0.0, recording.times_s[-1]),):
        return Checked(None, ())
    struck_s = recording.nearest_picture_s(strike.at_s)
    life_s = clip.directions.pace.life_s
    for first_s, last_s in stretches:
        lasts_s = life_s(last_s) - life_s(first_s)
        if first_s <= struck_s <= last_s and lasts_s >= _LEAST_WHOLE_S:
            told = {"first": seconds_shown(first_s), "last": seconds_shown(last_s)}
            told |= {"file": clip.path.name}
            part = Problem(Code.CLIP_PARTLY_WHOLE, clip.where, told)
            return Checked((first_s, last_s), (part,))
    return _refused_part(clip, struck_s)


def _refused_part(clip: ClipFile, struck_s: float) -> Checked[Stretch]:
    facts = {"file": clip.path.name, "strike": seconds_shown(struck_s)}
    return Checked(None, (Problem(Code.CLIP_BROKEN, clip.where, facts),))


def _moments(
    clip: ClipFile, estimated: Mapping[Position, float], whole: Stretch | None = None
) -> tuple[Moment, ...]:
    """Every position that is known and whole, in order; what the notes say goes first."""
    stated = dict(clip.directions.moments)
    times = {**estimated, **stated}
    first_s, last_s = whole or (-inf, inf)
    return tuple(
        Moment(at, times[at], at in stated)
        for at in Position
        if at in times and first_s <= times[at] <= last_s
    )


def _misplaced(clip: ClipFile, content: str, recording: Recording, cache: Cache) -> Problem | None:
    """A strike outside the recording, or a recording too long to look for one."""
    name, length_s = clip.path.name, recording.length_s
    if clip.impact_s is None:
        return (
            _too_long(clip, content, recording, cache) if length_s > LONGEST_UNTRIMMED_S else None
        )
    if 0 <= clip.impact_s <= length_s:
        return None
    facts = {"impact": seconds_shown(clip.impact_s), "length": seconds_shown(length_s)}
    offers = one_of([Cut(clip.impact_where)])
    return Problem(
        Code.CLIP_IMPACT_OUTSIDE, clip.impact_where, {"file": name, **facts}, None, offers
    )


def _too_long(clip: ClipFile, content: str, recording: Recording, cache: Cache) -> Problem:
    """Where sounds like strikes are heard, they are offered with the words to write."""
    facts = {"file": clip.path.name, "length": f"{recording.length_s:.0f}"}
    facts |= {
        "longest": f"{LONGEST_UNTRIMMED_S:.0f}",
    }
    heard_s = _heard_in(clip, content, recording, cache)
    if not heard_s:
        return Problem(Code.CLIP_TOO_LONG, clip.where, facts)
    told = [seconds_shown(at_s) for at_s in heard_s[:_MOST_OFFERED]]
    offers = one_of(said_of(clip, "impact", at) for at in told)
    facts |= {"heard": ", ".join(told)}
    return Problem(Code.CLIP_TOO_LONG_HEARD, clip.where, facts, offers=offers)


def _heard_in(
    clip: ClipFile, content: str, recording: Recording, cache: Cache
) -> tuple[float, ...]:
    """When something like a strike is heard, the likeliest first, in seconds of the recording."""
    key = key_for(_LISTENED_TO, "alone", content, converter.version())

    def listen() -> tuple[Hit, ...]:
        return apart(_hits, clip.path, recording, seconds=to_watch_s(recording))

    return tuple(max(0.0, hit.at_s) for hit in remembered(cache, key, listen, tuple[Hit, ...]))


def _refused(clip: ClipFile, code: Code, **facts: str) -> Checked[Footage]:
    return Checked(None, (Problem(code, clip.where, {"file": clip.path.name, **facts}),))


def _recording(clip: ClipFile, content: str, cache: Cache) -> Recording | Unusable:
    """Only what is usable is remembered: refusals are quick to find again."""
    key = key_for(_LOOKED_INTO, content, converter.version())
    if (known := recalled(cache, key, Recording)) is not None:
        return known
    seen = tried(cache, key, lambda: apart(look, clip.path, seconds=to_look_s(clip.path)))
    return remembered(cache, key, lambda: seen, Recording) if isinstance(seen, Recording) else seen


def glimpses_of(path: Path, recording: Recording) -> Glimpses:
    """As small and as often as movement needs."""
    return glimpse(path, recording, _GLIMPSE_LONG_SIDE, _GLIMPSES_APART_S)


def _sensed(clip: ClipFile, content: str, recording: Recording, cache: Cache) -> _Sensed:
    key = key_for(_LISTENED_TO, content, converter.version())
    watch_s = to_watch_s(recording)

    def listen_and_watch() -> _Sensed:
        return apart(_listen_and_watch, clip.path, recording, seconds=watch_s)

    return remembered(cache, key, listen_and_watch, _Sensed)


def _listen_and_watch(path: Path, recording: Recording) -> _Sensed:
    seen = glimpses_of(path, recording)
    movement = movement_in(seen)
    times_s, speed = (np.round(part, 5).tolist() for part in (movement.times_s, movement.speed))
    return _Sensed(_hits(path, recording), tuple(times_s), tuple(speed), seen.broken)


def _hits(path: Path, recording: Recording) -> tuple[Hit, ...]:
    sound = hear(path, recording) if recording.has_sound else None
    return tuple(hits_in(sound)) if sound is not None else ()


def _gone(clip: ClipFile, content: str, recording: Recording, cache: Cache) -> BallGone | None:
    """When the ball that the notes mark left its place."""
    ball = clip.directions.ball
    if ball is None:
        return None
    x = 1 - ball.x if clip.directions.mirror else ball.x
    key = key_for(_BALL_WATCHED, content, converter.version(), x, ball.y)

    watch_s = to_watch_s(recording)

    def watch() -> tuple[BallGone, ...]:
        return apart(_watch_ball, clip.path, recording, x, ball.y, seconds=watch_s)

    found = next(iter(remembered(cache, key, watch, tuple[BallGone, ...])), None)
    if found is None:
        return None
    pace = clip.directions.pace
    return BallGone(pace.life_s(found.at_s), found.within_s / pace.times_at(found.at_s))


def _watch_ball(path: Path, recording: Recording, x: float, y: float) -> tuple[BallGone, ...]:
    gone = ball_gone(close_up(path, recording, x, y, BALL_SIDE))
    return () if gone is None else (gone,)
