"""Pictures drawn as inline SVG, by Altair and its converter.

Both are loaded only when something has to be drawn: a run that changes nothing is quick.
"""

from collections.abc import Iterable
from dataclasses import asdict
from functools import cache
from itertools import groupby
from typing import TYPE_CHECKING, Any, Literal

from recapgen.render.picture import RADIUS_PX, TEXT_PX, Dot, Label, Look, Picture, Scale, Stroke
from recapgen.render.tidy import HATCH_FILL, tidy

if TYPE_CHECKING:
    import altair as alt

_CROSS = "M-1,-1L1,1M1,-1L-1,1"
_CROSS_PX = 3.1
_FILLS = {
    Look.THEN: "var(--sheet)",
    Look.THEN_MISHIT: "var(--sheet)",
    Look.NOW: "var(--spot)",
    Look.NOW_MISHIT: "var(--spot)",
}
_EDGES = {
    Look.THEN: "var(--ink)",
    Look.THEN_MISHIT: "var(--ink)",
    Look.NOW: "var(--spot)",
    Look.NOW_MISHIT: "var(--spot)",
}
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
    return tidy(vl_convert.vegalite_to_svg(chart.to_dict()), uid, title, description)


def _layers(picture: Picture) -> Iterable["alt.Chart"]:
    if picture.bands:
        yield (
            _chart(picture, [asdict(band) for band in picture.bands], ends=True).mark_rect(
                fill=HATCH_FILL
            )
        )
    yield from _strokes(picture)
    yield from _dots(picture)
    yield from _labels(picture)


def _strokes(picture: Picture) -> Iterable["alt.Chart"]:
    def style(stroke: Stroke) -> tuple[str, float, bool]:
        return stroke.ink.value, stroke.width, stroke.dashed

    for (ink, width, dashed), alike in groupby(sorted(picture.strokes, key=style), key=style):
        places = [{"x1": s.x1, "y1": s.y1, "x2": s.x2, "y2": s.y2} for s in alike]
        chart = _chart(picture, places, ends=True)
        look: dict[str, Any] = {"stroke": ink, "strokeWidth": width, "strokeCap": "round"}
        if dashed:
            look["strokeDash"] = [2, 3]
        yield chart.mark_rule(**look)


def _dots(picture: Picture) -> Iterable["alt.Chart"]:
    def look(dot: Dot) -> Look:
        return dot.look

    for same, alike in groupby(sorted(picture.dots, key=look), key=look):
        places = [{"x": dot.x, "y": dot.y} for dot in alike]
        chart = _chart(picture, places, ends=False)
        yield chart.mark_point(
            shape="circle",
            size=_area(RADIUS_PX),
            fill=_FILLS[same],
            stroke=_EDGES[same],
            strokeWidth=1.6,
            opacity=1,
        )
        if same in _CROSSES:
            yield chart.mark_point(
                shape=_CROSS,
                size=(2 * _CROSS_PX) ** 2,
                filled=False,
                stroke=_CROSSES[same],
                strokeWidth=1.6,
                opacity=1,
            )


def _labels(picture: Picture) -> Iterable["alt.Chart"]:
    def style(label: Label) -> tuple[Literal["left", "center", "right"], str]:
        return label.anchor.value, label.ink.value

    for (anchor, ink), alike in groupby(sorted(picture.labels, key=style), key=style):
        places = [{"x": label.x, "y": label.y, "text": label.text} for label in alike]
        chart = _chart(picture, places, ends=False).encode(text="text:N")
        yield chart.mark_text(
            align=anchor, baseline="middle", fontSize=TEXT_PX, fill=ink, opacity=1
        )


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
