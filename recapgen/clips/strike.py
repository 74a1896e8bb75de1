"""When club met ball: a short, sudden, broad sound, and a picture that moves at that moment.

A struck ball is heard as a rise within 1 to 3 ms in all bands from 500 Hz to 13 kHz, gone
again within a few hundredths of a second. Speech and wind are slower or narrower. A strike on
the next bay sounds the same, so a sound alone is not believed: the picture has to move too.
"""

from typing import Literal

import numpy as np
from msgspec import Struct
from scipy.ndimage import maximum_filter1d, uniform_filter1d

from recapgen.clips.movement import Movement, Signal
from recapgen.model.films import ImpactFrom
from recapgen.tools.media.senses import SOUND_RATE_HZ, Sound

PHONE_TO_BALL_M = 4.0  # where a tripod usually stands
SPEED_OF_SOUND_MPS = 343.0  # dry air at 20 C

_BANDS_HZ = ((500, 1000), (1000, 2000), (2000, 3500), (3500, 5500), (5500, 8500), (8500, 13000))
_TOP_HZ = 13000.0  # sound that was slowed twice or more ends below
_STEEP = 8  # order of the filter that tells
_BAND_WEIGHTS = np.array([0.5, 0.8, 1.0, 1.0, 1.0, 0.8])  # wind lives in the low ones
_HOP_S = 0.001
_RISE_DB = 8.0  # a band that rises this much counts as taking part
_LEAST_SCORE = 12.0
_SURE_SCORE = 38.0
_SURE_MARGIN = 5.0
_SURE_RISE_DB = 14.0
_CONFIDENT = 0.5
_CEILING = 0.9  # of full scale
_OVERLOADED_SHARE = 0.004  # of samples at the ceiling: wind in the microphone
_SILENCE = 1e-4
_SHORTEST_S = 0.2
_GONE_AFTER_S = (0.025, 0.040)
_STILL_THERE_DB = -12.0  # a drum is by 6 dB softer then, a struck ball by 20 and more
_HISS_DB = 1.0  # above 13 kHz against the rest; of 300 invented strikes none is above -1
_SPOKEN = 3  # such sounds: one may be a bright strike
_CANDIDATES = 6
_APART_S = (0.06, 0.09)  # one strike and its echo: before and after

SOFTER_DB = 10.0
"""So much softer than the golfer's own impacts is another's."""

_LIKE_A_STRIKE = 20.0  # of the score
_SWINGS_APART_S = 0.5
_CROWD = 3
_LEAST_TOP_DB = -14.0
_BALL_SOUND_S = 0.006  # how far the phone may stand nearer or further off than is supposed


class Hit(Struct, frozen=True):
    """A sound that could be the strike, heard ``at_s`` after the first picture.

    ``loudness_db`` is against full scale, ``top_db`` how loud it is above 13 kHz against the rest:
    sound that was slowed with its pictures has next to nothing there. ``after_db`` is how loud it
    still is against its peak when a struck ball is no longer heard.
    """

    at_s: float
    score: float
    rise_db: float
    loudness_db: float = 0.0
    top_db: float = 0.0
    after_db: float = -np.inf

    @property
    def high_db(self) -> float:
        """How loud it is above 13 kHz: the way there takes more of that than of the rest."""
        return self.loudness_db + self.top_db

    @property
    def hisses(self) -> bool:
        """As the t and k of somebody who speaks beside the phone do."""
        return self.top_db > _HISS_DB

    @property
    def rings_on(self) -> bool:
        """As a drum does, and a strike into which another sound falls."""
        return self.after_db > _STILL_THERE_DB


class BallGone(Struct, frozen=True):
    """The ball that was marked left its place at ``at_s``, give or take ``within_s``."""

    at_s: float
    within_s: float


class StrikeFound(Struct, frozen=True):
    """The strike in seconds from the first picture, and what it rests on.

    ``heard`` is its sound, where it is believed by that. ``impacts_s`` are those among which
    nothing chooses. ``slowed`` where its sound seems to be slowed with the pictures.
    """

    at_s: float
    found_in: ImpactFrom
    heard: Hit | None = None
    impacts_s: tuple[float, ...] = ()
    slowed: bool = False


