"""Invented ranges for the ear: wind, voices, neighbours, practice swings, and one strike.

48 kHz mono, 2.5 s. Nothing here is fitted to the detector: each sound is made from its physics
as a phone four metres away would hear it.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from recapgen.clips.movement import Movement
from recapgen.tools.media.senses import SOUND_RATE_HZ

Samples = npt.NDArray[np.float64]

LENGTH_S = 2.5
TRAVEL_S = 4 / 343
_COUNT = round(LENGTH_S * SOUND_RATE_HZ)


@dataclass(frozen=True)
class Range:
    """One place and moment.

    ``snr_db`` is the strike's level over the noise around it; ``neighbours`` strikes come from
    other bays; a ``practice`` swing without a ball goes before, the club brushing the mat.
    """

    name: str
    snr_db: float = 20
    wind: float = 0.0
    speech: float = 0.0
    neighbours: int = 0
    practice: bool = False
    struck: bool = True


def listen(place: Range, struck_s: float, dice: np.random.Generator) -> Samples:
    """What is heard when the ball is struck at ``struck_s``; the sound arrives 4 m later."""
    at = np.arange(_COUNT) / SOUND_RATE_HZ
    heard = dice.normal(0, 0.002, _COUNT) + _coloured(dice, 48) * 0.004
    strike = _strike(at, struck_s + TRAVEL_S, dice)
    loudness = 0.002 * 10 ** (place.snr_db / 20) * 4
    if place.struck:
        heard += loudness * strike + 0.2 * loudness * _strike(at, struck_s + TRAVEL_S + 0.018, dice)
        heard += _rush(at, struck_s, dice) * loudness * 0.05
    heard += place.wind * _gusts(at, dice)
    heard += place.speech * _speech(at, dice)
    for _ in range(place.neighbours):
        far = dice.uniform(0.25, 1.2)
        heard += loudness * far * _dulled(_strike(at, dice.uniform(0.1, LENGTH_S), dice), far)
    if place.practice:
        earlier = struck_s - dice.uniform(0.7, 1.1)
        heard += loudness * (0.1 * _rush(at, earlier, dice) + 0.3 * _brush(at, earlier, dice))
    return np.clip(heard, -1, 1)


def watch(place: Range, struck_s: float, early_s: float, dice: np.random.Generator) -> Movement:
    """How the picture moves: back, through (fastest ``early_s`` before the strike), at 60 Hz."""
    at = np.arange(0, LENGTH_S, 1 / 60)
    speed = _swing(at, struck_s, early_s)
    if place.practice:
        speed += dice.uniform(0.7, 1.05) * _swing(at, struck_s - 0.9, early_s)
    speed += np.abs(dice.normal(0, 0.03, len(at)))
    return Movement(at, speed)


def _swing(at: Samples, struck_s: float, early_s: float) -> Samples:
    back = 0.35 * np.exp(-(((at - struck_s + 0.6) / 0.22) ** 2))
    through = np.exp(-(((at - struck_s + early_s) / 0.09) ** 2))
    return back + through


def _strike(at: Samples, arrives_s: float, dice: np.random.Generator) -> Samples:
    since = at - arrives_s
    alive = np.clip(since, 0, 1)
    crack = dice.normal(0, 0.5, len(at)) * np.exp(-alive / 0.0025)
    for loud, fade in ((0.5, 0.006), (0.3, 0.010)):
        pitch = dice.uniform(1200, 5200)
        crack += loud * np.sin(2 * np.pi * pitch * alive) * np.exp(-alive / fade)
    edge = np.clip(alive / 0.0002, 0, 1)
    return np.where(since >= 0, crack * edge, 0.0)


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


def _coloured(dice: np.random.Generator, width: int) -> Samples:
    noise = dice.normal(0, 1, _COUNT + width - 1)
    return np.convolve(noise, np.ones(width) / np.sqrt(width), "valid")


def _gusts(at: Samples, dice: np.random.Generator) -> Samples:
    """Wind in the microphone: low, slow, now and then over the top."""
    slow = np.interp(at, np.linspace(0, LENGTH_S, 12), dice.uniform(0, 1, 12) ** 2)
    return 0.05 * slow * _coloured(dice, 200)


def _speech(at: Samples, dice: np.random.Generator) -> Samples:
    """Syllables: voiced with formants, each begun by a burst as of a "t" or a "k"."""
    said = np.zeros(len(at))
    begins = dice.uniform(0, 0.3)
    while begins < LENGTH_S:
        lasts = dice.uniform(0.09, 0.25)
        since = at - begins
        inside = (since >= 0) & (since <= lasts)
        shape = np.where(inside, np.sin(np.pi * np.clip(since / lasts, 0, 1)), 0)
        pitch = dice.uniform(100, 230)
        voice = sum(
            np.sin(2 * np.pi * pitch * n * at) / n
            * (1 + 2 * np.exp(-(((pitch * n - dice.uniform(400, 2500)) / 300) ** 2)))
            for n in range(1, 14)
        )  # fmt: skip
        burst_since = np.clip(since + 0.02, 0, 1)
        burst = (1 - np.exp(-burst_since / 0.003)) * np.exp(-burst_since / 0.012)
        said += 0.03 * shape * voice + 0.06 * burst * (since > -0.02) * dice.normal(0, 1, len(at))
        begins += lasts + dice.uniform(0.02, 0.15)
    return said
