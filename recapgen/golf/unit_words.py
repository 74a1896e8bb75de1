"""The unit words of each dimension, as a coach may write them."""

from msgspec import Struct

from recapgen.model.quantity import Dimension


class UnitWords(Struct, frozen=True):
    """``known`` are all words in the notes' English; ``usual`` those that a bare number may mean.

    ``usual`` is empty where there is but one unit. ``example`` is an amount with its unit.
    """

    known: tuple[str, ...]
    usual: tuple[str, ...]
    example: str


def unit_words(dimension: Dimension) -> UnitWords:  # noqa: PLR0911  one a dimension
    """The words for units of ``dimension``."""
    match dimension:
        case Dimension.SPEED:
            return UnitWords(("mph", "km/h", "m/s", "ft/s"), ("mph", "km/h", "m/s"), "2 mph")
        case Dimension.LENGTH:
            return UnitWords(("m", "yd", "ft", "cm", "in", "mm"), ("m", "yd", "ft"), "5 m")
        case Dimension.ANGLE:
            return UnitWords(("deg", "rad"), (), "1 deg")
        case Dimension.SPIN:
            return UnitWords(("rpm", "rps"), (), "200 rpm")
        case Dimension.RATIO:
            return UnitWords(("%",), (), "0.02")
        case Dimension.WIDTHS:
            return UnitWords(("widths",), (), "0.3 widths")
        case Dimension.OUTCOME:
            return UnitWords(("in", "out"), (), "7 of 10")
