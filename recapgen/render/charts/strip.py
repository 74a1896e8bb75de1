"""The strip: every shot of then and now on one scale, in two rows."""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

from msgspec import Struct

from recapgen.model.evidence import Comparison, Sample
from recapgen.model.lesson import Direction, Want
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.shots import Block
from recapgen.model.units import Units
from recapgen.render.charts.chart_parts import (
    RADIUS_PX,
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
from recapgen.render.charts.swarm import step_aside
from recapgen.render.charts.ticks import round_ticks, tick_places
from recapgen.render.reader import Reader
from recapgen.words.amounts import in_their_units, number, sides, unit_key

WIDTH_PX = 288.0  # what a 320 px phone leaves between the margins
NO_TAGS: Mapping[int, str] = MappingProxyType({})
_EDGE_PX = 12.0
_LINE_PX = 19.0  # a line of text with its air
_REACH_PX = 2 * RADIUS_PX + 2.4
_MOST_TICKS = 6
_AXIS_AFTER_PX = 260.0  # of whole lessons: beyond, a phone's screen would have no axis in sight
_APART_PX = 9.0  # so that a label is nearer to its own row than to the one above
_OVERHANG_PX = 8.0  # how far the stroke of the middle reaches beyond the dots


class _Row(Struct, frozen=True):
    dots: tuple[Dot, ...]
    top: float
    bottom: float
    middle: float | None


def then_and_now(
    comparison: Comparison,
    reader: Reader,
    filmed: Mapping[int, str],
    tags: Mapping[int, str] = NO_TAGS,
) -> Picture | None:
    """The comparison's shots as a picture; None where there is no shot at all.

    ``filmed`` maps the number of a shot to the anchor of the film that shows it, ``tags`` that
    of a mishit to the coach's word for it.
    """
    words = reader.words
    lines = [
        _StripRow(words.count(f"chart.{block}", sample.n), block, sample, filmed, tags)
        for block, sample in _blocks(comparison)
    ]
    return _strip(lines, comparison, reader)


def lessons_together(lessons: Sequence[tuple[str, Comparison]], reader: Reader) -> Picture | None:
    """The shots of several lessons on one scale, each named by its day, oldest first.

    All compare the same number; what the newest wanted is what is drawn.
    """
    words = reader.words
    lines = [
        _StripRow(words.say(f"chart.{block}-on", day=when), block, sample, {}, NO_TAGS)
        for when, comparison in lessons
        for block, sample in _blocks(comparison)
    ]
    return _strip(lines, lessons[-1][1], reader)


class _StripRow(Struct, frozen=True):
    """A row to be: what stands above it, the block, its shots as read."""

    label: str
    block: Block
    sample: Sample
    filmed: Mapping[int, str]
    tags: Mapping[int, str]


def _blocks(comparison: Comparison) -> tuple[tuple[Block, Sample], ...]:
    return (Block.BEFORE, comparison.before), (Block.AFTER, comparison.after)


def _looks(block: Block) -> tuple[Look, Look]:
    """Of a shot and of a mishit."""
    if block is Block.AFTER:
        return Look.NOW, Look.NOW_MISHIT
    return Look.THEN, Look.THEN_MISHIT


def _strip(lines: Sequence[_StripRow], comparison: Comparison, reader: Reader) -> Picture | None:
    quantity, units = comparison.quantity, reader.units
    scaled = [_scaled(line.sample, quantity, units) for line in lines]
    values = [value for sample in scaled for value in sample.values]
    if not values:
        return None
    window = _window(comparison.want, quantity, units)
    zero = (0.0,) if comparison.want.direction is Direction.ZERO else ()
    x = _x_scale((*values, *(window or zero)))
    y = _LINE_PX
    rows: list[_Row] = []
    labels: list[Label] = []
    axes: list[_Axis] = []
    for drawn, (line, sample) in enumerate(zip(lines, scaled, strict=True)):
        if drawn % 2 == 0 and y - (axes[-1].end if axes else 0.0) > _AXIS_AFTER_PX:
            axes.append(_axis(quantity, reader, x, y + 3))
            y = axes[-1].end + _APART_PX
        labels.append(_row_label(line.label, y + _LINE_PX / 2, sample, x))
        told = _shots_told(line, quantity, reader)
        films = (line.filmed.get(shot, "") for shot in sample.numbers)
        row = _row(sample, _looks(line.block), x, y + _LINE_PX, zip(told, films, strict=True))
        rows.append(row)
        y = row.bottom + _APART_PX
    axes.append(_axis(quantity, reader, x, y + 3))
    end, foot = axes[-1].end, axes[-1].line
    return Picture(
        x=x,
        y=Scale(0, end, 0, end),
        width=WIDTH_PX,
        height=end,
        bands=(Band(window[0], _LINE_PX, window[1], foot),) if window else (),
        strokes=(
            *(stroke for axis in axes for stroke in axis.strokes),
            *_wanted_way(comparison.want, x),
            *(Stroke(at, _LINE_PX, at, foot, Ink.SOFT, 1.4) for at in zero),
            *(
                Stroke(row.middle, row.top, row.middle, row.bottom, Ink.INK, 2.2)
                for row in rows
                if row.middle is not None
            ),
        ),
        dots=tuple(dot for row in rows for dot in row.dots),
        labels=(
            _want_label(comparison, window, x, reader),
            *labels,
            *(label for axis in axes for label in axis.labels),
        ),
    )


def _scaled(sample: Sample, quantity: Quantity, units: Units) -> Sample:
    return Sample(
        sample.numbers,
        tuple(in_their_units(quantity, v, units) for v in sample.values),
        sample.mishit,
        None if sample.median is None else in_their_units(quantity, sample.median, units),
        None,
    )


def _window(want: Want, quantity: Quantity, units: Units) -> tuple[float, float] | None:
    if want.low is None or want.high is None:
        return None
    return (
        in_their_units(quantity, want.low, units),
        in_their_units(quantity, want.high, units),
    )


def _x_scale(told: Sequence[float]) -> Scale:
    low, high = min(told), max(told)
    air = (high - low) * 0.03 or max(abs(low) * 0.1, 1.0)
    return Scale(low - air, high + air, _EDGE_PX, WIDTH_PX - _EDGE_PX)


def _shots_told(line: _StripRow, quantity: Quantity, reader: Reader) -> tuple[str, ...]:
    """Each shot of a block in a few words, as shown when its dot is tapped."""
    sample, when = line.sample, reader.words.say(f"page.{line.block}")
    return tuple(
        reader.shot(
            shot,
            when,
            reader.amount(quantity, value),
            mishit=mishit,
            tag=line.tags.get(shot, ""),
        )
        for shot, value, mishit in zip(sample.numbers, sample.values, sample.mishit, strict=True)
    )


def _row(
    sample: Sample,
    looks: tuple[Look, Look],
    x: Scale,
    top: float,
    marks: Iterable[tuple[str, str]],
) -> _Row:
    """``marks`` give for each dot the text of its shot and the anchor of its film."""
    aside = step_aside([x.px(v) for v in sample.values], _REACH_PX)
    above, below = -min((0.0, *aside)), max((0.0, *aside))
    line = top + _OVERHANG_PX + RADIUS_PX + above
    return _Row(
        dots=tuple(
            Dot(value, line + off, looks[mishit], *mark)
            for value, off, mishit, mark in zip(
                sample.values, aside, sample.mishit, marks, strict=True
            )
        ),
        top=top,
        bottom=line + below + RADIUS_PX + _OVERHANG_PX,
        middle=sample.median,
    )


def _row_label(text: str, y: float, sample: Sample, x: Scale) -> Label:
    """Above the row's own middle, as far as the picture's edges let it."""
    if sample.median is None:
        return Label(x.at(0), y, text, ink=Ink.INK)
    half = text_width(text) / 2
    middle = min(max(x.px(sample.median), half), WIDTH_PX - half)
    return Label(x.at(middle), y, text, Anchor.MIDDLE, Ink.INK)


def _want_label(
    comparison: Comparison, window: tuple[float, float] | None, x: Scale, reader: Reader
) -> Label:
    """The wanted window named above its hatching, zero above its line, or the way at its edge."""
    y = _LINE_PX / 2 - 1
    words, want = reader.words, comparison.want
    if window is not None or want.direction is Direction.ZERO:
        text = goal_label(comparison, reader) if window else words.say("chart.goal")
        half = text_width(text) / 2
        middle = x.px((window[0] + window[1]) / 2 if window else 0.0)
        return Label(x.at(min(max(middle, half), WIDTH_PX - half)), y, text, Anchor.MIDDLE)
    text = words.say("chart.wanted")
    if want.direction is Direction.HIGHER:
        return Label(x.at(WIDTH_PX - 20), y, text, Anchor.RIGHT)
    return Label(x.at(20), y, text)


def goal_label(comparison: Comparison, reader: Reader) -> str:
    """What is wanted, for inside a picture; where that is too wide, only that it is wanted."""
    words = reader.words
    text = words.say("want.label", goal=reader.wanted(comparison))
    return text if text_width(text) <= WIDTH_PX else words.say("want.name")


def _wanted_way(want: Want, x: Scale) -> tuple[Stroke, ...]:
    """A small arrow beside the label, where higher or lower is wanted."""
    if want.direction in (Direction.WINDOW, Direction.ZERO):
        return ()
    y = _LINE_PX / 2 - 1
    tip, tail, barb = (
        (WIDTH_PX - 1, WIDTH_PX - 15, WIDTH_PX - 6)
        if want.direction is Direction.HIGHER
        else (1.0, 15.0, 6.0)
    )
    return (
        Stroke(x.at(tail), y, x.at(tip), y, Ink.SOFT, 1.4),
        Stroke(x.at(barb), y - 4, x.at(tip), y, Ink.SOFT, 1.4),
        Stroke(x.at(barb), y + 4, x.at(tip), y, Ink.SOFT, 1.4),
    )


class _Axis(Struct, frozen=True):
    """The line under the rows, its numbers, and the words for its two ends."""

    line: float
    strokes: tuple[Stroke, ...]
    labels: tuple[Label, ...]
    end: float


def _axis(quantity: Quantity, reader: Reader, x: Scale, y: float) -> _Axis:
    words = reader.words
    ends = sides(quantity, reader.hand, words)
    ticks = round_ticks(x.low, x.high, at_most=_MOST_TICKS)
    places = tick_places(ticks)
    degree = words.say("unit.deg", n="") if quantity.dimension is Dimension.ANGLE else ""
    figures = [number(abs(t) if ends else t, places, words) + degree for t in ticks]
    return _Axis(
        line=y,
        strokes=(
            Stroke(x.at(0), y, x.at(WIDTH_PX), y, Ink.LINE),
            *(Stroke(t, y, t, y + 4, Ink.LINE) for t in ticks),
        ),
        labels=(
            *(
                Label(t, y + 14, figure, Anchor.MIDDLE)
                for t, figure in zip(ticks, figures, strict=True)
            ),
            *_end_words(quantity, ends, reader, x, y + 31),
        ),
        end=y + 31 + _LINE_PX / 2,
    )


def _end_words(
    quantity: Quantity, ends: tuple[str, str] | None, reader: Reader, x: Scale, y: float
) -> tuple[Label, ...]:
    """Which way is which, or the unit's name where a number has no sides."""
    words = reader.words
    unit = words.say(f"unit-name.{unit_key(quantity, reader.units)}")
    if ends is None:
        return (Label(x.at(WIDTH_PX / 2), y, unit, Anchor.MIDDLE),)
    if quantity.dimension is not Dimension.ANGLE:
        ends = (
            words.say("chart.side-in", side=ends[0], unit=unit),
            words.say("chart.side-in", side=ends[1], unit=unit),
        )
    left = Label(x.at(0), y, ends[0])
    right = Label(x.at(WIDTH_PX), y, ends[1], Anchor.RIGHT)
    return (*((left,) if x.low < 0 else ()), *((right,) if x.high > 0 else ()))
