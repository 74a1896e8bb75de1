"""The one Altair specification that every picture is drawn by, made and validated once.

It has a layer for each kind of mark, which reads the table of that name, and scales that read
parameters; ``Filling`` is what a picture puts in. The converter compiles it once, too, so a
picture costs no more than its drawing.
"""

from collections.abc import Iterator, Mapping, Sequence
from enum import StrEnum
from functools import cache
from math import pi
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from recapgen.render.charts.chart_parts import RADIUS_PX, TEXT_PX, Look, Picture
from recapgen.render.charts.tidy import HATCH_FILL

if TYPE_CHECKING:
    import altair as alt

MarkRow = Mapping[str, float | str | Sequence[float] | None]
Table = list[MarkRow]

_CROSS = "M-1,-1L1,1M1,-1L-1,1"
_CROSS_PX = 3.1
_RING_THEN_PX, _RING_NOW_PX = 1.4, 2.6
_SPARSE, _LONG = (2, 3), (7, 6)  # dashes and gaps, in pixels


class MarkKind(StrEnum):
    """The kinds of mark, each the name of its table; drawn in this order."""

    BANDS = "bands"
    BARS = "bars"
    STROKES = "strokes"
    CURVES = "curves"
    RINGS = "rings"
    DOTS = "dots"
    CROSSES = "crosses"
    LABELS = "labels"


class Filling(Struct, frozen=True):
    """One picture's own part: sizes in pixels, parameters by name, a table for each mark."""

    width: float
    height: float
    parameters: Mapping[str, float]
    tables: Mapping[MarkKind, Table]


def filling(picture: Picture) -> Filling:
    """The picture as tidy tables: one row a mark, its place in the units of the scales."""
    return Filling(
        width=picture.width,
        height=picture.height,
        parameters={
            f"{axis}_{end}": value
            for axis, scale in (("x", picture.x), ("y", picture.y))
            for end, value in (
                ("low", scale.low),
                ("high", scale.high),
                ("from", scale.from_px),
                ("to", scale.to_px),
            )
        },
        tables={
            MarkKind.BANDS: [
                {"x": band.x1, "y": band.y1, "x2": band.x2, "y2": band.y2} for band in picture.bands
            ],
            MarkKind.BARS: [
                {
                    "x": bar.x1,
                    "y": bar.y1,
                    "x2": bar.x2,
                    "y2": bar.y2,
                    "fill": "none" if bar.look is None else _fill(bar.look),
                    "edge": "var(--line)" if bar.look is None else _edge(bar.look),
                }
                for bar in picture.bars
            ],
            MarkKind.STROKES: _strokes(picture),
            MarkKind.CURVES: _curves(picture),
            MarkKind.RINGS: [
                {
                    "x": ring.x,
                    "y": ring.y,
                    "radius": ring.radius_px,
                    "edge": _edge(ring.look),
                    "width": _RING_NOW_PX if ring.look is Look.NOW else _RING_THEN_PX,
                }
                for ring in picture.rings
            ],
            MarkKind.DOTS: [
                {"x": dot.x, "y": dot.y, "fill": _fill(dot.look), "edge": _edge(dot.look)}
                for dot in picture.dots
            ],
            MarkKind.CROSSES: [
                {"x": dot.x, "y": dot.y, "edge": edge}
                for dot in picture.dots
                if (edge := _cross(dot.look)) is not None
            ],
            MarkKind.LABELS: _labels(picture),
        },
    )


def _fill(look: Look) -> str:
    match look:
        case Look.THEN | Look.THEN_MISHIT | Look.ASIDE:
            return "var(--sheet)"
        case Look.NOW | Look.NOW_MISHIT:
            return "var(--spot)"


def _edge(look: Look) -> str:
    match look:
        case Look.THEN | Look.THEN_MISHIT:
            return "var(--ink)"
        case Look.NOW | Look.NOW_MISHIT:
            return "var(--spot)"
        case Look.ASIDE:
            return "var(--soft)"


def _cross(look: Look) -> str | None:
    """The ink of the cross on a mishit; None on all else."""
    match look:
        case Look.THEN_MISHIT:
            return "var(--ink)"
        case Look.NOW_MISHIT:
            return "var(--sheet)"
        case Look.THEN | Look.NOW | Look.ASIDE:
            return None


def _strokes(picture: Picture) -> Table:
    """Those that are dashed last."""
    return [
        {
            "x": stroke.x1,
            "y": stroke.y1,
            "x2": stroke.x2,
            "y2": stroke.y2,
            "ink": stroke.ink.value,
            "width": stroke.width,
            "dash": _SPARSE if stroke.dashed else None,
        }
        for stroke in sorted(picture.strokes, key=lambda one: one.dashed)
    ]


def _curves(picture: Picture) -> Table:
    """A row a point."""
    return [
        {
            "x": x,
            "y": y,
            "curve": which,
            "ink": curve.ink.value,
            "width": curve.width,
            "dash": _LONG if curve.dashed else None,
        }
        for which, curve in enumerate(picture.curves)
        for x, y in curve.points
    ]


def _labels(picture: Picture) -> Table:
    return [
        {
            "x": label.x,
            "y": label.y,
            "text": label.text,
            "anchor": label.anchor.value,
            "ink": label.ink.value,
        }
        for label in sorted(picture.labels, key=lambda one: one.anchor.value)
    ]


