"""How much of a recording is looked at, and for how long: bounds that no phone's clip meets."""

from pathlib import Path

from recapgen.tools.media.recording import Recording

_BEFOREHAND_S = 20.0
_BYTES_A_SECOND = 20e6  # an old disk
_PIXELS_A_SECOND = 20e6  # an old computer, HEVC in ten bits


def to_look_s(path: Path) -> float:
    """Seconds within which a file's packets are gone through. Raises OSError."""
    return _BEFOREHAND_S + path.stat().st_size / _BYTES_A_SECOND


def to_watch_s(*recordings: Recording) -> float:
    """Seconds within which every picture of the recordings is decoded."""
    pixels = sum(r.width * r.height * len(r.times_s) for r in recordings)
    return _BEFOREHAND_S + pixels / _PIXELS_A_SECOND
