"""Invented ranges for the ear: wind, voices, neighbours, practice swings, and one strike.

48 kHz mono, 2.5 s, or 6 with a second ball. Nothing here is fitted to the detector: each sound
is made from its physics as a phone four metres away would hear it.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from recapgen.clips.movement import Movement
from recapgen.tools.media.senses import SOUND_RATE_HZ

Samples = npt.NDArray[np.float64]

TRAVEL_S = 4 / 343
_AGAIN_S = (2.2, 3.6)  # from one ball to the next of the same golfer


@dataclass(frozen=True)
class Range:
    """One place and moment.

    ``snr_db`` is the strike's level over the noise around it; ``neighbours`` strikes come from
    other bays; a ``practice`` swing without a ball goes before, the club brushing the mat.
    ``again`` where the golfer hits a second ball before the phone is stopped. ``ambience`` is birds
    and balls poured into a basket, ``music`` a loudspeaker on the tee.
    """

    name: str
    snr_db: float = 20
    wind: float = 0.0
    speech: float = 0.0
    neighbours: int = 0
    practice: bool = False
    struck: bool = True
    again: bool = False
    ambience: float = 0.0
    music: float = 0.0

    @property
    def length_s(self) -> float:
        return 6.0 if self.again else 2.5


def again_s(struck_s: float, dice: np.random.Generator) -> float:
    """When the second ball is struck."""
    return struck_s + dice.uniform(*_AGAIN_S)


def listen(
    place: Range, struck_s: float, dice: np.random.Generator, second_s: float | None = None
) -> Samples:
    """What is heard when the ball is struck at ``struck_s``; the sound arrives 4 m later."""
    at = np.arange(round(place.length_s * SOUND_RATE_HZ)) / SOUND_RATE_HZ
    heard = dice.normal(0, 0.002, len(at)) + _coloured(dice, 48, len(at)) * 0.004
    strike = _strike(at, struck_s + TRAVEL_S, dice)
    loudness = 0.002 * 10 ** (place.snr_db / 20) * 4
    if place.struck:
        heard += loudness * strike + 0.2 * loudness * _strike(at, struck_s + TRAVEL_S + 0.018, dice)
        heard += _rush(at, struck_s, dice) * loudness * 0.05
    if second_s is not None:
        second = loudness * 10 ** (dice.uniform(-4, 4) / 20)
        heard += second * _strike(at, second_s + TRAVEL_S, dice)
    if place.wind:
        heard += place.wind * _gusts(at, dice)
    if place.speech:
        heard += place.speech * _speech(at, dice)
    for _ in range(place.neighbours):
        far = dice.uniform(0.25, 1.2)
        heard += loudness * far * _dulled(_strike(at, dice.uniform(0.1, at[-1]), dice), far)
    if place.practice:
        earlier = struck_s - dice.uniform(0.7, 1.1)
        heard += loudness * (0.1 * _rush(at, earlier, dice) + 0.3 * _brush(at, earlier, dice))
    if place.ambience:
        heard += place.ambience * _ambience(at, dice)
    if place.music:
        heard += place.music * _music(at, dice)
    return np.clip(heard, -1, 1)


def watch(
    place: Range,
    struck_s: float,
    early_s: float,
    dice: np.random.Generator,
    second_s: float | None = None,
) -> Movement:
    """How the picture moves: back, through (fastest ``early_s`` before the strike), at 60 Hz."""
    at = np.arange(0, place.length_s, 1 / 60)
    speed = _swing(at, struck_s, early_s)
    if place.practice:
        speed += dice.uniform(0.7, 1.05) * _swing(at, struck_s - 0.9, early_s)
    if second_s is not None:
        speed += dice.uniform(0.8, 1.2) * _swing(at, second_s, early_s)
    speed += np.abs(dice.normal(0, 0.03, len(at)))
    return Movement(at, speed)


def _swing(at: Samples, struck_s: float, early_s: float) -> Samples:
    back = 0.35 * np.exp(-(((at - struck_s + 0.6) / 0.22) ** 2))
    through = np.exp(-(((at - struck_s + early_s) / 0.09) ** 2))
    return back + through


def _strike(at: Samples, arrives_s: float, dice: np.random.Generator) -> Samples:
    heard = np.zeros(len(at))
    span = slice(*np.searchsorted(at, (arrives_s, arrives_s + 0.15)).tolist())
    since = at[span] - arrives_s
    crack = dice.normal(0, 0.5, len(since)) * np.exp(-since / 0.0025)
    for loud, fade in ((0.5, 0.006), (0.3, 0.010)):
        pitch = dice.uniform(1200, 5200)
        crack += loud * np.sin(2 * np.pi * pitch * since) * np.exp(-since / fade)
    heard[span] = crack * np.clip(since / 0.0002, 0, 1)
    return heard


def _dulled(sound: Samples, near: float) -> Samples:
    """A partition and some metres of air take the edge off: the farther, the more."""
    width = max(1, round(8 * (1.2 - near)))
    return np.convolve(sound, np.ones(width) / width, "same")


def _rush(at: Samples, struck_s: float, dice: np.random.Generator) -> Samples:
    return np.exp(-(((at - struck_s + 0.03) / 0.05) ** 2)) * dice.normal(0, 1, len(at))


def _brush(at: Samples, passed_s: float, dice: np.random.Generator) -> Samples:
    since = np.clip(at - passed_s, 0, 1)
    swell = np.where(at >= passed_s, (1 - np.exp(-since / 0.004)) * np.exp(-since / 0.03), 0)
    return swell * np.convolve(dice.normal(0, 1, len(at)), np.ones(6) / 3, "same")


def _coloured(dice: np.random.Generator, width: int, count: int) -> Samples:
    noise = dice.normal(0, 1, count + width - 1)
    return np.convolve(noise, np.ones(width) / np.sqrt(width), "valid")


def _gusts(at: Samples, dice: np.random.Generator) -> Samples:
    """Wind in the microphone: low, slow, now and then over the top."""
    slow = np.interp(at, np.linspace(0, at[-1], 12), dice.uniform(0, 1, 12) ** 2)
    return 0.05 * slow * _coloured(dice, 200, len(at))


def _speech(at: Samples, dice: np.random.Generator) -> Samples:
    """Syllables: voiced with formants, each begun by a burst as of a "t" or a "k"."""
    said = np.zeros(len(at))
    begins = dice.uniform(0, 0.3)
    while begins < at[-1]:
        lasts = dice.uniform(0.09, 0.25)
        span = slice(*np.searchsorted(at, (begins - 0.02, begins + lasts + 0.1)).tolist())
        said[span] += _syllable(at[span] - begins, lasts, dice)
        begins += lasts + dice.uniform(0.02, 0.15)
    return said


def _syllable(since: Samples, lasts: float, dice: np.random.Generator) -> Samples:
    inside = (since >= 0) & (since <= lasts)
    shape = np.where(inside, np.sin(np.pi * np.clip(since / lasts, 0, 1)), 0)
    pitch = dice.uniform(100, 230)
    voice = sum(
        np.sin(2 * np.pi * pitch * n * since) / n
        * (1 + 2 * np.exp(-(((pitch * n - dice.uniform(400, 2500)) / 300) ** 2)))
        for n in range(1, 14)
    )  # fmt: skip
    burst_since = np.clip(since + 0.02, 0, 1)
    burst = (1 - np.exp(-burst_since / 0.003)) * np.exp(-burst_since / 0.012)
    return np.asarray(0.03 * shape * voice) + 0.06 * burst * dice.normal(0, 1, len(since))


def _ambience(at: Samples, dice: np.random.Generator) -> Samples:
    """Birds, a mower far off, and now and then a basket into which balls fall."""
    heard = 0.004 * np.sin(2 * np.pi * dice.uniform(60, 110) * at + 3 * np.sin(2 * np.pi * 7 * at))
    for _ in range(dice.integers(1, 5)):
        since = at - dice.uniform(0, at[-1])
        sung = (since > 0) & (since < 0.08)
        pitch = dice.uniform(2800, 6000) + dice.uniform(-8000, 8000) * since
        heard += (
            0.02
            * sung
            * np.sin(np.pi * np.clip(since / 0.08, 0, 1))
            * np.sin(2 * np.pi * pitch * since)
        )
    poured = dice.uniform(0, at[-1])
    for _ in range(dice.integers(2, 9)):
        knock = _dulled(_strike(at, poured + dice.exponential(0.12), dice), 0.4)
        heard += 0.03 * dice.uniform(0.2, 1) * knock
    return np.asarray(heard)


def _music(at: Samples, dice: np.random.Generator) -> Samples:
    """A beat from a small loudspeaker: bass, drum and cymbal, with a chord under it."""
    beat_s = 60 / dice.uniform(85, 140)
    heard = sum(
        0.006 * np.sin(2 * np.pi * pitch * at) for pitch in dice.uniform(180, 900, 4)
    ) + np.zeros(len(at))
    first = dice.uniform(0, beat_s)
    for number, begins in enumerate(np.arange(first, at[-1], beat_s / 2)):
        since = np.clip(at - begins, 0, 1)
        sounds = at >= begins
        noise = dice.normal(0, 1, len(at))
        bright = np.diff(noise, prepend=0.0)
        heard += sounds * 0.012 * bright * np.exp(-since / 0.018)
        if number % 4 == 2:
            heard += sounds * 0.03 * noise * np.exp(-since / 0.05)
        if number % 4 == 0:
            heard += sounds * 0.05 * np.sin(2 * np.pi * 65 * since) * np.exp(-since / 0.09)
    return np.asarray(heard)
