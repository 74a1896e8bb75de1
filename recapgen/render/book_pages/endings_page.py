"""The book by miss, by intent and by club: how all such lessons ended."""

from collections.abc import Iterator, Mapping

from msgspec import Struct

from recapgen.model.book import Endings, EndingsOfAll
from recapgen.model.evidence import Verdict
from recapgen.render.book_pages.lessons import LessonLine, facts_of_line
from recapgen.render.book_pages.number_facts import tell_in_book
from recapgen.words.catalogue import Words
from recapgen.words.club_names import club_name

ENDINGS_PAGE = "endings.html"
_LISTED = 20


class EndedLine(Struct, frozen=True):
    """One lesson: where it stands in the book, and in short what came of it."""

    page: str
    line: LessonLine


class EndingsRow(Struct, frozen=True):
    """``more`` says how many lessons are not among ``lessons``, or is empty."""

    name: str
    tried: str
    ended: tuple[str, ...]
    kept: tuple[str, ...]
    lessons: tuple[EndedLine, ...]
    more: str


class EndingsTable(Struct, frozen=True):
    """``kind`` is miss, intent or club, and names its words."""

    kind: str
    rows: tuple[EndingsRow, ...]


Lines = Mapping[tuple[str, str], EndedLine]
"""The line of each lesson, by the student's folder and the name of the lesson's page."""


def told_of(told: EndingsOfAll, lines: Lines) -> str:
    """All that the page is made of."""
    kinds = (told.misses, told.intents, told.clubs)
    return repr([[_facts(each, lines) for each in kind] for kind in kinds])


def _facts(each: Endings, lines: Lines) -> tuple[object, ...]:
    listed = [lines[place.student, place.page] for place in each.places[:_LISTED]]
    shown = [(one.page, facts_of_line(one.line)) for one in listed]
    apart = (each.afterwards, each.hidden, each.unnumbered)
    return each.name, each.lessons, each.students, each.verdicts, apart, each.kept, shown


def endings_tables(told: EndingsOfAll, lines: Lines, words: Words) -> tuple[EndingsTable, ...]:
    """By miss, by intent and by club."""
    clubs = {each.name: club_name(each.name, words) for each in told.clubs}
    return (
        EndingsTable("miss", tuple(_row(each, each.name, lines, words) for each in told.misses)),
        EndingsTable("intent", tuple(_row(each, each.name, lines, words) for each in told.intents)),
        EndingsTable(
            "club", tuple(_row(each, clubs[each.name], lines, words) for each in told.clubs)
        ),
    )


def _row(each: Endings, name: str, lines: Lines, words: Words) -> EndingsRow:
    listed = tuple(lines[place.student, place.page] for place in each.places[:_LISTED])
    more = len(each.places) - len(listed)
    return EndingsRow(
        name=name,
        tried=words.say(
            "book.ledger.tried",
            lessons=words.count("book.counts.lessons", each.lessons),
            students=words.count("book.counts.students", each.students),
        ),
        ended=tuple(_ended(each, words)),
        kept=tuple(
            words.say("book.ledger.count", what=tell_in_book("kept", kept, words), n=n)
            for kept, n in each.kept
        ),
        lessons=listed,
        more=words.count("book.endings.more", more) if more else "",
    )


def _ended(each: Endings, words: Words) -> Iterator[str]:
    """All of them, the best and the worst, adding up to the lessons."""
    counts = dict(each.verdicts)
    for verdict in Verdict:
        if verdict in counts:
            what = tell_in_book("verdict", verdict, words)
            yield words.say("book.ledger.count", what=what, n=counts[verdict])
    apart = (("afterwards", each.afterwards), ("hidden", each.hidden), ("none", each.unnumbered))
    for name, n in apart:
        if n:
            yield words.say("book.ledger.count", what=words.say(f"book.endings.{name}"), n=n)
