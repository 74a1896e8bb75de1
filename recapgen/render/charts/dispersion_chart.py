"""Where the balls finished, seen from above, and the circle that holds half of each block."""

from collections.abc import Mapping, Sequence
from math import isfinite, nan

from msgspec import Struct

from recapgen.model.evidence import Circle, Comparison, DispersionChange
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, ShotStatus, SortedShot
from recapgen.render.charts.chart_parts import (
    RADIUS_PX,
    Anchor,
    Dot,
    Ink,
    Label,
    Look,
    Picture,
    Ring,
    Scale,
    Stroke,
    text_width,
)
from recapgen.render.charts.ticks import round_ticks, tick_places
from recapgen.render.reader import Reader
from recapgen.words.amounts import in_their_units, number, sides, unit_key

_WIDTH_PX = 288.0
_TOP_PX, _FOOT_PX, _RIGHT_PX = 12.0, 44.0, 12.0
_LEAST_PX, _MOST_PX = 120.0, 330.0  # of the ground that is drawn, in height
_THEN = (Block.BEFORE, Block.CLOSING)


class _Landing(Struct, frozen=True):
    """``told`` is both of its figures in words, ``tag`` the coach's word for a mishit."""

    shot: int
    block: Block
    distance: float
    side: float
    told: str
    tag: str


def where_they_finished(
    comparison: Comparison,
    shots: Sequence[SortedShot],
    reader: Reader,
    filmed: Mapping[int, str],
) -> Picture | None:
    """Both blocks on one ground, a metre as long along the line as across it.

    ``filmed`` maps the number of a shot to the anchor of the film that shows it.
    """
    if comparison.dispersion is None:
        return None
    dispersion = comparison.dispersion
    along, across = _measured(dispersion)
    balls = _balls(shots, along, across, reader)
    if not balls:
        return None
    circles = [
        (_in_units(circle, along, reader), look)
        for circle, look in ((dispersion.before, Look.THEN), (dispersion.after, Look.NOW))
    ]
    reach = [edge for (d, _, r), _ in circles for edge in (d - r, d + r)]
    wide = [edge for (_, s, r), _ in circles for edge in (s - r, s + r)]
    far = (*(ball.distance for ball in balls), *reach)
    aside = (*(ball.side for ball in balls), *wide)
    ticks = round_ticks(min(far), max(far), at_most=5)
    unit = unit_key(along, reader.units)
    texts = [reader.words.say(f"unit.{unit}", n=_figure(t, ticks, reader)) for t in ticks]
    left = max((text_width(text) for text in texts), default=0.0) + 10
    x, y = _ground(aside, far, left)
    per_unit = (x.to_px - x.from_px) / (x.high - x.low)
    mishits = comparison.before.mishit_numbers | comparison.after.mishit_numbers
    return Picture(
        x=x,
        y=y,
        width=_WIDTH_PX,
        height=y.from_px + _FOOT_PX,
        strokes=(
            *(Stroke(x.low, t, x.high, t, Ink.LINE) for t in ticks),
            *((Stroke(0.0, y.low, 0.0, y.high, Ink.SOFT, 1.2, dashed=True),)
              if x.low < 0 < x.high else ()),
        ),
        rings=tuple(
            Ring(side, distance, radius * per_unit, look)
            for (distance, side, radius), look in circles
        ),
        dots=tuple(
            Dot(
                ball.side,
                ball.distance,
                _look(ball, mishits),
                _told(ball, mishits, reader),
                filmed.get(ball.shot, ""),
            )
            for ball in balls
        ),
        labels=(
            *(
                Label(x.at(left - 6), t, text, Anchor.RIGHT)
                for t, text in zip(ticks, texts, strict=True)
            ),
            *_side_labels(x, y, across, reader),
        ),
    )  # fmt: skip


def dispersion_sentence(dispersion: DispersionChange, reader: Reader) -> str:
    """The circles in words: how many balls, where their middle is, within what half of them lie."""
    along, across = _measured(dispersion)
    words = reader.words
    told = []
    for circle, name in ((dispersion.before, "before"), (dispersion.after, "after")):
        told.append(
            words.count(
                "chart.finish.row",
                circle.n,
                when=words.say(f"chart.strip.{name}"),
                distance=reader.amount(along, circle.distance_m),
                side=_aside(across, circle.side_m, reader),
                radius=reader.size(along, circle.radius_m),
            )
        )
        if circle.radius90_m is not None:
            told.append(
                words.say(
                    "chart.finish.range",
                    low=reader.size(along, circle.radius90_m.low),
                    high=reader.size(along, circle.radius90_m.high),
                )
            )
    return words.together(told)


def _aside(across: Quantity, side_m: float, reader: Reader) -> str:
    """How far to the side; what shows as nothing is on the line, since it has no side to name."""
    if reader.size(across, side_m) == reader.size(across, 0.0):
        return reader.words.say("chart.finish.on-line")
    return reader.amount(across, side_m)


