"""Cut paper: rounded shapes from discs, laid down one over the other."""

import math
from collections.abc import Callable, Sequence

from PIL import ImageDraw

Rgb = tuple[int, int, int]
Colour = Rgb | tuple[int, int, int, int]
Disc = tuple[float, float, float]  # x, y, radius in pixels
Spot = tuple[float, float]
Layer = tuple[float, Callable[[ImageDraw.ImageDraw], None]]  # depth, and what to lay down there


def shade(colour: Rgb, by: float) -> Rgb:
    """Darker below 1, lighter above."""
    r, g, b = (min(255, round(part * by)) for part in colour)
    return r, g, b


def between(one: Rgb, other: Rgb, share: float) -> Rgb:
    r, g, b = (round(a + (c - a) * share) for a, c in zip(one, other, strict=True))
    return r, g, b


def blob(brush: ImageDraw.ImageDraw, discs: Sequence[Disc], colour: Colour) -> None:
    """The tightest outline round all the discs, filled."""
    brush.polygon(outline(discs), fill=colour)


_TURNS = tuple((math.cos(k * math.tau / 40), math.sin(k * math.tau / 40)) for k in range(40))


def outline(discs: Sequence[Disc]) -> list[Spot]:
    """Convex hull of the discs' rims (monotone chain)."""
    rim = sorted((x + r * c, y + r * s) for x, y, r in discs for c, s in _TURNS)
    lower, upper = _chain(rim), _chain(rim[::-1])
    return lower[:-1] + upper[:-1]


def _chain(spots: Sequence[Spot]) -> list[Spot]:
    kept: list[Spot] = []
    for x, y in spots:
        while len(kept) > 1 and _turns_right(kept[-2], kept[-1], (x, y)):
            kept.pop()
        kept.append((x, y))
    return kept


def _turns_right(a: Spot, b: Spot, c: Spot) -> bool:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) <= 0
