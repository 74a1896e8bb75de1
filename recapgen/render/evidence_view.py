"""The pictures that stand folded: shares inside the window, where balls finished, the order."""

from markupsafe import Markup
from msgspec import Struct

from recapgen.model.evidence import Comparison, Share
from recapgen.model.recap import Recap
from recapgen.render.charts.chart_parts import Picture
from recapgen.render.charts.dispersion_chart import (
    dispersion_rows,
    dispersion_sentence,
    where_they_finished,
)
from recapgen.render.charts.drawing import draw
from recapgen.render.charts.flight_chart import flight_rows, flight_sentence, seen_from_the_side
from recapgen.render.charts.lesson_strip import in_order_of_time, order_sentence
from recapgen.render.charts.share_bars import inside_then_and_now, share_sentence
from recapgen.render.film_view import anchors
from recapgen.render.reader import Reader
from recapgen.words.amounts import quantity_name


class Figure(Struct, frozen=True):
    """A picture, what it shows and how to read it, and a table where it needs its own."""

    chart: Markup
    caption: str
    headings: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()


class EvidenceView(Struct, frozen=True):
    """Each None where the lesson has nothing of the kind."""

    inside: Figure | None
    dispersion: Figure | None
    order: Figure | None


def flight_view(recap: Recap, reader: Reader) -> Figure | None:
    """The middle shots' flights from the side; None where no launch was read."""
    if recap.evidence.flights is None:
        return None
    words = reader.words
    sentence = flight_sentence(recap.evidence.flights, reader)
    return Figure(
        _drawn(
            seen_from_the_side(recap.evidence.flights, reader),
            "flight",
            words.say("flight.title"),
            sentence,
            reader,
        ),
        words.together((sentence, words.say("flight.key"))),
        (
            words.say("page.table.block"),
            *(words.say(f"flight.table.{name}") for name in ("apex", "at", "carry")),
        ),
        flight_rows(recap.evidence.flights, reader),
    )


def evidence_view(recap: Recap, reader: Reader) -> EvidenceView | None:
    """None where the lesson has no number to speak of."""
    comparison = recap.number.comparison
    if comparison is None:
        return None
    return EvidenceView(
        inside=_inside(comparison, reader),
        dispersion=_dispersion(comparison, recap, reader),
        order=_order(comparison, recap, reader),
    )


def _inside(comparison: Comparison, reader: Reader) -> Figure | None:
    inside, words = comparison.inside, reader.words
    if inside is None or comparison.quantity.is_outcome:  # which has it above, with the number
        return None

    def row(name: str, share: Share) -> tuple[str, ...]:
        return words.say(f"page.{name}"), str(share.count), str(share.n)

    return Figure(
        _drawn(inside_then_and_now(inside, reader), "inside", words.say("chart.share.title"),
               share_sentence(inside, reader), reader),
        share_sentence(inside, reader),
        tuple(words.say(f"page.table.{name}") for name in ("block", "inside", "balls")),
        (row("before", inside.before), row("after", inside.after)),
    )  # fmt: skip


def _dispersion(comparison: Comparison, recap: Recap, reader: Reader) -> Figure | None:
    picture = where_they_finished(comparison, recap.evidence.shots, reader, anchors(recap.films))
    if picture is None or comparison.dispersion is None:
        return None
    words = reader.words
    sentence = dispersion_sentence(comparison.dispersion, reader)
    quantities, rows = dispersion_rows(comparison.dispersion, recap.evidence.shots, reader)
    return Figure(
        _drawn(picture, "finish", words.say("chart.finish.title"), sentence, reader),
        words.together((sentence, words.say("page.finish.key"))),
        (
            words.say("page.table.shot"),
            words.say("page.table.block"),
            *(quantity_name(quantity, words) for quantity in quantities),
        ),
        rows,
    )


def _order(comparison: Comparison, recap: Recap, reader: Reader) -> Figure | None:
    if comparison.quantity.is_outcome:
        return None
    picture = in_order_of_time(comparison, recap.evidence.shots, reader, anchors(recap.films))
    if picture is None:
        return None
    words = reader.words
    name = quantity_name(comparison.quantity, words)
    sentence = order_sentence(recap.notes, recap.evidence.shots, words)
    return Figure(
        _drawn(picture, "order", words.say("chart.order.title", quantity=name), sentence, reader),
        words.together((sentence, words.say("page.order.key"))),
    )


def _drawn(picture: Picture, uid: str, title: str, sentence: str, reader: Reader) -> Markup:
    return Markup(draw(picture, uid, title, sentence, reader.kept))  # noqa: S704 (drawn here)
