"""For somebody who asks: past lessons nearest to the one who asks, and what to send or to ask."""

import json
from collections.abc import Iterator, Mapping, Sequence
from operator import attrgetter

from msgspec import Struct
from msgspec.structs import fields

from recapgen.model.book import Example, Standing
from recapgen.model.people import Coach
from recapgen.render.book_pages.endings_page import EndedLine
from recapgen.render.book_pages.lessons import facts_of_line
from recapgen.render.book_pages.message import Message, message_of_case, question
from recapgen.words import catalogue
from recapgen.words.amounts import day
from recapgen.words.catalogue import Words
from recapgen.words.club_names import club_name

ASKED_PAGE = "asked.html"
_facts_of = attrgetter(*(each.name for each in fields(Example)))
_WHY = ("miss", "club", "kind", "age", "hand", "nothing", "none")


class AskedLine(Struct, frozen=True):
    """One past lesson; ``about`` is what it is like, ``send`` what to send or to ask."""

    example: Example
    page: str
    anchor: str
    title: str
    day: str
    about: tuple[str, ...]
    ended: str
    send: Message | None


class AskedGroup(Struct, frozen=True):
    standing: Standing
    lines: tuple[AskedLine, ...]


class Choice(Struct, frozen=True):
    """What can be chosen of one kind: values with the words that are shown."""

    kind: str
    options: tuple[tuple[str, str], ...]


def told_of_examples(
    examples: Sequence[Example], lines: Mapping[tuple[str, str], EndedLine], coach: Coach
) -> str:
    """All that the page is made of."""
    found = [(each, lines[each.place.student, each.place.page]) for each in examples]
    told = [(_facts_of(each), at.page, facts_of_line(at.line)) for each, at in found]
    return repr((coach.address, coach.language, coach.name, told))


def asked_groups(
    examples: Sequence[Example],
    lines: Mapping[tuple[str, str], EndedLine],
    coach: Coach,
    words: Words,
) -> tuple[AskedGroup, ...]:
    """Those with consent first; a group that has none is left out."""
    groups = (
        AskedGroup(
            standing,
            tuple(
                _line(each, lines[each.place.student, each.place.page], coach, words)
                for each in examples
                if each.standing is standing
            ),
        )
        for standing in Standing
    )
    return tuple(group for group in groups if group.lines)


def choices(examples: Sequence[Example], words: Words) -> tuple[Choice, ...]:
    """By which lessons can be found: only what some lesson has."""
    misses = {each.miss: each.miss for each in examples if each.miss}
    clubs = {each.club: club_name(each.club, words) for each in examples if each.club}
    ages = {age: words.say(f"book.asked.age.{age}") for each in examples if (age := each.age_band)}
    hands = {hand: words.say(f"book.asked.hand.{hand}") for each in examples if (hand := each.hand)}
    return tuple(
        Choice(kind, tuple(sorted(found.items(), key=lambda one: one[1].casefold())))
        for kind, found in (("miss", misses), ("club", clubs), ("age", ages), ("hand", hands))
        if found
    )


def why_words(words: Words) -> str:
    """What the page's script says of a lesson that is near, as JSON."""
    told = {kind: words.say(f"book.asked.why.{kind}") for kind in _WHY}
    return json.dumps({**told, "near": words.say("book.asked.why.near", n="%s")})


def _line(each: Example, told: EndedLine, coach: Coach, words: Words) -> AskedLine:
    return AskedLine(
        example=each,
        page=told.page,
        anchor=told.line.anchor,
        title=each.title or told.line.intent,
        day=told.line.day,
        about=tuple(_about(each, words)),
        ended=told.line.verdict,
        send=_send(each, coach, words),
    )


def _about(each: Example, words: Words) -> Iterator[str]:
    if each.miss:
        yield each.miss
    if each.club:
        yield club_name(each.club, words)
    if each.age_band:
        yield words.say(f"book.asked.age.{each.age_band}")
    if each.hand:
        yield words.say(f"book.asked.hand.{each.hand}")


def _send(each: Example, coach: Coach, book: Words) -> Message | None:
    """The case's link with a text to the one who asks, or the question to the student."""
    if each.standing is Standing.UNTOLD:
        return None
    if each.case is not None:
        return message_of_case(coach, each.case, book.say("book.asked.send"))
    words = catalogue.words(each.language or coach.language)
    on = day(each.on, words)
    key = "page.ask.guardian" if each.guardian else "page.ask.case"
    text = words.say(key, name=each.name, guardian=each.guardian or "", day=on, coach=coach.name)
    heading = book.say("book.asked.question")
    return question(words.say("page.ask.subject"), text, words.language, heading)
