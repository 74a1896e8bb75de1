"""The progress line: one number over the lessons, then and now at each."""

from collections.abc import Sequence
from datetime import date

from msgspec import Struct

from recapgen.model.evidence import Comparison
from recapgen.model.lesson import Direction
from recapgen.model.quantity import Quantity
from recapgen.model.units import Units
from recapgen.render.charts.chart_parts import (
    Anchor,
    Band,
    Dot,
    Ink,
    Label,
    Look,
    Picture,
    Scale,
    Stroke,
    text_width,
)
from recapgen.render.charts.strip import goal_label
from recapgen.render.charts.ticks import round_ticks, tick_places
from recapgen.render.reader import Reader
from recapgen.words.amounts import in_their_units, number, short_day, sides, unit_key
from recapgen.words.catalogue import Words

WIDTH_PX = 288.0
_TOP_PX, _PLOT_PX, _FOOT_PX = 27.0, 124.0, 40.0
_GOAL_PX, _YEAR_PX = 8.0, 16.0  # where the goal stands, and how far below its day a year
_RIGHT_PX = 22.0
_WAYS = (Direction.HIGHER, Direction.LOWER)


class ProgressPoint(Struct, frozen=True):
    """One lesson on the line."""

    on: date
    comparison: Comparison


def over_the_lessons(stops: Sequence[ProgressPoint], reader: Reader) -> Picture:
    """The middle shots then (hollow) and now (solid), lesson after lesson, oldest first."""
    quantity = stops[0].comparison.quantity
    units = reader.units
    pairs = [
        tuple(
            None if sample.median is None else in_their_units(quantity, sample.median, units)
            for sample in (stop.comparison.before, stop.comparison.after)
        )
        for stop in stops
    ]
    newest = stops[-1].comparison
    window = _newest_window(newest, units)
    zero = (0.0,) if newest.want.direction is Direction.ZERO else ()
    y = _y_scale([v for pair in pairs for v in pair if v is not None], window or zero)
    ticks = round_ticks(y.low, y.high, at_most=4)
    texts = tick_texts(quantity, ticks, reader)
    left = max(text_width(text) for text in texts) + 8
    gap = (WIDTH_PX - left - _RIGHT_PX) / max(len(stops), 1)
    x = Scale(-0.5, len(stops) - 0.5, left, left + gap * len(stops))
    aside = min(9.0, gap / 4) / gap
    dots, strokes = _path(pairs, aside)
    base = _TOP_PX + _PLOT_PX
    return Picture(
        x=x,
        y=y,
        width=WIDTH_PX,
        height=base + _FOOT_PX,
        bands=(Band(x.at(left), window[1], x.at(WIDTH_PX), window[0]),) if window else (),
        strokes=(
            *(Stroke(x.at(left), t, x.at(WIDTH_PX), t, Ink.LINE) for t in ticks),
            *(Stroke(x.at(left), at, x.at(WIDTH_PX), at, Ink.SOFT, 1.4) for at in zero),
            *_way(newest.want.direction, x, y),
            *strokes,
        ),
        dots=dots,
        labels=(
            _goal(newest, x, y, reader),
            *(
                Label(x.at(left - 6), t, text, Anchor.RIGHT)
                for t, text in zip(ticks, texts, strict=True)
            ),
            *_dates([s.on for s in stops], y, base + 14, gap, reader.words),
        ),
    )


def _newest_window(comparison: Comparison, units: Units) -> tuple[float, float] | None:
    want = comparison.want
    if want.low is None or want.high is None:
        return None
    quantity = comparison.quantity
    return (
        in_their_units(quantity, want.low, units),
        in_their_units(quantity, want.high, units),
    )


def _goal(comparison: Comparison, x: Scale, y: Scale, reader: Reader) -> Label:
    """What the newest lesson wanted, above the plot; beside it an arrow where it is a way."""
    beside = 14.0 if comparison.want.direction in _WAYS else 0.0
    text = goal_label(comparison, reader)
    return Label(x.at(WIDTH_PX - beside), y.at(_GOAL_PX), text, Anchor.RIGHT)


def _way(direction: Direction, x: Scale, y: Scale) -> tuple[Stroke, ...]:
    """An arrow up or down, for the way that is wanted."""
    if direction not in _WAYS:
        return ()
    up = direction is Direction.HIGHER
    tip, tail = (_GOAL_PX - 7, _GOAL_PX + 7) if up else (_GOAL_PX + 7, _GOAL_PX - 7)
    barb = tip + (5 if up else -5)
    at = WIDTH_PX - 5
    return tuple(
        Stroke(x.at(px), y.at(from_px), x.at(at), y.at(tip), Ink.SOFT, 1.4)
        for px, from_px in ((at, tail), (at - 4, barb), (at + 4, barb))
    )


def _y_scale(values: list[float], wanted: tuple[float, ...]) -> Scale:
    told = (*values, *wanted)
    low, high = min(told), max(told)
    air = (high - low) * 0.12 or max(abs(low) * 0.1, 1.0)
    return Scale(low - air, high + air, _TOP_PX + _PLOT_PX, _TOP_PX)


def tick_texts(quantity: Quantity, ticks: tuple[float, ...], reader: Reader) -> list[str]:
    """The figures of an upright axis, each with its unit and side."""
    words = reader.words
    ends = sides(quantity, reader.hand, words)
    places = tick_places(ticks)
    texts = []
    for tick in ticks:
        figure = number(abs(tick) if ends else tick, places, words)
        text = words.say(f"unit.{unit_key(quantity, reader.units)}", n=figure)
        side = ends[tick > 0] if ends and tick else None
        texts.append(words.say("amount.with-side", amount=text, side=side) if side else text)
    return texts


def _path(
    pairs: Sequence[tuple[float | None, ...]], aside: float
) -> tuple[tuple[Dot, ...], tuple[Stroke, ...]]:
    """The dots, a firm stroke within each lesson and a dotted one between lessons."""
    dots: list[Dot] = []
    strokes: list[Stroke] = []
    last: tuple[float, float] | None = None
    for index, (then, now) in enumerate(pairs):
        if then is not None:
            here = (index - aside, then)
            if last is not None:
                strokes.append(Stroke(*last, *here, Ink.SOFT, 1.2, dashed=True))
            dots.append(Dot(*here, Look.THEN))
            last = here
        if now is not None:
            here = (index + aside, now)
            if then is not None:
                strokes.append(Stroke(index - aside, then, *here, Ink.INK, 1.6))
            dots.append(Dot(*here, Look.NOW))
            last = here
    return tuple(dots), tuple(strokes)


def _dates(
    days: Sequence[date], y: Scale, at_px: float, gap: float, words: Words
) -> tuple[Label, ...]:
    """As many dates as fit, the newest always among them; the year where it is another."""
    texts = [short_day(on, words) for on in days]
    every = 1
    while gap * every < max(text_width(text) for text in texts) + 4:
        every += 1
    shown = [i for i in range(len(texts)) if (len(texts) - 1 - i) % every == 0]
    years = {days[i].year: i for i in reversed(shown)}
    return (
        *(Label(i, y.at(at_px), texts[i], Anchor.MIDDLE) for i in shown),
        *(Label(i, y.at(at_px + _YEAR_PX), str(year), Anchor.MIDDLE) for year, i in years.items()),
    )
