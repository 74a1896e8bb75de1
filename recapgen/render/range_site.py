"""The page on which a coach notes a lesson on a phone, without a network."""

from collections.abc import Iterator

from recapgen.model.page import Page, Site, SiteKind
from recapgen.model.people import Coach
from recapgen.model.public import RANGE_PAGE
from recapgen.model.shots import Block
from recapgen.render.coach_mark import mark_assets
from recapgen.render.environment import fill
from recapgen.render.numbers_to_choose import numbers_to_choose
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
        groups=tuple(numbers_to_choose(coach.units, words)),
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


def _sentences(words: Words) -> Iterator[tuple[str, str]]:
    """What the script says, with its places left open: "%what"."""
    places = {place: f"%{place}" for place in _PLACES}
    for name in _TOLD:
        yield name, words.say(f"range.{name}", **places)
