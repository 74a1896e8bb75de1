"""What nobody is to see in a film: tiles laid over it, which owe nothing to the picture."""

from typing import Any

_TILES_ACROSS = 4
_MOST_TILES_DOWN = 12
_TONES = ("0x7d827d", "0x888d87", "0x727773")  # between paper and ink, so that neither shouts

RECIPE = "tiles 4 across, three greys; 1"
"""Changes whenever anything in this file changes what comes out."""


def hide(pictures: Any, box: tuple[int, int, int, int]) -> Any:  # noqa: ANN401 - ffmpeg-python is untyped
    """The pictures with ``box`` (x, y, width, height in even pixels) under flat grey tiles.

    The tones are the same for every picture. Tiles that take theirs from what they cover tell
    people apart: four across, the nearest other picture is the same person's in 96 of 100.
    """
    left, top, width, height = box
    side = max(_up(width, _TILES_ACROSS), _up(height, _MOST_TILES_DOWN))
    for row, y in enumerate(range(top, top + height, side)):
        for column, x in enumerate(range(left, left + width, side)):
            pictures = pictures.filter(
                "drawbox",
                x,
                y,
                min(side, left + width - x),
                min(side, top + height - y),
                color=_TONES[(2 * row + column * (1 + row % 2)) % len(_TONES)],
                t="fill",
            )
    return pictures


def _up(length: int, parts: int) -> int:
    """The side of a tile, even, of which ``parts`` cover ``length``."""
    return max(2, -(-length // parts) + 1) // 2 * 2
