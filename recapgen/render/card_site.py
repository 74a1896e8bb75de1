"""The coach's own card: the front page of site/, where no student is listed."""

from recapgen.model.page import Page, Site, SiteKind
from recapgen.model.people import Coach
from recapgen.render.environment import fill
from recapgen.words.catalogue import Words


def card_site(coach: Coach, words: Words) -> Site:
    title = words.say("page.coach.title", coach=coach.name)
    body = fill("coach_card.html.jinja", words, coach=coach, other_pages=[])
    return Site(
        kind=SiteKind.CARD,
        name=title,
        language=words.language,
        pages=(Page("index.html", title, body),),
        assets=(),
        accent=coach.accent,
    )
