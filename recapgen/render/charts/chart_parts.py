"""What a chart is made of, before it is drawn: dots, strokes, bands and labels.

Places are in the units of the two scales; the drawing (Altair, in ``charts``) turns them
into pixels of a 320 px phone, where one unit of the picture is one pixel on the screen.
"""

from enum import StrEnum
from unicodedata import category, east_asian_width, normalize

from msgspec import Struct

RADIUS_PX = 5.0
TEXT_PX = 13.0
# Shares of TEXT_PX, each the widest of its kind in the pages' own face and in those of phones.
_AS_WIDE_AS_HIGH = 1.0
_BROAD = 0.87
_CAPITAL, _FIGURE, _SMALL, _SLENDER = 0.79, 0.65, 0.6, 0.42
_ONES_OWN = {
    **dict.fromkeys("ÆŒ", 1.15),
    **dict.fromkeys("W%@æœĲ", _AS_WIDE_AS_HIGH),
    **dict.fromkeys("mwM", _BROAD),
    **dict.fromkeys("fijlrtI.,:;'|!()[]/-\u2019\u00b7", _SLENDER),
}


class Look(StrEnum):
    """How a shot is drawn: shape says what it is, colour only repeats it."""

    THEN = "then"
    NOW = "now"
    THEN_MISHIT = "then, a mishit"
    NOW_MISHIT = "now, a mishit"
    ASIDE = "not compared"


class Ink(StrEnum):
    """The page's own colours, so that charts follow light, dark and print."""

    INK = "var(--ink)"
    SOFT = "var(--soft)"
    LINE = "var(--line)"
    SPOT = "var(--spot)"


class Anchor(StrEnum):
    LEFT = "left"
    MIDDLE = "center"
    RIGHT = "right"


class Scale(Struct, frozen=True):
    """``low`` to ``high`` in the picture's units lie at ``from_px`` to ``to_px``."""

    low: float
    high: float
    from_px: float
    to_px: float

    def px(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return self.from_px + share * (self.to_px - self.from_px)

    def at(self, px: float) -> float:
        """The value that lies at ``px``."""
        share = (px - self.from_px) / (self.to_px - self.from_px)
        return self.low + share * (self.high - self.low)


class Dot(Struct, frozen=True):
    """``told`` says which shot it is; ``film`` is the anchor of the film that shows it."""

    x: float
    y: float
    look: Look
    told: str = ""
    film: str = ""


class Stroke(Struct, frozen=True):
    x1: float
    y1: float
    x2: float
    y2: float
    ink: Ink
    width: float = 1.0
    dashed: bool = False


class Curve(Struct, frozen=True):
    """A line through ``points``, from left to right."""

    points: tuple[tuple[float, float], ...]
    ink: Ink
    width: float
    dashed: bool = False


class Band(Struct, frozen=True):
    """A hatched stretch: the window that is wanted."""

    x1: float
    y1: float
    x2: float
    y2: float


class Bar(Struct, frozen=True):
    """A length of something: outlined for then, filled for now; None is the empty whole."""

    x1: float
    y1: float
    x2: float
    y2: float
    look: Look | None


class Ring(Struct, frozen=True):
    """A circle round a middle, its radius in pixels: thin for then, thick for now."""

    x: float
    y: float
    radius_px: float
    look: Look


class Label(Struct, frozen=True):
    """``y`` is the middle of the line of text."""

    x: float
    y: float
    text: str
    anchor: Anchor = Anchor.LEFT
    ink: Ink = Ink.SOFT


class Picture(Struct, frozen=True):
    """Drawn in this order: bands, bars, strokes, curves, rings, dots, labels."""

    x: Scale
    y: Scale
    width: float
    height: float
    bands: tuple[Band, ...] = ()
    bars: tuple[Bar, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    curves: tuple[Curve, ...] = ()
    rings: tuple[Ring, ...] = ()
    dots: tuple[Dot, ...] = ()
    labels: tuple[Label, ...] = ()


def text_width(text: str) -> float:
    """How wide a label may be at most, in pixels, whichever face a phone writes it in."""
    return TEXT_PX * sum(map(_share, text))


def _share(letter: str) -> float:
    kind = category(letter)
    if kind in ("Mn", "Me", "Cf"):
        return 0.0  # stands on the letter before
    if east_asian_width(letter) in "WF":
        return _AS_WIDE_AS_HIGH
    if kind == "Zs":
        return _SLENDER
    bare = normalize("NFD", letter)[0]
    return _ONES_OWN.get(bare, {"Lu": _CAPITAL, "Ll": _SMALL}.get(kind, _FIGURE))
