"""The site of the cases: past lessons without names, by agreement."""

from collections.abc import Sequence

from recapgen.model.case import Case
from recapgen.model.evidence import Kept, Retention
from recapgen.model.page import Asset, Page, Site, SiteKind
from recapgen.model.people import Coach
from recapgen.model.public import CASES, FRONT_PAGE, public_address
from recapgen.render.coach_mark import mark_assets
from recapgen.render.environment import fill
from recapgen.render.film_view import anchors, film_assets, film_view
from recapgen.render.number_view import number_view
from recapgen.render.reader import Reader
from recapgen.tools.cache import Cache
from recapgen.words.amounts import month
from recapgen.words.catalogue import Words


def cases_site(
    cases: Sequence[Case], coach: Coach, words: Words, kept: Cache | None = None
) -> Site:
    """An index and a page for each case; the files of films only where clips were agreed.

    ``kept`` is where finished drawings are kept between builds.
    """
    title = words.say("page.cases.title", coach=coach.name)
    index = fill(
        "cases.html.jinja",
        words,
        coach=coach,
        cases=[(case.page, case.title, month(case.month, words)) for case in cases],
        other_pages=[],
    )
    films: dict[str, Asset] = {
        asset.path: asset for case in cases for asset in film_assets(case.films)
    }
    return Site(
        kind=SiteKind.CASES,
        name=title,
        language=words.language,
        pages=(
            Page(FRONT_PAGE, title, index, line=words.say("page.preview.cases")),
            *(_case_page(case, coach, words, kept) for case in cases),
        ),
        assets=(*films.values(), *mark_assets(coach)),
        accent=coach.accent,
        address=public_address(coach.address, CASES) if coach.address else None,
    )


def _case_page(case: Case, coach: Coach, words: Words, kept: Cache | None) -> Page:
    reader = Reader(case.units, case.hand, words, coach, kept=kept)
    about = [
        month(case.month, words),
        *([reader.club(case.club)] if case.club else []),
        *([words.say(f"page.case.{case.hand}")] if case.hand else []),
    ]
    return Page(
        path=case.page,
        title=case.title,
        line=words.say("page.preview.case"),
        body=fill(
            "case.html.jinja",
            words,
            coach=coach,
            case=case,
            about=about,
            story=[part.strip() for part in (case.story or "").split("\n\n") if part.strip()],
            number=number_view(case.comparison, reader, "shots", anchors(case.films))
            if case.comparison
            else None,
            films=[film_view(film, words) for film in case.films],
            stuck=what_stuck(case.retention, reader) if case.retention else (),
            other_pages=[(FRONT_PAGE, words.say("page.cases.all"))],
        ),
    )


def what_stuck(retention: Retention, reader: Reader) -> tuple[str, ...]:
    """What was still there at the next lesson, without its day."""
    if retention.kept is Kept.NO_GAIN:
        return ()
    quantity = retention.quantity
    told = reader.words.say(
        "page.case.kept" if retention.still_there > 0 else "page.case.kept-nothing",
        gained=reader.size(quantity, retention.gained),
        still=reader.size(quantity, retention.still_there),
    )
    return (told, *reader.retention(retention)[1:])
