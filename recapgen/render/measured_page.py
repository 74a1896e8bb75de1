"""How this was measured: plain words, and only for what this student sees."""

from collections.abc import Sequence

from msgspec import Struct

from recapgen.model.evidence import Verdict
from recapgen.model.page import Page
from recapgen.model.quantity import Quantity
from recapgen.model.recap import Recap
from recapgen.render.environment import fill
from recapgen.render.reader import Reader
from recapgen.render.shots_view import columns_shown
from recapgen.words.amounts import quantity_also, quantity_meaning, quantity_name
from recapgen.words.catalogue import key_of
from recapgen.words.verdict_sentences import tell_phrase

MEASURED_PAGE = "measured.html"


class Explained(Struct, frozen=True):
    name: str
    meaning: str


def measured_page(
    recaps: tuple[Recap, ...], reader: Reader, other_pages: Sequence[tuple[str, str]]
) -> Page | None:
    """None where no lesson shows a number or a shot.

    ``other_pages`` are (path, title) of what the foot links.
    """
    words = reader.words
    seen = quantities_seen(recaps)
    if not seen:
        return None
    return Page(
        path=MEASURED_PAGE,
        title=words.say("page.measured.title", coach=reader.coach.name),
        body=fill(
            "measured.html.jinja",
            words,
            coach=reader.coach,
            glossary=[Explained(quantity_name(q, words), _meaning(q, reader)) for q in seen],
            verdicts=_verdicts(recaps, reader),
            stuck=any(recap.number.retention is not None for recap in recaps),
            filmed=any(recap.films for recap in recaps),
            other_pages=other_pages,
        ),
    )


def _meaning(quantity: Quantity, reader: Reader) -> str:
    """What it is, and what else moves it."""
    words = reader.words
    return words.together((quantity_meaning(quantity, words), quantity_also(quantity, words)))


def quantities_seen(recaps: tuple[Recap, ...]) -> tuple[Quantity, ...]:
    """Every quantity that one of the pages names, in the order of the ball's story."""
    seen: set[Quantity] = set()
    for recap in recaps:
        seen.update(columns_shown(recap))
        seen.update(other.quantity for other in recap.evidence.others)
        if recap.number.comparison is not None:
            seen.add(recap.number.comparison.quantity)
            seen.update(result.guard.quantity for result in recap.number.comparison.guards)
    return tuple(quantity for quantity in Quantity if quantity in seen)


def _verdicts(recaps: tuple[Recap, ...], reader: Reader) -> list[Explained]:
    """The five phrases and what each asks for, where a number was declared at all."""
    if not any(recap.number.comparison for recap in recaps):
        return []
    words = reader.words
    return [
        Explained(tell_phrase(verdict, words), words.say(f"page.measured.rule.{key_of(verdict)}"))
        for verdict in Verdict
    ]