def find_strike(
    hits: tuple[Hit, ...], movement: Movement, gone: BallGone | None = None
) -> StrikeFound:
    """The strike, as far as sound and movement show it.

    Believed where the marked ball leaves while the picture moves fast, or where of the sounds
    heard while it does, one is clearly a strike and no other swing has one about as loud.
    Otherwise a guess: see ``ImpactFrom``. Neither sounds nor movement at the very ends tell of a
    swing.
    """
    if gone is not None and movement.is_fast_at(gone.at_s):
        heard = [_at_the_ball(h) for h in hits]
        nearest_s = min(heard, key=lambda at_s: abs(at_s - gone.at_s), default=gone.at_s)
        agree = abs(nearest_s - gone.at_s) <= gone.within_s + _BALL_SOUND_S
        return StrikeFound(nearest_s if agree else gone.at_s, ImpactFrom.BALL)
    hits = tuple(hit for hit in hits if movement.has_room_at(_at_the_ball(hit)))
    movement = movement.with_room()
    moving = tuple(hit for hit in hits if movement.may_be_struck_at(_at_the_ball(hit)))
    if not moving:
        near = [hit for hit in hits if movement.agrees_with(hit.at_s)]
        guess_s = _at_the_ball(near[0]) if near else movement.fastest_s
        return StrikeFound(guess_s, ImpactFrom.GUESS)
    best = moving[0]
    struck_s = _at_the_ball(best)
    slowed = best.top_db < _LEAST_TOP_DB
    own = _about_as_loud(moving)
    if len(several := _swings_among(own)) > 1:
        return StrikeFound(several[-1], ImpactFrom.GUESS, impacts_s=several, slowed=slowed)
    alone = len(own) <= 1 and not _crowded(best, hits) and not movement.swings_after(struck_s)
    doubtful = best.rings_on or _spoken(best, hits)
    if not alone or doubtful or not is_confident(moving):
        near = [hit for hit in hits if movement.agrees_with(hit.at_s)]
        guess_s = _at_the_ball(near[0]) if near else movement.fastest_s
        return StrikeFound(guess_s, ImpactFrom.GUESS, slowed=slowed)
    return StrikeFound(struck_s, ImpactFrom.SOUND, best, slowed=slowed)


def _about_as_loud(moving: tuple[Hit, ...]) -> tuple[Hit, ...]:
    """Those that may all be the golfer's own: like strikes, and none much softer than the rest."""
    loudest_db = max(hit.loudness_db for hit in moving)
    return tuple(
        hit
        for hit in moving
        if hit.score >= _LIKE_A_STRIKE and hit.loudness_db > loudest_db - SOFTER_DB
    )


def _swings_among(own: tuple[Hit, ...]) -> tuple[float, ...]:
    """When balls were struck, each by a swing of its own."""
    struck: list[float] = []
    for at_s in map(_at_the_ball, own):
        if all(abs(at_s - other) >= _SWINGS_APART_S for other in struck):
            struck.append(at_s)
    return tuple(sorted(struck))


def _crowded(best: Hit, hits: tuple[Hit, ...]) -> bool:
    """Are there so many sounds like it that one would fall beside the swing by chance?"""
    like_it = [
        hit
        for hit in hits
        if hit is not best
        and hit.score >= best.score - _SURE_MARGIN
        and hit.loudness_db >= best.loudness_db - SOFTER_DB
    ]
    return len(like_it) >= _CROWD


def _spoken(best: Hit, hits: tuple[Hit, ...]) -> bool:
    """Is it one of several that hiss, as what somebody says beside the phone?"""
    return best.hisses and sum(hit.hisses for hit in hits) >= _SPOKEN


def _at_the_ball(hit: Hit) -> float:
    return max(0.0, hit.at_s - PHONE_TO_BALL_M / SPEED_OF_SOUND_MPS)


def is_confident(hits: tuple[Hit, ...]) -> bool:
    """Is the best hit a strike by itself, and clear of the next best?

    A logistic rule, fitted on synthetic ranges with speech, wind and neighbours.
    """
    best = hits[0]
    margin = best.score - (hits[1].score if len(hits) > 1 else _LEAST_SCORE)
    weight = (
        0.30 * (best.score - _SURE_SCORE)
        + 0.30 * (margin - _SURE_MARGIN)
        + 0.15 * (best.rise_db - _SURE_RISE_DB)
    )
    return bool(1 / (1 + np.exp(-weight)) >= _CONFIDENT)


def hits_in(sound: Sound) -> tuple[Hit, ...]:
    """Sounds that could be a strike, the likeliest first, at most six."""
    samples = sound.samples.astype(np.float64)
    if len(samples) < _SHORTEST_S * SOUND_RATE_HZ or np.abs(samples).max() < _SILENCE:
        return ()
    power = _power_in_bands(samples - samples.mean())
    score, rise, loudness = _likeness(power[:-1])
    levels = 10 * np.log10(uniform_filter1d(power, 21, axis=1, mode="nearest"))
    top = levels[-1] - levels[:-1].max(axis=0)
    if _is_overloaded(samples):
        score = score - 18.0
    score[:8] = -np.inf  # the recording's own beginning is no strike
    hits: list[Hit] = []
    while len(hits) < _CANDIDATES and score.max() >= _LEAST_SCORE:
        best = int(np.argmax(score))
        peak = max(0, best - 6) + int(np.argmax(loudness[max(0, best - 6) : best + 8]))
        at_s = sound.starts_s + _onset_s(samples, peak * _HOP_S)
        hits.append(
            Hit(
                at_s,
                float(score[best]),
                float(rise[best]),
                float(loudness[peak]),
                float(top[best]),
                _after_db(loudness, peak),
            )
        )
        score[max(0, best - _hops(_APART_S[0])) : best + _hops(_APART_S[1])] = -np.inf
    return tuple(hits)


