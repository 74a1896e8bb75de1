"""The site of the cases: past lessons without names, by agreement."""

from collections.abc import Sequence

from msgspec import Struct

from recapgen.model.case import Case, IntentTotals
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
from recapgen.words.catalogue import Words, key_of
from recapgen.words.club_names import club_name


class ListedCase(Struct, frozen=True):
    """A line of the index; ``kinds`` are what it can be found by, ``about`` the same in words."""

    path: str
    title: str
    about: tuple[str, ...]
    kinds: tuple[tuple[str, str], ...]


class FoundBy(Struct, frozen=True):
    """What a reader can choose of one kind: values with the words that are shown."""

    kind: str
    options: tuple[tuple[str, str], ...]


class TotalsLine(Struct, frozen=True):
    intent: str
    over: str
    ended: tuple[str, ...]


def cases_site(
    cases: Sequence[Case],
    coach: Coach,
    words: Words,
    kept: Cache | None = None,
    *,
    totals: Sequence[IntentTotals] = (),
) -> Site:
    """An index and a page for each case; the files of films only where clips were agreed.

    ``kept`` is where finished drawings are kept between builds. ``totals`` stand on the index.
    """
    title = words.say("page.cases.title", coach=coach.name)
    index = fill(
        "cases.html.jinja",
        words,
        coach=coach,
        cases=[_listed(case, words) for case in cases],
        choices=_choices(cases, words),
        totals=[_totals_line(each, words) for each in totals],
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


def _listed(case: Case, words: Words) -> ListedCase:
    kinds = _kinds(case, words)
    return ListedCase(
        path=case.page,
        title=case.title,
        about=(*(shown for _, _, shown in kinds), month(case.month, words)),
        kinds=tuple((kind, value) for kind, value, _ in kinds),
    )


def _kinds(case: Case, words: Words) -> tuple[tuple[str, str, str], ...]:
    """What a case can be found by: the kind, its value, and the value in words."""
    found: list[tuple[str, str, str]] = []
    if case.miss:
        found.append(("miss", case.miss, case.miss))
    if case.club:
        found.append(("club", case.club, club_name(case.club, words)))
    if case.age_band:
        found.append(("age", case.age_band, words.say(f"page.cases.age.{case.age_band}")))
    if case.hand:
        found.append(("hand", case.hand, words.say(f"page.case.{case.hand}")))
    return tuple(found)


def _choices(cases: Sequence[Case], words: Words) -> tuple[FoundBy, ...]:
    """Only kinds in which the cases differ: one alone is nothing to choose from."""
    found: dict[str, dict[str, str]] = {kind: {} for kind in ("miss", "club", "age", "hand")}
    for case in cases:
        for kind, value, shown in _kinds(case, words):
            found[kind][value] = shown
    return tuple(
        FoundBy(kind, tuple(sorted(options.items(), key=lambda one: one[1].casefold())))
        for kind, options in found.items()
        if len(options) > 1
    )


def _totals_line(each: IntentTotals, words: Words) -> TotalsLine:
    counted = [(words.say(f"evidence.name.{key_of(v)}"), n) for v, n in each.verdicts]
    apart = {"afterwards": each.afterwards, "hidden": each.hidden, "unnumbered": each.unnumbered}
    counted += [(words.say(f"page.cases.totals.{name}"), n) for name, n in apart.items() if n]
    return TotalsLine(
        intent=each.intent,
        over=words.listed(
            (
                words.count("page.cases.lessons", each.lessons),
                words.count("page.cases.students", each.students),
            )
        ),
        ended=tuple(words.say("page.cases.totals.count", what=what, n=n) for what, n in counted),
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
