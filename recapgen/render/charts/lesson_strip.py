"""The lesson in order: every ball with a reading, one after another, the blocks marked."""

from collections.abc import Mapping, Sequence
from itertools import groupby

from msgspec import Struct

from recapgen.model.evidence import Comparison
from recapgen.model.lesson import Notes
from recapgen.model.shots import Block, ShotStatus, SortedShot
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
from recapgen.render.charts.progress import tick_texts
from recapgen.render.charts.ticks import round_ticks
from recapgen.render.reader import Reader
from recapgen.words.amounts import in_their_units
from recapgen.words.catalogue import Words, key_of

_WIDTH_PX = 288.0
_LINE_PX, _PLOT_PX, _FOOT_PX, _RIGHT_PX = 17.0, 128.0, 24.0, 6.0
_MOST_BALLS = 400
_THEN = (Block.BEFORE, Block.CLOSING)
_COMPARED = (*_THEN, Block.AFTER)


class _StripBall(Struct, frozen=True):
    """``place`` in the lesson, from 1, over all balls; ``value`` in their units."""

    place: int
    value: float
    sorted_shot: SortedShot


class _Stretch(Struct, frozen=True):
    """Balls ``first`` to ``last`` in a row that belong to one block."""

    block: Block | None
    first: int
    last: int


def in_order_of_time(
    comparison: Comparison,
    shots: Sequence[SortedShot],
    reader: Reader,
    filmed: Mapping[int, str],
) -> Picture | None:
    """None where no ball has a reading, or where the file holds more balls than a lesson.

    ``filmed`` maps the number of a shot to the anchor of the film that shows it.
    """
    balls = _balls(comparison, shots, reader)
    if not balls or len(shots) > _MOST_BALLS:
        return None
    window = _window(comparison, reader)
    stretches = _stretches(shots)
    ticks_at = (*(ball.value for ball in balls), *(window or ()))
    low, high = min(ticks_at), max(ticks_at)
    air = (high - low) * 0.06 or max(abs(low) * 0.1, 1.0)
    ticks = round_ticks(low - air, high + air, at_most=4)
    texts = tick_texts(comparison.quantity, ticks, reader)
    left = max((text_width(text) for text in texts), default=0.0) + 11
    edge = RADIUS_PX + 2
    x = Scale(1.0, max(len(shots), 2), left + edge, _WIDTH_PX - _RIGHT_PX - edge)
    names, rows = _names(stretches, x, reader.words)
    top = rows * _LINE_PX + 4
    y = Scale(low - air, high + air, top + _PLOT_PX, top)
    mishits = comparison.before.mishit_numbers | comparison.after.mishit_numbers
    return Picture(
        x=x,
        y=y,
        width=_WIDTH_PX,
        height=top + _PLOT_PX + _FOOT_PX,
        bands=(Band(x.at(left), window[1], x.at(_WIDTH_PX), window[0]),) if window else (),
        strokes=(
            *(Stroke(x.at(left), t, x.at(_WIDTH_PX), t, Ink.LINE) for t in ticks),
            *(_edge(stretch, y) for stretch in stretches[1:]),
        ),
        dots=tuple(
            Dot(
                ball.place,
                ball.value,
                _look(ball, mishits),
                _told(ball, comparison, mishits, reader),
                filmed.get(ball.sorted_shot.shot.number, ""),
            )
            for ball in balls
        ),
        labels=(
            *(
                Label(x.at(left - 6), t, text, Anchor.RIGHT)
                for t, text in zip(ticks, texts, strict=True)
            ),
            *(Label(x.at(px), y.at((row + 0.5) * _LINE_PX), text) for px, row, text in names),
            _foot(x, y, reader.words),
        ),
    )


def order_sentence(notes: Notes, shots: Sequence[SortedShot], words: Words) -> str:
    """The blocks in the order in which they were hit: "warm-up 6 balls, then 10 balls, ..."."""
    swings = {each.block: each.swing for each in notes.swings}
    told = []
    for stretch in _stretches(shots):
        balls = words.count("evidence.balls", stretch.last - stretch.first + 1)
        block = _block_name(stretch.block, words)
        swing = swings.get(stretch.block) if stretch.block else None
        if swing is None:
            told.append(words.say("chart.order.block", block=block, balls=balls))
        else:
            swung = words.say(f"evidence.swing.{key_of(swing)}")
            told.append(words.say("chart.order.swung", block=block, balls=balls, swings=swung))
    return words.say("chart.order.told", blocks=words.listed(told))


def _balls(comparison: Comparison, shots: Sequence[SortedShot], reader: Reader) -> list[_StripBall]:
    quantity = comparison.quantity
    return [
        _StripBall(place, in_their_units(quantity, s.shot.readings[quantity], reader.units), s)
        for place, s in enumerate(shots, 1)
        if quantity in s.shot.readings and s.shot.impossible is None
    ]  # fmt: skip


def _window(comparison: Comparison, reader: Reader) -> tuple[float, float] | None:
    want = comparison.want
    if want.low is None or want.high is None:
        return None
    low, high = (
        in_their_units(comparison.quantity, end, reader.units) for end in (want.low, want.high)
    )
    return low, high


def _stretches(shots: Sequence[SortedShot]) -> list[_Stretch]:
    found, place = [], 1
    for block, members in groupby(shots, key=lambda s: s.block):
        n = len(list(members))
        found.append(_Stretch(block, place, place + n - 1))
        place += n
    return found


def _names(
    stretches: Sequence[_Stretch], x: Scale, words: Words
) -> tuple[list[tuple[float, int, str]], int]:
    """Each block's name where its balls begin, in the first row that has room; and the rows."""
    ends: list[float] = []
    placed = []
    for stretch in stretches:
        text = _block_name(stretch.block, words)
        wide = text_width(text)
        px = min(x.px(stretch.first) - RADIUS_PX, _WIDTH_PX - wide)
        row = next((i for i, end in enumerate(ends) if end + 4 <= px), len(ends))
        ends[row : row + 1] = [px + wide]
        placed.append((px, row, text))
    return placed, len(ends)


def _edge(stretch: _Stretch, y: Scale) -> Stroke:
    """Where one block ends and the next begins."""
    between = stretch.first - 0.5
    return Stroke(between, y.low, between, y.high, Ink.SOFT, 1.0, dashed=True)


def _foot(x: Scale, y: Scale, words: Words) -> Label:
    text = words.say("chart.order.axis")
    return Label(x.at(_WIDTH_PX), y.at(y.from_px + _FOOT_PX / 2 + 1), text, Anchor.RIGHT)


def _look(ball: _StripBall, mishits: frozenset[int]) -> Look:
    """Only what is compared is drawn in ink or colour."""
    s = ball.sorted_shot
    if s.status is not ShotStatus.USED or s.block not in _COMPARED:
        return Look.ASIDE
    missed = s.shot.number in mishits
    if s.block in _THEN:
        return Look.THEN_MISHIT if missed else Look.THEN
    return Look.NOW_MISHIT if missed else Look.NOW


def _told(ball: _StripBall, comparison: Comparison, mishits: frozenset[int], reader: Reader) -> str:
    shot = ball.sorted_shot.shot
    return reader.shot(
        shot.number,
        _block_name(ball.sorted_shot.block, reader.words),
        reader.amount(comparison.quantity, shot.readings[comparison.quantity]),
        mishit=_look(ball, mishits) in (Look.THEN_MISHIT, Look.NOW_MISHIT),
        tag=shot.tag or "",
    )


def _block_name(block: Block | None, words: Words) -> str:
    return words.say(f"page.block.{key_of(block)}" if block else "evidence.aside.no-block")