@cache
def specification() -> "alt.LayerChart":
    """A layer for each kind of mark, drawing tables named after them on scales left open."""
    import altair as alt  # noqa: PLC0415 (half a second that most runs do not need)

    def scale(axis: str) -> alt.Scale:
        low, high, start, end = (
            alt.ExprRef(f"{axis}_{name}") for name in ("low", "high", "from", "to")
        )
        return alt.Scale(domain=[low, high], range=[start, end], nice=False, zero=False)

    x, y = alt.X("x:Q", scale=scale("x"), axis=None), alt.Y("y:Q", scale=scale("y"), axis=None)
    return alt.LayerChart(
        layer=[layer.encode(x=x, y=y) for layer in _layers()],
        params=parameters(
            {
                f"{axis}_{end}": at
                for axis in ("x", "y")
                for end, at in (("low", 0), ("high", 1), ("from", 0), ("to", 1))
            }
        ),
        padding=0,
        background="transparent",
        autosize=alt.AutoSizeParams(type="none"),
        config=alt.Config(
            font="inherit",
            aria=False,
            view=alt.ViewConfig(stroke=None),
            mark=alt.MarkConfig(invalid="show"),
        ),
    )


def parameters(values: Mapping[str, float]) -> list["alt.VariableParameter"]:
    """What the scales read, by name."""
    import altair as alt  # noqa: PLC0415 (as above)

    return [alt.VariableParameter(name=name, value=value) for name, value in values.items()]


def _layers() -> Iterator["alt.Chart"]:
    """One for each kind of mark, in the order of ``MarkKind``."""
    import altair as alt  # noqa: PLC0415 (as above)

    def table(mark: MarkKind) -> alt.Chart:
        return alt.Chart(alt.NamedData(mark.value))

    fill, edge = alt.Fill("fill:N", scale=None), alt.Stroke("edge:N", scale=None)
    width = alt.StrokeWidth("width:Q", scale=None)
    dashes = alt.ExprRef("datum.dash")
    yield (
        table(MarkKind.BANDS)
        .mark_rect(fill=HATCH_FILL, stroke="var(--hatch)", strokeWidth=1.4)
        .encode(x2="x2:Q", y2="y2:Q")
    )
    yield (
        table(MarkKind.BARS)
        .mark_rect(strokeWidth=1.6, opacity=1)
        .encode(x2="x2:Q", y2="y2:Q", fill=fill, stroke=edge)
    )
    yield (
        table(MarkKind.STROKES)
        .mark_rule(strokeCap="round", strokeDash=dashes)
        .encode(x2="x2:Q", y2="y2:Q", stroke=alt.Stroke("ink:N", scale=None), strokeWidth=width)
    )
    yield (
        table(MarkKind.CURVES)
        .mark_line(
            stroke=alt.ExprRef("datum.ink"),
            strokeWidth=alt.ExprRef("datum.width"),
            strokeDash=dashes,
            strokeCap="round",
            strokeJoin="round",
            opacity=1,
        )
        .encode(detail="curve:N")
    )
    yield (
        table(MarkKind.RINGS)
        .mark_arc(
            outerRadius=alt.ExprRef("datum.radius"),
            innerRadius=0,
            theta=0,
            theta2=2 * pi,
            fill="none",
            opacity=1,
        )
        .encode(stroke=edge, strokeWidth=width)
    )
    yield (
        table(MarkKind.DOTS)
        .mark_point(shape="circle", size=_area(RADIUS_PX), strokeWidth=1.6, opacity=1)
        .encode(fill=fill, stroke=edge)
    )
    yield (
        table(MarkKind.CROSSES)
        .mark_point(shape=_CROSS, size=_area(_CROSS_PX), strokeWidth=1.6, opacity=1)
        .encode(stroke=edge)
    )
    yield (
        table(MarkKind.LABELS)
        .mark_text(
            align=alt.ExprRef("datum.anchor"), baseline="middle", fontSize=TEXT_PX, opacity=1
        )
        .encode(text="text:N", fill=alt.Fill("ink:N", scale=None))
    )


def _area(radius_px: float) -> float:
    """Altair sizes a round mark by its area, where 4 stands for pi."""
    return (2 * radius_px) ** 2


@cache
def compiled() -> dict[str, Any]:
    """The specification as Vega, which the converter draws without compiling it again."""
    import vl_convert  # noqa: PLC0415 (as above)

    return dict(vl_convert.vegalite_to_vega(specification().to_dict()))


def filled(put_in: Filling) -> dict[str, Any]:
    """The specification as Vega, with what a picture puts in and without layers it has none of."""
    whole = compiled()
    empty = {mark for mark in MarkKind if not put_in.tables[mark]}
    return {
        **whole,
        "width": put_in.width,
        "height": put_in.height,
        "data": [
            {**source, "values": put_in.tables[MarkKind(source["name"])]}
            if source["name"] in tuple(MarkKind)
            else source
            for source in whole["data"]
            if source["name"] not in empty and source.get("source") not in empty
        ],
        "signals": [
            {**signal, "value": put_in.parameters[signal["name"]]} for signal in whole["signals"]
        ],
        "marks": [
            layer for mark, layer in zip(MarkKind, whole["marks"], strict=True) if mark not in empty
        ],
    }
