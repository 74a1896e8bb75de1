"""Pictures drawn as inline SVG, by Altair and its converter.

Both are loaded only when something has to be drawn: a run that changes nothing is quick.
"""

from collections.abc import Iterable
from functools import cache
from itertools import groupby
from math import pi
from typing import TYPE_CHECKING, Any, Literal

from recapgen.render.charts.picture import (
    RADIUS_PX,
    TEXT_PX,
    Band,
    Bar,
    Dot,
    Label,
    Look,
    Picture,
    Scale,
    Stroke,
)
from recapgen.render.charts.tidy import HATCH_FILL, escaped, tidy

if TYPE_CHECKING:
    import altair as alt

_CROSS = "M-1,-1L1,1M1,-1L-1,1"
_CROSS_PX = 3.1
_FILLS = {
    Look.THEN: "var(--sheet)",
    Look.THEN_MISHIT: "var(--sheet)",
    Look.NOW: "var(--spot)",
    Look.NOW_MISHIT: "var(--spot)",
    Look.ASIDE: "var(--sheet)",
}
_EDGES = {
    Look.THEN: "var(--ink)",
    Look.THEN_MISHIT: "var(--ink)",
    Look.NOW: "var(--spot)",
    Look.NOW_MISHIT: "var(--spot)",
    Look.ASIDE: "var(--soft)",
}
_RING_PX = {Look.THEN: 1.4, Look.NOW: 2.6}
_CROSSES = {Look.THEN_MISHIT: "var(--ink)", Look.NOW_MISHIT: "var(--sheet)"}


@cache
def draw(picture: Picture, uid: str, title: str, description: str) -> str:
    """The picture as SVG for inside a page; ``uid`` is unique on that page."""
    import altair as alt  # noqa: PLC0415 (half a second that most runs do not need)
    import vl_convert  # noqa: PLC0415

    chart = (
        alt.layer(*_layers(picture))
        .properties(
            width=picture.width,
            height=picture.height,
            padding=0,
            background="transparent",
            autosize=alt.AutoSizeParams(type="none"),
        )
        .configure_view(stroke=None)
        .configure(font="inherit")
    )
    svg = tidy(vl_convert.vegalite_to_svg(chart.to_dict(validate=False)), uid, title, description)
    return _with_shots(svg, picture.dots)


def _with_shots(svg: str, dots: tuple[Dot, ...]) -> str:
    """Each circle told which shot it is: the converter draws them in the order given."""
    before, *circles = svg.split("<circle ")
    if len(circles) != len(dots):
        raise ValueError(f"{len(dots)} dots became {len(circles)} circles")
    marked = [
        f'<circle data-shot="{escaped(dot.told)}" '
        + (f'data-clip="{dot.film}" ' if dot.film else "")
        + circle
        if dot.told
        else f"<circle {circle}"
        for dot, circle in zip(dots, circles, strict=True)
    ]
    return before + "".join(marked)


def _layers(picture: Picture) -> Iterable["alt.Chart"]:
    if picture.bands:
        yield (
            _chart(picture, [_ends(band) for band in picture.bands], ends=True).mark_rect(
                fill=HATCH_FILL
            )
        )
    yield from _bars(picture)
    yield from _strokes(picture)
    yield from _curves(picture)
    yield from _rings(picture)
    yield from _dots(picture)
    yield from _labels(picture)


def _bars(picture: Picture) -> Iterable["alt.Chart"]:
    import altair as alt  # noqa: PLC0415

    if not picture.bars:
        return
    places = [
        {
            **_ends(bar),
            "fill": "none" if bar.look is None else _FILLS[bar.look],
            "edge": "var(--line)" if bar.look is None else _EDGES[bar.look],
        }
        for bar in picture.bars
    ]
    yield (
        _chart(picture, places, ends=True)
        .mark_rect(strokeWidth=1.6, opacity=1)
        .encode(
            fill=alt.Fill("fill:N", scale=None),
            stroke=alt.Stroke("edge:N", scale=None),
        )
    )


def _rings(picture: Picture) -> Iterable["alt.Chart"]:
    """One chart a ring: each has a radius of its own."""
    for ring in picture.rings:
        yield _chart(picture, [{"x": ring.x, "y": ring.y}], ends=False).mark_arc(
            outerRadius=ring.radius_px,
            innerRadius=0,
            theta=0,
            theta2=2 * pi,
            fill="none",
            stroke=_EDGES[ring.look],
            strokeWidth=_RING_PX[ring.look],
            opacity=1,
        )