def _hops(seconds: float) -> int:
    return round(seconds / _HOP_S)


def _filtered(
    samples: Signal,
    kind: Literal["bandpass", "highpass"],
    edges_hz: float | tuple[float, float],
    order: int = 2,
) -> Signal:
    """A Butterworth filter, run once, forwards."""
    from scipy.signal import butter, sosfilt  # noqa: PLC0415  slow, and of no use without clips

    sections = butter(order, edges_hz, kind, fs=SOUND_RATE_HZ, output="sos")
    heard: Signal = sosfilt(sections, samples)
    return heard


def _power_in_bands(samples: Signal) -> Signal:
    """Mean power per millisecond: (bands, hops), the top of the sound last."""
    hop = round(SOUND_RATE_HZ * _HOP_S)
    whole = len(samples) // hop * hop
    heard_in = [_filtered(samples, "bandpass", band) for band in _BANDS_HZ]
    heard_in.append(_filtered(samples, "highpass", _TOP_HZ, _STEEP))
    rows = [np.square(heard[:whole]).reshape(-1, hop).mean(axis=1) for heard in heard_in]
    return np.array(rows) + 1e-12


def _likeness(power: Signal) -> tuple[Signal, Signal, Signal]:
    """How like a strike each millisecond is, its rise in dB, and its loudness in dB."""
    short = uniform_filter1d(power, 3, axis=1, mode="nearest")
    lately = _shifted(uniform_filter1d(power, 50, axis=1, mode="nearest"), later=29)
    just_before = _shifted(short, later=4)  # a burst that swells is no strike
    quietest = np.percentile(power, 30, axis=1, keepdims=True) / 2
    background = np.maximum(np.maximum(lately, just_before), quietest)
    rises = np.clip(10 * np.log10(short / background), 0, 40)
    rise = np.sort(rises, axis=0)[1:].mean(axis=0)  # one band may be masked
    taking_part = (rises > _RISE_DB).sum(axis=0)

    weighted = (short * _BAND_WEIGHTS[:, None]).sum(axis=0)
    loudness = 10 * np.log10(weighted)
    afterwards = 10 * np.log10(uniform_filter1d(weighted, 40, mode="nearest"))
    falls = np.clip(loudness - _shifted(afterwards, later=-65), 0, 20)
    prominence = np.clip(loudness - np.percentile(loudness, 99.8), -25, 6)
    score = rise + 1.5 * taking_part + 0.5 * falls + 1.3 * prominence
    return score, rise, loudness


def _after_db(loudness: Signal, peak: int) -> float:
    """How loud it is 25 to 40 ms after a peak, against it, less what was heard before: in dB."""
    power = 10 ** (loudness / 10)
    before, (early, late) = power[max(0, peak - 40) : peak - 6], map(_hops, _GONE_AFTER_S)
    after = power[peak + early : peak + late]
    if not len(before) or not len(after):
        return -np.inf
    louder = max(float(after.mean() - np.median(before)), 0.0)
    return float(10 * np.log10(louder / power[peak] + 1e-9))


def _shifted(rows: Signal, later: int) -> Signal:
    """The same, ``later`` hops on; the ends repeat."""
    n = rows.shape[-1]
    return np.take(rows, np.clip(np.arange(n) - later, 0, n - 1), axis=-1)


def _is_overloaded(samples: Signal) -> bool:
    loud = np.abs(samples)
    return bool(loud.max() > _CEILING and (loud > 0.985 * loud.max()).mean() > _OVERLOADED_SHARE)


def _onset_s(samples: Signal, near_s: float) -> float:
    """Where the click leaves the noise, to a fraction of a millisecond.

    The envelope above 1.5 kHz is followed back from its peak until it has stayed
    below a quarter of the peak for 0.8 ms.
    """
    begin = max(0, round((near_s - 0.060) * SOUND_RATE_HZ))
    end = round((near_s + 0.006) * SOUND_RATE_HZ)
    sharp = np.abs(_filtered(samples[begin:end], "highpass", 1500))
    envelope = uniform_filter1d(sharp, 6, mode="nearest")
    search = min(len(envelope) - 1, round(0.020 * SOUND_RATE_HZ))
    peak = len(envelope) - search + int(np.argmax(envelope[-search:]))
    noise = float(np.median(envelope[: max(8, len(envelope) - search)]))
    threshold = noise + 0.25 * (float(envelope[peak]) - noise)
    quiet = round(0.0008 * SOUND_RATE_HZ)
    loudest_lately = maximum_filter1d(envelope, quiet, origin=(quiet - 1) // 2, mode="nearest")
    still = np.flatnonzero(loudest_lately[:peak] < threshold)
    onset = int(still[-1]) + 1 if len(still) else peak
    return (begin + onset) / SOUND_RATE_HZ
