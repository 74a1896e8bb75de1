"""A lesson's shots for a notebook: the pages' own specification, in the colours of a light page."""

from collections.abc import Callable, Sequence
from statistics import median
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from recapgen.render.charts.chart_parts import (
    RADIUS_PX,
    Anchor,
    Dot,
    Ink,
    Label,
    Look,
    Picture,
    Scale,
    Stroke,
)
from recapgen.render.charts.specification import (
    MarkKind,
    MarkRow,
    Table,
    filling,
    parameters,
    specification,
)
from recapgen.render.charts.swarm import step_aside
from recapgen.render.charts.ticks import round_ticks, tick_places

if TYPE_CHECKING:
    import altair as alt

COLOURS = {
    "var(--sheet)": "#fffdf8",
    "var(--ink)": "#1c2128",
    "var(--soft)": "#565c63",
    "var(--line)": "#d8d0be",
    "var(--spot)": "#a8401c",
}
"""What a page's own names of colours are by day; a notebook does not know the names."""
_WIDTH_PX, _EDGE_PX, _LINE_PX, _GAP_PX = 288.0, 12.0, 19.0, 9.0
_REACH_PX = 2 * RADIUS_PX + 2.4
_MOST_TICKS = 6
_FONT = "sans-serif"
_LOOKS = ((Look.THEN, Look.THEN_MISHIT), (Look.NOW, Look.NOW_MISHIT))


class NamedBlock(Struct, frozen=True):
    """Shots of one block in the order hit, in the unit that is to be shown."""

    name: str
    values: Sequence[float]
    mishit: Sequence[bool]


def then_above_now(before: NamedBlock, after: NamedBlock, unit: str) -> Picture:
    """Every shot of two blocks on one scale, each block's middle as a stroke.

    Raises ValueError where there is no shot at all.
    """
    values = (*before.values, *after.values)
    if not values:
        raise ValueError("there is no shot to draw")
    low, high = min(values), max(values)
    air = (high - low) * 0.03 or max(abs(low) * 0.1, 1.0)
    x = Scale(low - air, high + air, _EDGE_PX, _WIDTH_PX - _EDGE_PX)
    dots: list[Dot] = []
    strokes: list[Stroke] = []
    labels: list[Label] = []
    y = 0.0
    for block, looks in zip((before, after), _LOOKS, strict=True):
        labels.append(Label(x.at(0), y + _LINE_PX / 2, block.name, ink=Ink.INK))
        aside = step_aside([x.px(value) for value in block.values], _REACH_PX)
        top, line = y + _LINE_PX, y + _LINE_PX + _GAP_PX + RADIUS_PX - min((0.0, *aside))
        y = line + max((0.0, *aside)) + RADIUS_PX + _GAP_PX
        dots += (
            Dot(value, line + off, looks[bad])
            for value, off, bad in zip(block.values, aside, block.mishit, strict=True)
        )
        if block.values:
            middle = median(block.values)
            strokes.append(Stroke(middle, top, middle, y, Ink.INK, 2.2))
    ticks = round_ticks(x.low, x.high, at_most=_MOST_TICKS)
    places = tick_places(ticks)
    height = y + 3 * _LINE_PX
    return Picture(
        x=x,
        y=Scale(0, height, 0, height),
        width=_WIDTH_PX,
        height=height,
        strokes=(
            Stroke(x.at(0), y, x.at(_WIDTH_PX), y, Ink.LINE),
            *(Stroke(tick, y, tick, y + 4, Ink.LINE) for tick in ticks),
            *strokes,
        ),
        dots=tuple(dots),
        labels=(
            *labels,
            *(Label(tick, y + 14, f"{tick:.{places}f}", Anchor.MIDDLE) for tick in ticks),
            Label(x.at(_WIDTH_PX / 2), y + 31, unit, Anchor.MIDDLE),
        ),
    )


def in_a_notebook(picture: Picture, as_frame: Callable[[Table], Any]) -> "alt.LayerChart":
    """The specification that pages are drawn by, with the picture's tables as frames."""
    put_in = filling(picture)
    chart = specification().copy(deep=True)
    layers = []
    for mark, layer in zip(MarkKind, chart.layer, strict=True):
        if put_in.tables[mark]:
            layer.data = as_frame([_in_colour(row) for row in put_in.tables[mark]])
            layers.append(layer)
    chart.layer = layers
    chart.params = parameters(put_in.parameters)
    chart.config.font = _FONT  # there is no page to inherit one from
    return chart.properties(
        width=put_in.width, height=put_in.height, background=COLOURS["var(--sheet)"]
    )


def _in_colour(row: MarkRow) -> MarkRow:
    return {
        name: COLOURS.get(value, value) if isinstance(value, str) else value
        for name, value in row.items()
    }
