"""The plan beside what the student is used to: two lengths for a session, two for a week.

Lengths only: no ratio, no bound, nothing that says what is safe.
"""

from collections.abc import Iterator

from markupsafe import Markup

from recapgen.model.care import Load
from recapgen.render.charts.chart_parts import Ink, Label, Picture, Scale, Stroke
from recapgen.render.charts.drawing import draw
from recapgen.tools.cache import Cache
from recapgen.words.amounts import number
from recapgen.words.catalogue import Words

_WIDTH_PX = 288.0
_TEXT_PX, _BAR_PX, _GAP_PX = 18.0, 16.0, 14.0
_THICK_PX = 9.0
LoadBar = tuple[str, float, bool]  # what it is, how many balls, whether it is the plan's


def load_chart(
    load: Load | None,
    uid: str,
    words: Words,
    kept: Cache | None = None,
    *,
    key: str = "chart.load",
) -> Markup | None:
    """None where there is no pair to set side by side; ``kept`` has finished drawings.

    ``key`` begins the words for whoever reads it: the student, or the coach.
    """
    pairs = list(_pairs(load, words, key)) if load is not None else []
    if not pairs:
        return None
    told = words.say(f"{key}.title")
    about = words.clauses(text for pair in pairs for text, _, _ in pair)
    return Markup(draw(_picture(pairs), uid, told, about, kept))  # noqa: S704 (drawn here)


def _pairs(load: Load, words: Words, key: str) -> Iterator[tuple[LoadBar, LoadBar]]:
    """What is usual and what is planned, for a session and for a week, where both are known."""
    both = (
        ("session", load.biggest_session_30d, load.balls_per_session),
        ("week", load.usual_week, load.balls_per_week),
    )
    for name, usual, planned in both:
        if usual is not None and planned is not None:
            yield (
                (
                    words.say(f"{key}.{name}.usual", balls=number(usual, 0, words)),
                    usual,
                    False,
                ),
                (
                    words.say(f"{key}.{name}.plan", balls=number(planned, 0, words)),
                    planned,
                    True,
                ),
            )


def _picture(pairs: list[tuple[LoadBar, LoadBar]]) -> Picture:
    rows = [(row, place * _GAP_PX) for place, pair in enumerate(pairs) for row in pair]
    most = max(balls for (_, balls, _), _ in rows) or 1.0
    height = len(rows) * (_TEXT_PX + _BAR_PX) + (len(pairs) - 1) * _GAP_PX
    x = Scale(0.0, most, _THICK_PX / 2, _WIDTH_PX - _THICK_PX / 2)
    y = Scale(0.0, height, 0.0, height)
    strokes, labels = [], []
    for place, ((text, balls, plan), lower) in enumerate(rows):
        top = place * (_TEXT_PX + _BAR_PX) + lower
        middle = top + _TEXT_PX + _BAR_PX / 2
        labels.append(Label(x.at(0), top + _TEXT_PX / 2, text, ink=Ink.INK if plan else Ink.SOFT))
        ink = Ink.SPOT if plan else Ink.SOFT
        strokes.append(Stroke(0.0, middle, balls, middle, ink, _THICK_PX))
    return Picture(
        x=x, y=y, width=_WIDTH_PX, height=height, strokes=tuple(strokes), labels=tuple(labels)
    )
