"""How many shots lay inside the window: one bar for then, one for now."""

from recapgen.model.evidence import Share, ShareChange
from recapgen.model.rounding import whole
from recapgen.render.charts.chart_parts import Anchor, Bar, Ink, Label, Look, Picture, Scale
from recapgen.render.reader import Reader
from recapgen.words.catalogue import Words

_WIDTH_PX = 288.0
_ROW_PX, _BAR_PX = 34.0, 14.0
_TEXT_PX = 18.0


def inside_then_and_now(inside: ShareChange, reader: Reader) -> Picture:
    """Both bars are as long as all shots of their block; the filled part was inside."""
    x = Scale(0.0, 1.0, 1.0, _WIDTH_PX - 1.0)
    height = 2 * _ROW_PX
    bars: list[Bar] = []
    labels: list[Label] = []
    for row, (share, name, look) in enumerate(
        ((inside.before, "before", Look.THEN), (inside.after, "after", Look.NOW))
    ):
        top = row * _ROW_PX
        said = reader.words.say(f"page.{name}")
        labels.append(Label(0.0, top + _TEXT_PX / 2 - 1, said, ink=Ink.INK))
        counted = _counted(share, reader.words)
        labels.append(Label(1.0, top + _TEXT_PX / 2 - 1, counted, Anchor.RIGHT, Ink.INK))
        bars.extend(_bar(share, look, top + _TEXT_PX))
    y = Scale(0.0, height, 0.0, height)
    return Picture(x=x, y=y, width=_WIDTH_PX, height=height, bars=tuple(bars), labels=tuple(labels))


def share_sentence(inside: ShareChange, reader: Reader, kind: str = "share") -> str:
    """The counts, and what shares such counts allow for; ``kind`` is "outcome" of in or out."""
    words = reader.words
    return words.together(
        words.say(
            f"chart.{kind}.row",
            when=words.say(f"chart.strip.{name}"),
            counted=_counted(share, words),
            low=whole(10 * share.wilson90.low),
            high=whole(10 * share.wilson90.high),
        )
        for share, name in ((inside.before, "before"), (inside.after, "after"))
    )


def _counted(share: Share, words: Words) -> str:
    return words.say("chart.share.counted", count=share.count, n=share.n)


def _bar(share: Share, look: Look, top: float) -> tuple[Bar, ...]:
    """An empty bar for all shots, and the part of it that was inside."""
    part = share.count / share.n if share.n else 0.0
    whole = Bar(0.0, top, 1.0, top + _BAR_PX, None)
    return (whole, Bar(0.0, top, part, top + _BAR_PX, look)) if part else (whole,)
