"""What a phone four metres away hears: quiet air, the rush of the club, the strike, the room."""

import wave
from pathlib import Path

import numpy as np

from sample_making.swing_poses import Floats

RATE_HZ = 48_000
SOUND_TRAVEL_S = 0.012  # four metres of air


def strike_sound(length_s: float, impact_s: float, seed: int, *, indoors: bool) -> Floats:
    """Mono samples within -1..1; the strike arrives ``SOUND_TRAVEL_S`` after ``impact_s``."""
    rng = np.random.default_rng(seed)
    count = round(length_s * RATE_HZ)
    clock = np.arange(count) / RATE_HZ
    heard = _softened(rng.normal(size=count), 48) * 0.012
    rush = np.exp(-(((clock - impact_s + 0.03) / 0.06) ** 2))
    heard += 0.05 * rush * _softened(rng.normal(size=count), 20)
    arrives = round((impact_s + SOUND_TRAVEL_S) * RATE_HZ)
    echoes = ((0.0, 1.0), (0.013, 0.24), (0.027, 0.13)) if indoors else ((0.0, 1.0), (0.031, 0.07))
    for late_s, share in echoes:
        first = arrives + round(late_s * RATE_HZ)
        if first < count:
            heard[first:] += 0.55 * share * _strike(rng, count - first)
    return np.clip(heard, -1.0, 1.0)


def write_wav(file: Path, samples: Floats) -> None:
    with wave.open(str(file), "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(RATE_HZ)
        sound.writeframes((samples * 32_000).astype("<i2").tobytes())


def _strike(rng: np.random.Generator, count: int) -> Floats:
    """A crack of noise over three short rings, its edge a fifth of a millisecond."""
    clock = np.arange(count) / RATE_HZ
    crack = rng.normal(size=count) * np.exp(-clock / 0.0025) * 0.7
    rings = sum(
        loud * np.sin(2 * np.pi * pitch * clock) * np.exp(-clock / fade)
        for pitch, loud, fade in ((2900, 0.5, 0.007), (1350, 0.3, 0.011), (240, 0.25, 0.020))
    )
    edge = np.minimum(clock / 0.0002, 1.0)
    struck: Floats = (crack + rings) * edge
    return struck


def _softened(noise: Floats, width: int) -> Floats:
    soft: Floats = np.convolve(noise, np.ones(width) / np.sqrt(width), mode="same")
    return soft
