"""What nobody is to see in a film: tiles laid over it, which owe nothing to the picture."""

from itertools import pairwise
from typing import Any

from msgspec import Struct

_TILES_ACROSS = 4
_MOST_TILES_DOWN = 12
_TONES = ("0x7d827d", "0x888d87", "0x727773")  # between paper and ink, so that neither shouts

RECIPE = "tiles 4 across, three greys; 1"
"""What hides people by another recipe hides too little, and what is up by it comes down."""


class Stand(Struct, frozen=True):
    """Where tiles lie from one frame to another, both included: their upper left corner."""

    first: int
    last: int
    x: int
    y: int


class Tiles(Struct, frozen=True):
    """Tiles of one size, in even pixels, wherever they ``stand`` in turn; elsewhere there are none.

    They lie inside the picture.
    """

    width: int
    height: int
    stands: tuple[Stand, ...]


def hide(pictures: Any, tiles: Tiles, fps: int) -> Any:  # noqa: ANN401 - ffmpeg-python is untyped
    """The pictures, ``fps`` a second from nought, with flat grey tiles over them.

    The tones are the same for every picture. Tiles that take theirs from what they cover tell
    people apart: four across, the nearest other picture is the same person's in 96 of 100.
    """
    strands = pictures.filter_multi_output("split", outputs=2)
    return strands[0].overlay(
        _laid(strands[1].filter("crop", tiles.width, tiles.height, 0, 0), tiles),
        x=_in_turn([stand.x for stand in tiles.stands], tiles, fps),
        y=_in_turn([stand.y for stand in tiles.stands], tiles, fps),
        enable="+".join(
            f"between(t,{_between(s.first - 1, fps)},{_between(s.last, fps)})" for s in tiles.stands
        ),
    )


def _laid(ground: Any, tiles: Tiles) -> Any:  # noqa: ANN401 - see above
    """The ground with nothing of it left to see."""
    side = max(_up(tiles.width, _TILES_ACROSS), _up(tiles.height, _MOST_TILES_DOWN))
    for row, y in enumerate(range(0, tiles.height, side)):
        for column, x in enumerate(range(0, tiles.width, side)):
            ground = ground.filter(
                "drawbox",
                x,
                y,
                min(side, tiles.width - x),
                min(side, tiles.height - y),
                color=_TONES[(2 * row + column * (1 + row % 2)) % len(_TONES)],
                t="fill",
            )
    return ground


def _in_turn(places: list[int], tiles: Tiles, fps: int) -> str:
    """One place after another as a sum of the steps between them."""
    steps = [
        f"{after - before:+d}*gte(t,{_between(stand.first - 1, fps)})"
        for stand, (before, after) in zip(tiles.stands[1:], pairwise(places), strict=True)
        if after != before
    ]
    return "".join((str(places[0]), *steps))


def _between(frame: int, fps: int) -> str:
    """The seconds halfway from a frame to the next."""
    return f"{(frame + 0.5) / fps:.5f}"


def _up(length: int, parts: int) -> int:
    """The side of a tile, even, of which ``parts`` cover ``length``."""
    return max(2, -(-length // parts) + 1) // 2 * 2
