"""The coach's own card: the front page of site/, where no student is listed."""

from recapgen.model.page import Page, Site, SiteKind
from recapgen.model.people import Coach
from recapgen.model.public import CASES, FRONT_PAGE, public_path
from recapgen.render.coach_mark import mark_assets
from recapgen.render.environment import fill
from recapgen.words.catalogue import Words
from recapgen.words.verify_sentences import key_in_groups


def card_site(
    coach: Coach, words: Words, *, with_cases: bool = False, signed_by: str | None = None
) -> Site:
    """``with_cases``: there are past lessons in cases/ to be linked.

    ``signed_by`` is the key that tells whether pages are the coach's.
    """
    title = words.say("page.coach.title", coach=coach.name)
    links = [(public_path(CASES, FRONT_PAGE), words.say("page.cases.index"))] if with_cases else []
    line = words.say("page.preview.card", coach=coach.name)
    key = None if signed_by is None else key_in_groups(signed_by)
    body = fill("coach_card.html.jinja", words, coach=coach, other_pages=links, key=key)
    return Site(
        kind=SiteKind.CARD,
        name=title,
        language=words.language,
        pages=(Page(FRONT_PAGE, title, body, line=line),),
        assets=mark_assets(coach),
        accent=coach.accent,
        address=f"{coach.address}/" if coach.address else None,
    )
