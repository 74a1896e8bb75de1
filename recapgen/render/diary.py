"""The log as it was written: a quiet picture of the balls, and every line of it."""

from collections.abc import Sequence
from datetime import timedelta

from markupsafe import Markup
from msgspec import Struct

from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.render.charts.chart_parts import Anchor, Dot, Ink, Label, Look, Picture, Scale, Stroke
from recapgen.render.charts.drawing import draw
from recapgen.render.charts.ticks import round_ticks
from recapgen.tools.cache import Cache
from recapgen.words.amounts import day, number, short_day
from recapgen.words.catalogue import Words

COLUMNS = ("balls", "minutes", "effort", "load", "rounds", "score", "miss")
_WEEKS_DRAWN = 12
_LINES_TOLD = 40
_LEAST_FOR_A_PICTURE = 2
_WIDTH_PX = 288.0
_TOP_PX, _PLOT_PX, _FOOT_PX, _RIGHT_PX = 10.0, 84.0, 40.0, 20.0
_DAY_PX, _YEAR_PX = 14.0, 30.0  # below the plot
_LEFT_PX = 34.0


class DiaryRow(Struct, frozen=True):
    when: str
    cells: tuple[str, ...]


class Diary(Struct, frozen=True):
    """``rows`` are newest first; an empty cell is a dash, never a nought."""

    chart: Markup | None
    rows: tuple[DiaryRow, ...]


def diary(log: PracticeLog, uid: str, words: Words, kept: Cache | None = None) -> Diary | None:
    """None where nothing was logged; ``kept`` has finished drawings."""
    if not log.entries:
        return None
    newest = log.entries[-_LINES_TOLD:]
    rows = tuple(DiaryRow(day(e.on, words), _cells(e, words)) for e in reversed(newest))
    return Diary(_chart(log.entries, uid, words, kept), rows)


def book_diary(log: PracticeLog, words: Words, kept: Cache | None = None) -> Diary | None:
    """The same for the coach's own eyes: with what was said of pain."""
    told = diary(log, "diary", words, kept)
    if told is None:
        return None
    newest = reversed(log.entries[-_LINES_TOLD:])
    rows = (
        DiaryRow(row.when, (*row.cells, _pain(entry, words)))
        for row, entry in zip(told.rows, newest, strict=True)
    )
    return Diary(told.chart, tuple(rows))


def _pain(entry: LogEntry, words: Words) -> str:
    if entry.pain is None:
        return "–"
    if not entry.pain:
        return words.say("book.pain.no")
    return entry.pain_place or words.say("book.pain.yes")


def _cells(entry: LogEntry, words: Words) -> tuple[str, ...]:
    values = (
        entry.balls,
        entry.minutes,
        entry.effort,
        entry.effort_minutes,
        entry.rounds,
        entry.score,
        entry.miss_count,
    )
    return tuple("–" if v is None else number(v, 0 if v == round(v) else 1, words) for v in values)


def _chart(
    entries: Sequence[LogEntry], uid: str, words: Words, kept: Cache | None
) -> Markup | None:
    """Each counted session of the last weeks as a dot on its day."""
    since = entries[-1].on - timedelta(weeks=_WEEKS_DRAWN)
    drawn = [(e.on.toordinal(), e.balls, e.on) for e in entries if e.balls and e.on > since]
    if len({place for place, _, _ in drawn}) < _LEAST_FOR_A_PICTURE:
        return None
    first, last = drawn[0], drawn[-1]
    most = max(balls for _, balls, _ in drawn)
    x = Scale(first[0], last[0], _LEFT_PX + 8, _WIDTH_PX - _RIGHT_PX)
    y = Scale(0.0, most * 1.1, _TOP_PX + _PLOT_PX, _TOP_PX)
    ticks = [tick for tick in round_ticks(0.0, most * 1.1, at_most=4) if tick >= 0]
    ground, year = (y.at(_TOP_PX + _PLOT_PX + below) for below in (_DAY_PX, _YEAR_PX))
    picture = Picture(
        x=x,
        y=y,
        width=_WIDTH_PX,
        height=_TOP_PX + _PLOT_PX + _FOOT_PX,
        strokes=(
            *(Stroke(x.at(_LEFT_PX), tick, x.at(_WIDTH_PX), tick, Ink.LINE) for tick in ticks),
            *(Stroke(place, 0.0, place, balls, Ink.SOFT) for place, balls, _ in drawn),
        ),
        dots=tuple(Dot(place, balls, Look.NOW) for place, balls, _ in drawn),
        labels=(
            *(
                Label(x.at(_LEFT_PX - 6), tick, number(tick, 0, words), Anchor.RIGHT)
                for tick in ticks
            ),
            Label(x.at(_LEFT_PX), ground, short_day(first[2], words)),
            Label(x.at(_LEFT_PX), year, str(first[2].year)),
            *(
                [Label(x.at(_WIDTH_PX), year, str(last[2].year), Anchor.RIGHT)]
                if last[2].year != first[2].year
                else []
            ),
            Label(x.at(_WIDTH_PX), ground, short_day(last[2], words), Anchor.RIGHT),
        ),
    )
    about = words.together(
        words.count("chart.diary.session", balls, day=day(on, words)) for _, balls, on in drawn
    )
    title = words.say("chart.diary.title")
    return Markup(draw(picture, uid, title, about, kept))  # noqa: S704 (drawn here)
