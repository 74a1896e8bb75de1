"""The middle shot's flight then and now, height against distance, drawn as two quiet lines."""

from recapgen.model.carry import FlightLine, FlightLines
from recapgen.model.quantity import Quantity
from recapgen.render.charts.chart_parts import (
    Anchor,
    Curve,
    Dot,
    Ink,
    Label,
    Look,
    Picture,
    Scale,
    Stroke,
    text_width,
)
from recapgen.render.charts.ticks import round_ticks, tick_places
from recapgen.render.reader import Reader
from recapgen.words.amounts import in_their_units, number, unit_key

_WIDTH_PX = 288.0
_TOP_PX, _FOOT_PX, _RIGHT_PX = 14.0, 22.0, 14.0
_LEAST_PX, _MOST_PX = 60.0, 130.0  # of the flight that is drawn, in height
_POINTS = 40  # of a line; more would not show on a phone


def seen_from_the_side(flights: FlightLines, reader: Reader) -> Picture:
    """As high as it is long, where there is room for that; never higher than it is."""
    lines = [
        (_in_units(line, reader), look)
        for line, look in ((flights.before, Look.THEN), (flights.after, Look.NOW))
        if line is not None
    ]
    far = max(line.carry_m for line, _ in lines)
    high = max(line.apex_m[1] for line, _ in lines)
    ups = round_ticks(0.0, high, at_most=4)
    unit = unit_key(Quantity.CARRY, reader.units)
    texts = [reader.words.say(f"unit.{unit}", n=_figure(t, ups, reader)) for t in ups]
    left = max((text_width(text) for text in texts), default=0.0) + 10
    x = Scale(0.0, far, left, _WIDTH_PX - _RIGHT_PX)
    level = (x.to_px - x.from_px) / far * high
    plot = min(max(level, _LEAST_PX), _MOST_PX)
    y = Scale(0.0, high, _TOP_PX + plot, _TOP_PX)
    alongs = round_ticks(0.0, far, at_most=5)
    return Picture(
        x=x,
        y=y,
        width=_WIDTH_PX,
        height=y.from_px + _FOOT_PX,
        strokes=tuple(Stroke(0.0, t, far, t, Ink.LINE) for t in ups),
        curves=tuple(_curve(line, look) for line, look in lines),
        dots=tuple(
            Dot(at, up, look)
            for line, look in lines
            for at, up in (line.apex_m, (line.carry_m, 0.0))
        ),
        labels=(
            *(
                Label(x.at(left - 6), t, text, Anchor.RIGHT)
                for t, text in zip(ups, texts, strict=True)
            ),
            *(
                Label(t, y.at(y.from_px + 14), _figure(t, alongs, reader), Anchor.MIDDLE)
                for t in alongs
                if t
            ),
        ),
    )


def flight_sentence(flights: FlightLines, reader: Reader) -> str:
    """Both flights in words."""
    return reader.words.together(
        reader.words.say("flight.row", when=when, apex=apex, at=at, carry=carry)
        for when, apex, at, carry in flight_rows(flights, reader)
    )


def flight_rows(flights: FlightLines, reader: Reader) -> tuple[tuple[str, str, str, str], ...]:
    """When, how high, after what distance, and where it came down."""
    words = reader.words
    return tuple(
        (
            words.say(f"chart.strip.{name}"),
            reader.size(Quantity.APEX, line.apex_m[1]),
            reader.size(Quantity.CARRY, line.apex_m[0]),
            reader.size(Quantity.CARRY, line.carry_m),
        )
        for name, line in (("before", flights.before), ("after", flights.after))
        if line is not None
    )


def _curve(line: FlightLine, look: Look) -> Curve:
    """Dashed and thin for then, firm for now: shape before colour."""
    points = list(zip(line.distance_m, line.height_m, strict=True))
    kept = (*points[: -1 : max(1, len(points) // _POINTS)], points[-1])
    if look is Look.THEN:
        return Curve(kept, Ink.INK, 1.2, dashed=True)
    return Curve(kept, Ink.SPOT, 2.4)


def _in_units(line: FlightLine, reader: Reader) -> FlightLine:
    def told(metres: float) -> float:
        return in_their_units(Quantity.CARRY, metres, reader.units)

    return FlightLine(
        tuple(map(told, line.distance_m)),
        tuple(map(told, line.height_m)),
        (told(line.apex_m[0]), told(line.apex_m[1])),
        told(line.carry_m),
    )


def _figure(value: float, ticks: tuple[float, ...], reader: Reader) -> str:
    return number(value, tick_places(ticks), reader.words)