def _strokes(picture: Picture) -> Iterable["alt.Chart"]:
    import altair as alt  # noqa: PLC0415

    def dashed(stroke: Stroke) -> bool:
        return stroke.dashed

    for dotted, alike in groupby(sorted(picture.strokes, key=dashed), key=dashed):
        places = [{**_ends(s), "ink": s.ink.value, "width": s.width} for s in alike]
        dash: dict[str, Any] = {"strokeDash": [2, 3]} if dotted else {}
        yield (
            _chart(picture, places, ends=True)
            .mark_rule(strokeCap="round", **dash)
            .encode(
                stroke=alt.Stroke("ink:N", scale=None),
                strokeWidth=alt.StrokeWidth("width:Q", scale=None),
            )
        )


def _curves(picture: Picture) -> Iterable["alt.Chart"]:
    """One chart a curve: each is drawn by one path."""
    for curve in picture.curves:
        dash: dict[str, Any] = {"strokeDash": [7, 6]} if curve.dashed else {}
        yield _chart(picture, [{"x": x, "y": y} for x, y in curve.points], ends=False).mark_line(
            stroke=curve.ink.value,
            strokeWidth=curve.width,
            strokeCap="round",
            strokeJoin="round",
            opacity=1,
            **dash,
        )


def _dots(picture: Picture) -> Iterable["alt.Chart"]:
    import altair as alt  # noqa: PLC0415

    if not picture.dots:
        return
    places = [
        {"x": dot.x, "y": dot.y, "fill": _FILLS[dot.look], "edge": _EDGES[dot.look]}
        for dot in picture.dots
    ]
    yield (
        _chart(picture, places, ends=False)
        .mark_point(shape="circle", size=_area(RADIUS_PX), strokeWidth=1.6, opacity=1)
        .encode(
            fill=alt.Fill("fill:N", scale=None),
            stroke=alt.Stroke("edge:N", scale=None),
        )
    )
    crosses = [
        {"x": dot.x, "y": dot.y, "edge": _CROSSES[dot.look]}
        for dot in picture.dots
        if dot.look in _CROSSES
    ]
    if crosses:
        yield (
            _chart(picture, crosses, ends=False)
            .mark_point(shape=_CROSS, size=_area(_CROSS_PX), strokeWidth=1.6, opacity=1)
            .encode(stroke=alt.Stroke("edge:N", scale=None))
        )


def _labels(picture: Picture) -> Iterable["alt.Chart"]:
    import altair as alt  # noqa: PLC0415

    def anchor(label: Label) -> Literal["left", "center", "right"]:
        return label.anchor.value

    for align, alike in groupby(sorted(picture.labels, key=anchor), key=anchor):
        places = [{"x": m.x, "y": m.y, "text": m.text, "ink": m.ink.value} for m in alike]
        yield (
            _chart(picture, places, ends=False)
            .mark_text(align=align, baseline="middle", fontSize=TEXT_PX, opacity=1)
            .encode(text="text:N", fill=alt.Fill("ink:N", scale=None))
        )


def _ends(mark: Stroke | Band | Bar) -> dict[str, float]:
    return {"x1": mark.x1, "y1": mark.y1, "x2": mark.x2, "y2": mark.y2}


def _chart(picture: Picture, places: list[dict[str, Any]], *, ends: bool) -> "alt.Chart":
    """A chart of these places alone: nothing else travels into the page."""
    import altair as alt  # noqa: PLC0415

    def axis(scale: Scale) -> alt.Scale:
        return alt.Scale(
            domain=[scale.low, scale.high],
            range=[scale.from_px, scale.to_px],
            nice=False,
            zero=False,
            clamp=False,
        )

    first = "1" if ends else ""
    chart = alt.Chart(alt.InlineData(values=places)).encode(
        x=alt.X(f"x{first}:Q", scale=axis(picture.x), axis=None),
        y=alt.Y(f"y{first}:Q", scale=axis(picture.y), axis=None),
    )
    return chart.encode(x2="x2:Q", y2="y2:Q") if ends else chart


def _area(radius_px: float) -> float:
    """Altair sizes a round mark by its area, where 4 stands for pi."""
    return (2 * radius_px) ** 2
