"""What the book says of a lesson's number: its goal, both blocks, the change, the verdict."""

from collections.abc import Iterator
from enum import Enum

from msgspec import Struct

from recapgen.model.evidence import Comparison, DriftFinding, Sample, ShareChange
from recapgen.model.lesson import Direction, GuardKind, Want
from recapgen.model.quantity import Quantity
from recapgen.render.reader import Reader
from recapgen.words.amounts import quantity_name, span
from recapgen.words.catalogue import Words, key_of
from recapgen.words.how_sure import tell_declared


class BookFact(Struct, frozen=True):
    name: str
    told: tuple[str, ...]


def tell_in_book(kind: str, phrase: Enum, words: Words) -> str:
    """A verdict or a finding in the language of the book."""
    return words.say(f"book.{kind}.{key_of(phrase)}")


def number_facts(compared: Comparison, reader: Reader) -> Iterator[BookFact]:
    """The facts of one comparison, each with its name, in the order in which a coach asks."""
    words, quantity = reader.words, compared.quantity
    say = words.say
    yield BookFact(say("book.lesson.number"), (quantity_name(quantity, words),))
    yield BookFact(say("book.lesson.want"), (_want(quantity, compared.want, reader),))
    worth = reader.size(quantity, compared.smallest_change)
    smallest_change = say(f"book.matters.{compared.smallest_change_from}", size=worth)
    yield BookFact(say("book.lesson.matters"), (smallest_change,))
    yield BookFact(say("book.lesson.before"), (_block(quantity, compared.before, reader),))
    yield BookFact(say("book.lesson.after"), (_block(quantity, compared.after, reader),))
    if compared.as_read is not None:
        ends = compared.as_read.ci90
        change = tell_change(quantity, (compared.as_read.estimate, ends.low, ends.high), reader)
        yield BookFact(say("book.lesson.change"), (change,))
    if compared.good is not None:
        good = compared.good
        told = say(
            "book.two-intervals",
            estimate=reader.signed(quantity, good.estimate),
            low90=reader.signed(quantity, good.ci90.low),
            high90=reader.signed(quantity, good.ci90.high),
            low80=reader.signed(quantity, good.ci80.low),
            high80=reader.signed(quantity, good.ci80.high),
        )
        yield BookFact(say("book.lesson.good"), (told,))
    yield BookFact(say("book.lesson.inside"), _share(compared.inside, words))
    yield BookFact(say("book.lesson.mishits"), _share(compared.mishits, words))
    yield BookFact(say("book.lesson.verdict"), (_verdict(compared, words),))
    yield BookFact(say("book.lesson.declared"), tell_declared(compared, words, key="book.declared"))
    yield BookFact(say("book.lesson.careful"), tuple(_careful(compared, words)))
    yield BookFact(say("book.lesson.guard"), tuple(_guards(compared, reader)))


def _want(quantity: Quantity, want: Want, reader: Reader) -> str:
    if want.direction is not Direction.WINDOW or want.low is None or want.high is None:
        return tell_in_book("want", want.direction, reader.words)
    return span(quantity, (want.low, want.high), reader.units, reader.hand, reader.words)


def _block(quantity: Quantity, sample: Sample, reader: Reader) -> str:
    if sample.median is None:
        return reader.words.say("book.block.none")
    median = reader.middle(quantity, sample)
    if quantity.is_outcome:
        return median
    return reader.words.count("book.block", sample.n, median=median)


def tell_change(quantity: Quantity, shift: tuple[float, float, float], reader: Reader) -> str:
    """A change as (estimate, low, high), with signs and in the reader's units."""
    estimate, low, high = (reader.signed(quantity, value) for value in shift)
    return reader.words.say("book.interval", estimate=estimate, low=low, high=high)


def _share(change: ShareChange | None, words: Words) -> tuple[str, ...]:
    if change is None:
        return ()
    then, now = change.before, change.after
    told = words.say(
        "book.share", before=then.count, before_n=then.n, after=now.count, after_n=now.n
    )
    return (told,)


def _verdict(compared: Comparison, words: Words) -> str:
    verdict = tell_in_book("verdict", compared.verdict, words)
    if compared.verdict is compared.verdict_uncapped:
        return verdict
    uncapped = tell_in_book("verdict", compared.verdict_uncapped, words)
    return words.say("book.verdict.capped", verdict=verdict, uncapped=uncapped)


def _careful(compared: Comparison, words: Words) -> Iterator[str]:
    cautions = {
        "drift": compared.drift in (DriftFinding.MOVING, DriftFinding.CLEARLY_MOVING),
        "mishits": compared.lowered_by_mishits,
        "moved": compared.setup_moved,
        "overshot": compared.overshot,
    }
    return (words.say(f"book.careful.{name}") for name, due in cautions.items() if due)


def _guards(compared: Comparison, reader: Reader) -> Iterator[str]:
    words = reader.words
    for result in compared.guards:
        guard = result.guard
        kind = "level" if guard.kind is GuardKind.LEVEL else "spread"
        yield words.say(
            f"book.guard.{kind}",
            quantity=quantity_name(guard.quantity, words),
            margin=reader.size(guard.quantity, guard.margin),
            finding=words.say(f"book.guard.{key_of(result.finding)}"),
        )


def single_readings(compared: Comparison, reader: Reader) -> tuple[BookFact, ...]:
    """Each shot of both blocks with its reading; a mishit says that it is one."""
    say = reader.words.say
    return tuple(
        BookFact(
            say(f"book.lesson.{when}"),
            tuple(
                say(
                    "book.mishit" if mishit else "book.shot",
                    shot=number,
                    reading=reader.amount(compared.quantity, value),
                )
                for number, value, mishit in zip(
                    sample.numbers, sample.values, sample.mishit, strict=True
                )
            ),
        )
        for when, sample in (("before", compared.before), ("after", compared.after))
        if sample.n
    )