def dispersion_rows(
    dispersion: DispersionChange, shots: Sequence[SortedShot], reader: Reader
) -> tuple[tuple[Quantity, Quantity], tuple[tuple[str, ...], ...]]:
    """The same balls as a table: shot, block, how far out, how far to the side."""
    along, across = _measured(dispersion)
    by_number = {s.shot.number: s.shot.readings for s in shots}
    rows = tuple(
        (
            str(ball.shot),
            reader.words.say("page.before" if ball.block in _THEN else "page.after"),
            reader.amount(along, by_number[ball.shot][along]),
            reader.amount(across, by_number[ball.shot][across]),
        )
        for ball in _balls(shots, along, across, reader)
    )
    return (along, across), rows


def _measured(dispersion: DispersionChange) -> tuple[Quantity, Quantity]:
    if dispersion.stopped:
        return Quantity.TOTAL, Quantity.TOTAL_SIDE
    return Quantity.CARRY, Quantity.CARRY_SIDE


def _balls(
    shots: Sequence[SortedShot], along: Quantity, across: Quantity, reader: Reader
) -> list[_Landing]:
    balls = []
    for s in shots:
        distance, side = (s.shot.readings.get(q, nan) for q in (along, across))
        compared = s.block in (*_THEN, Block.AFTER) and s.status in (
            ShotStatus.USED,
            ShotStatus.NOT_READ,
        )
        if compared and s.block is not None and isfinite(distance) and isfinite(side):
            told = (reader.amount(along, distance), reader.amount(across, side))
            balls.append(
                _Landing(
                    s.shot.number,
                    s.block,
                    in_their_units(along, distance, reader.units),
                    in_their_units(along, side, reader.units),
                    reader.words.listed(told),
                    s.shot.tag or "",
                )
            )
    return balls


def _in_units(circle: Circle, along: Quantity, reader: Reader) -> tuple[float, float, float]:
    """Distance, side and radius as the axes tell them."""
    distance, side, radius = (
        in_their_units(along, value, reader.units)
        for value in (circle.distance_m, circle.side_m, circle.radius_m)
    )
    return distance, side, radius


def _ground(aside: Sequence[float], far: Sequence[float], left: float) -> tuple[Scale, Scale]:
    """One scale for both ways; the narrower of them gets more ground round it."""
    edge = RADIUS_PX + 4
    room = _WIDTH_PX - _RIGHT_PX - left - 2 * edge
    wide = max(max(aside) - min(aside), 1e-6)
    deep = max(max(far) - min(far), 1e-6)
    per_unit = min(room / wide, (_MOST_PX - 2 * edge) / deep)
    high = max(deep * per_unit + 2 * edge, _LEAST_PX)
    middle_x, middle_y = (min(aside) + max(aside)) / 2, (min(far) + max(far)) / 2
    half_x, half_y = (room / 2 + edge) / per_unit, high / 2 / per_unit
    x = Scale(middle_x - half_x, middle_x + half_x, left, _WIDTH_PX - _RIGHT_PX)
    y = Scale(middle_y - half_y, middle_y + half_y, _TOP_PX + high, _TOP_PX)
    return x, y


def _side_labels(x: Scale, y: Scale, across: Quantity, reader: Reader) -> tuple[Label, ...]:
    """How far to the side, and which side is which."""
    words = reader.words
    ticks = round_ticks(x.low, x.high, at_most=5)
    ends = sides(across, reader.hand, words)
    figures, names = y.at(y.from_px + 12), y.at(y.from_px + 31)
    unit = words.say(f"unit-name.{unit_key(across, reader.units)}")
    shown = [
        Label(t, figures, _figure(abs(t), ticks, reader), Anchor.MIDDLE) for t in ticks
    ]  # fmt: skip
    if ends is None:
        return tuple(shown)
    left = Label(x.low, names, words.say("chart.side-in", side=ends[0], unit=unit))
    right = Label(x.high, names, words.say("chart.side-in", side=ends[1], unit=unit), Anchor.RIGHT)
    return (*shown, *((left,) if x.low < 0 else ()), *((right,) if x.high > 0 else ()))


def _figure(value: float, ticks: tuple[float, ...], reader: Reader) -> str:
    return number(value, tick_places(ticks), reader.words)


def _look(ball: _Landing, mishits: frozenset[int]) -> Look:
    missed = ball.shot in mishits
    if ball.block in _THEN:
        return Look.THEN_MISHIT if missed else Look.THEN
    return Look.NOW_MISHIT if missed else Look.NOW


def _told(ball: _Landing, mishits: frozenset[int], reader: Reader) -> str:
    when = reader.words.say("page.before" if ball.block in _THEN else "page.after")
    return reader.shot(ball.shot, when, ball.told, mishit=ball.shot in mishits, tag=ball.tag)
