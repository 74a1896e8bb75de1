"""The invented coach's mark: a feather beside a ball, in one ink."""

import io
import math

from PIL import Image, ImageDraw

NAME = "feather.png"
_SIDE = 192
_FINER = 6
_INK = (74, 44, 26, 255)
_NONE = (*_INK[:3], 0)
_LEAN = math.radians(32)  # of the shaft, from upright

Spot = tuple[float, float]


def sign_png() -> bytes:
    """A square picture on no ground, as a coach would have it drawn once and kept."""
    picture = Image.new("RGBA", (_SIDE * _FINER, _SIDE * _FINER), _NONE)
    brush = ImageDraw.Draw(picture)
    brush.polygon([_laid(*spot) for spot in _vane()], fill=_INK)
    for notch in (
        [(0.0, 0.66), (0.40, 0.86), (0.40, 0.78)],
        [(0.0, 0.40), (-0.40, 0.62), (-0.40, 0.54)],
    ):
        brush.polygon([_laid(*spot) for spot in notch], fill=_NONE)
    brush.line([_laid(0.0, 0.12), _laid(0.0, 1.30)], fill=_NONE, width=_FINER * 4)
    brush.line([_laid(0.0, -0.20), _laid(0.0, 0.13)], fill=_INK, width=_FINER * 6)
    (x, y), reach = _placed(0.52, 0.62), _SIDE * _FINER * 0.085
    brush.ellipse((x - reach, y - reach, x + reach, y + reach), fill=_INK)
    kept = io.BytesIO()
    picture.resize((_SIDE, _SIDE), Image.Resampling.LANCZOS).save(kept, "PNG", optimize=True)
    return kept.getvalue()


def _vane() -> list[Spot]:
    """A slim leaf along the shaft, fullest below its middle; (across, up) from its foot."""
    turns = [k / 60 for k in range(61)]
    right = [(0.30 * math.sin(math.pi * t**0.8), 1.5 * t) for t in turns]
    return right + [(-across, up) for across, up in reversed(right)]


def _laid(across: float, up: float) -> Spot:
    """A place on the feather in the picture's pixels."""
    x = across * math.cos(_LEAN) + up * math.sin(_LEAN)
    y = up * math.cos(_LEAN) - across * math.sin(_LEAN)
    return _placed(x - 0.52, 0.62 - y)


def _placed(x: float, y: float) -> Spot:
    half = _SIDE * _FINER / 2
    return half + x * half, half + y * half
