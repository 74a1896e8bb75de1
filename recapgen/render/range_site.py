"""The page on which a coach notes a lesson on a phone, without a network."""

from collections.abc import Iterator
from dataclasses import dataclass

from recapgen.model.page import Page, Site, SiteKind
from recapgen.model.people import Coach
from recapgen.model.public import RANGE_PAGE
from recapgen.model.quantity import Quantity, Sides
from recapgen.model.shots import Block
from recapgen.model.units import Units, unit_of
from recapgen.render.coach_mark import mark_assets
from recapgen.render.environment import fill
from recapgen.words.amounts import quantity_name
from recapgen.words.catalogue import Words

_TOLD = (
    "aim", "by-hand", "copied", "did", "goal-missing", "noted", "noted-late", "pause",
    "pause.back", "pause.reason", "press.back", "press.ball", "press.end", "press.filmed",
    "press.intent", "press.mishit", "press.number", "press.pause", "press.start", "saved",
    "state.ended", "state.going", "state.sent", "sure", "sure.unsent", "take-out",
    "take-out.which", "tally", "tally.in", "tally.none", "undo", "undo.none", "undone",
    "way.higher", "way.left", "way.lower", "way.right", "way.window", "way.zero",
)  # fmt: skip
_PLACES = ("at", "block", "hits", "n", "what")
_ASIDE = ("right", "left", "zero", "window")
_UPWARDS = ("higher", "lower", "window")


@dataclass(frozen=True, slots=True)
class NumberToChoose:
    """``key`` is what notes.md calls it, ``unit`` what amounts of it are written in there.

    ``ways`` are the goals it can have.
    """

    key: str
    name: str
    unit: str
    ways: tuple[str, ...]
    by_hand: bool
    is_outcome: bool


def range_site(coach: Coach, words: Words) -> Site:
    """The one page and what keeps it on a phone; the coach is the only person named on it."""
    title = words.say("range.title")
    intents = dict.fromkeys(said for name, all_of in coach.intents for said in all_of or (name,))
    body = fill(
        "range.html.jinja",
        words,
        coach=coach,
        intents=tuple(intents),
        blocks=[block.value for block in Block],
        groups=tuple(_groups(coach.units, words)),
        told=tuple(_sentences(words)),
        other_pages=(),
    )
    return Site(
        kind=SiteKind.RANGE,
        name=title,
        language=words.language,
        pages=(Page(RANGE_PAGE, title, body),),
        assets=mark_assets(coach),
        accent=coach.accent,
    )


def _groups(units: Units, words: Words) -> Iterator[tuple[str, list[NumberToChoose]]]:
    for by_hand, key in ((True, "by-hand"), (False, "measured")):
        quantities = (quantity for quantity in Quantity if quantity.by_eye is by_hand)
        yield (
            words.say(f"range.number.{key}"),
            [_number(each, units, words) for each in quantities],
        )


def _number(quantity: Quantity, units: Units, words: Words) -> NumberToChoose:
    return NumberToChoose(
        key=quantity.value,
        name=quantity_name(quantity, words),
        unit="" if quantity.is_outcome else unit_of(quantity, units)[0],
        ways=_ways(quantity),
        by_hand=quantity.by_eye,
        is_outcome=quantity.is_outcome,
    )


def _ways(quantity: Quantity) -> tuple[str, ...]:
    """A ball that is in or out can only be wanted in."""
    if quantity.is_outcome:
        return ()
    if quantity.sideways:
        return _ASIDE
    return (*_UPWARDS, "zero") if quantity.sides is Sides.SHORT_LONG else _UPWARDS


def _sentences(words: Words) -> Iterator[tuple[str, str]]:
    """What the script says, with its places left open: "%what"."""
    places = {place: f"%{place}" for place in _PLACES}
    for name in _TOLD:
        yield name, words.say(f"range.{name}", **places)
