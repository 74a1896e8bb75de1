"""The coach's one spot colour, made readable on the card's paper by day and by night.

Contrast as WCAG 2.2 defines it: (L1 + 0.05) / (L2 + 0.05) of the relative luminances.
"""

_ENOUGH = 4.5  # WCAG 2.2 AA for text
_DAY_PAPER = (0xF4, 0xEE, 0xE0)  # the darkest paper that text may lie on by day
_NIGHT_PAPER = (0x2A, 0x2D, 0x2A)  # the lightest by night
_BLACK = (0, 0, 0)
_WHITE = (255, 255, 255)
_STEPS = 100
_DARKEST = 0.04045  # below it sRGB is a straight line

_Colour = tuple[int, int, int]


def accent_css(accent: str | None) -> str:
    """A stylesheet that sets ``--spot``; one without any rule for the card's own ink.

    ``accent`` is "#rrggbb". It is darkened by day and lightened by night just so far that
    text in it stays readable. On paper the printer's ink is left alone.
    """
    if accent is None:
        return "/* the card's own ink */\n"
    chosen = (int(accent[1:3], 16), int(accent[3:5], 16), int(accent[5:7], 16))
    day = _readable(chosen, _DAY_PAPER, towards=_BLACK)
    night = _readable(chosen, _NIGHT_PAPER, towards=_WHITE)
    return (
        f"@media screen {{ :root {{ --spot: {day}; }} }}\n"
        f"@media screen and (prefers-color-scheme: dark) {{ :root {{ --spot: {night}; }} }}\n"
    )


def contrast(one: _Colour, other: _Colour) -> float:
    """The contrast ratio of two sRGB colours, 1 to 21."""
    high, low = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _readable(chosen: _Colour, paper: _Colour, towards: _Colour) -> str:
    colour = chosen
    for step in range(_STEPS + 1):
        colour = _mixed(chosen, towards, step / _STEPS)
        if contrast(colour, paper) >= _ENOUGH:
            break
    return "#{:02x}{:02x}{:02x}".format(*colour)


def _mixed(one: _Colour, other: _Colour, share: float) -> _Colour:
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(one, other, strict=True))
    return red, green, blue


def _luminance(colour: _Colour) -> float:
    red, green, blue = (_linear(channel / 255) for channel in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= _DARKEST else ((channel + 0.055) / 1.055) ** 2.4
