"""Lesson beside lesson: the shots of all lessons with the same number and club on one scale."""

from collections.abc import Iterable, Sequence
from itertools import combinations, pairwise

from markupsafe import Markup
from msgspec import Struct

from recapgen.model.page import Page
from recapgen.model.recap import Recap
from recapgen.render.charts.drawing import draw
from recapgen.render.charts.strip import lessons_together
from recapgen.render.environment import fill
from recapgen.render.home_page import same_number
from recapgen.render.reader import Reader
from recapgen.words.amounts import day, quantity_name

_DRAWN = 8  # lessons, the newest, as a sheet has room for; the table has them all
_ALL_PAIRS = 4  # lessons; of more only neighbours are told, and the first beside the last


class LessonRow(Struct, frozen=True):
    when: str
    page: str
    shots: str
    then: str
    now: str


class Together(Struct, frozen=True):
    """One number with one club: its picture, what any two lessons tell, and the figures.

    ``newest`` says that not all lessons are drawn, or is empty.
    """

    name: str
    newest: str
    chart: Markup | None
    told: tuple[str, ...]
    rows: tuple[LessonRow, ...]


def compare_page(
    recaps: Sequence[Recap], reader: Reader, other_pages: Sequence[tuple[str, str]]
) -> Page | None:
    """None where no two lessons have a number and a club in common.

    ``other_pages`` are (path, title) of what the foot links.
    """
    groups = same_number(recaps)
    if not groups:
        return None
    words = reader.words
    return Page(
        path="compare.html",
        title=words.say("page.compare.title", coach=reader.coach.name),
        body=fill(
            "compare.html.jinja",
            words,
            coach=reader.coach,
            groups=[_together(group, f"together-{n}", reader) for n, group in enumerate(groups, 1)],
            other_pages=other_pages,
        ),
    )


def _together(group: Sequence[Recap], uid: str, reader: Reader) -> Together:
    words, drawn = reader.words, group[-_DRAWN:]
    told = [
        (day(r.on, words), r.number.comparison) for r in drawn if r.number.comparison is not None
    ]
    quantity = told[-1][1].quantity
    name = quantity_name(quantity, words)
    picture = None if quantity.is_outcome else lessons_together(told, reader)
    sentences = tuple(_pairs(group, reader))
    title = words.say("page.compare.chart", quantity=name)
    club = group[-1].notes.club
    return Together(
        name=words.say("page.number.with-club", quantity=name, club=reader.club(club))
        if club
        else name,
        newest=words.say("page.compare.newest", newest=len(drawn), lessons=len(group))
        if len(drawn) < len(group)
        else "",
        chart=Markup(  # noqa: S704 (drawn here)
            draw(picture, uid, title, words.together(sentences), reader.kept)
        )
        if picture
        else None,
        told=sentences,
        rows=tuple(_row(recap, reader) for recap in group),
    )


def _pairs(group: Sequence[Recap], reader: Reader) -> Iterable[str]:
    """A sentence for any two lessons: where each ended, and how far apart. No verdict."""
    few = len(group) <= _ALL_PAIRS
    newest = group[-_DRAWN:]
    pairs = combinations(group, 2) if few else (*pairwise(newest), (group[0], group[-1]))
    for one, other in pairs:
        if one.number.comparison is None or other.number.comparison is None:
            continue
        quantity = one.number.comparison.quantity
        samples = one.number.comparison.after, other.number.comparison.after
        ends = [sample.median for sample in samples]
        if ends[0] is not None and ends[1] is not None:
            yield reader.words.say(
                "page.compare.pair",
                first=day(one.on, reader.words),
                second=day(other.on, reader.words),
                one=reader.middle(quantity, samples[0]),
                other=reader.middle(quantity, samples[1]),
                apart=reader.size(quantity, ends[1] - ends[0]),
            )


def _row(recap: Recap, reader: Reader) -> LessonRow:
    comparison = recap.number.comparison
    samples = (comparison.before, comparison.after) if comparison else ()
    then, now = (reader.middle(comparison.quantity, s) if comparison else "–" for s in samples)
    shots = reader.words.figure(sum(s.n for s in samples))
    return LessonRow(day(recap.on, reader.words), recap.page, shots, then, now)
