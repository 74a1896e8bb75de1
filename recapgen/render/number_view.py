"""The declared number on the page: then and now, in words, drawn and as a table."""

from collections.abc import Mapping

from markupsafe import Markup
from msgspec import Struct

from recapgen.model.evidence import Comparison, Sample
from recapgen.model.quantity import Quantity
from recapgen.render.charts.chart_parts import Picture
from recapgen.render.charts.drawing import draw
from recapgen.render.charts.share_bars import inside_then_and_now, share_sentence
from recapgen.render.charts.strip import NO_TAGS, then_and_now
from recapgen.render.reader import Reader
from recapgen.words.amounts import (
    LargeAmount,
    hand_word,
    middle_told,
    quantity_meaning,
    quantity_name,
)
from recapgen.words.verdict_sentences import VerdictText, tell_comparison, tell_phrase


class ShotLine(Struct, frozen=True):
    shot: int
    when: str
    reading: str
    mishit: bool


class NumberLine(Struct, frozen=True):
    name: str
    then: LargeAmount | None
    now: LargeAmount | None
    goal: str
    phrase: str


class NumberView(Struct, frozen=True):
    name: str
    meaning: str
    then: LargeAmount | None
    now: LargeAmount | None
    goal: str
    told: VerdictText
    verdict: str
    chart: Markup | None
    chart_sentence: str
    lines: tuple[ShotLine, ...]
    of_outcomes: bool


def number_view(
    comparison: Comparison,
    reader: Reader,
    uid: str,
    filmed: Mapping[int, str],
    tags: Mapping[int, str] = NO_TAGS,
) -> NumberView:
    """``uid`` is unique on the page; the chart's ids start with it.

    ``filmed`` maps the number of a shot to the anchor of the film that shows it, ``tags`` that
    of a mishit to the coach's word for it.
    """
    words = reader.words
    quantity = comparison.quantity
    name = quantity_name(quantity, words)
    sentence = _chart_sentence(comparison, reader)
    picture = _picture(comparison, reader, filmed, tags)
    title = words.say(f"chart.{'outcome' if quantity.is_outcome else 'strip'}.title", quantity=name)
    told = tell_comparison(comparison, reader.units, reader.hand, words)
    return NumberView(
        name=name,
        meaning=_meaning(quantity, reader),
        then=_shown(comparison.before, quantity, reader),
        now=_shown(comparison.after, quantity, reader),
        goal=told.goal,
        told=told,
        verdict=words.together(told.sentences),
        chart=Markup(draw(picture, uid, title, sentence, reader.kept))  # noqa: S704 (drawn here)
        if picture
        else None,
        chart_sentence=sentence,
        lines=() if quantity.is_outcome else _lines(comparison, reader),
        of_outcomes=quantity.is_outcome,
    )


def number_line(comparison: Comparison, reader: Reader) -> NumberLine:
    """The number in short, for the front page."""
    quantity = comparison.quantity
    return NumberLine(
        name=quantity_name(quantity, reader.words),
        then=_shown(comparison.before, quantity, reader),
        now=_shown(comparison.after, quantity, reader),
        goal=reader.goal(comparison),
        phrase=tell_phrase(comparison.verdict, reader.words),
    )


def _meaning(quantity: Quantity, reader: Reader) -> str:
    """What it is, and what the trade calls its sides for this student's hand."""
    words = reader.words
    meaning = quantity_meaning(quantity, words)
    plus, minus = (hand_word(quantity, side, reader.hand, words) for side in (1, -1))
    if plus is None or minus is None:
        return meaning
    told = words.say(f"page.number.hand.{reader.hand}", plus=plus, minus=minus)
    return words.together((meaning, told))


def _shown(sample: Sample, quantity: Quantity, reader: Reader) -> LargeAmount | None:
    return middle_told(quantity, sample, reader.units, reader.hand, reader.words)


def _picture(
    comparison: Comparison, reader: Reader, filmed: Mapping[int, str], tags: Mapping[int, str]
) -> Picture | None:
    """Every shot on one scale; of balls that are in or out, how many were in."""
    if comparison.quantity.is_outcome:
        inside = comparison.inside
        return None if inside is None else inside_then_and_now(inside, reader)
    return then_and_now(comparison, reader, filmed, tags)


def _chart_sentence(comparison: Comparison, reader: Reader) -> str:
    """The picture's text alternative, for a reader who cannot see it."""
    words = reader.words
    if comparison.quantity.is_outcome and comparison.inside is not None:
        shares = share_sentence(comparison.inside, reader, "outcome")
        return words.together((words.say("want.told", goal=reader.goal(comparison)), shares))
    rows = (
        (words.say("chart.strip.before"), comparison.before),
        (words.say("chart.strip.after"), comparison.after),
    )
    told = (_row_sentence(when, s, comparison.quantity, reader) for when, s in rows)
    return words.together((words.say("want.told", goal=reader.goal(comparison)), *told))


def _row_sentence(when: str, sample: Sample, quantity: Quantity, reader: Reader) -> str:
    words = reader.words
    if sample.median is None:
        return words.say("chart.row-none", when=when)
    sentence = words.count(
        "chart.row",
        sample.n,
        when=when,
        low=reader.amount(quantity, min(sample.values)),
        high=reader.amount(quantity, max(sample.values)),
        middle=reader.middle(quantity, sample),
    )
    mishits = sum(sample.mishit)
    if not mishits:
        return sentence
    return words.together((sentence, words.count("chart.row-mishits", mishits)))


def _lines(comparison: Comparison, reader: Reader) -> tuple[ShotLine, ...]:
    words = reader.words
    return tuple(
        ShotLine(number, when, reader.amount(comparison.quantity, value), mishit)
        for when, sample in (
            (words.say("page.before"), comparison.before),
            (words.say("page.after"), comparison.after),
        )
        for number, value, mishit in zip(sample.numbers, sample.values, sample.mishit, strict=True)
    )
