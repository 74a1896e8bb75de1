"""A seal read back to the coach, as a short block."""

from datetime import datetime

from recapgen.model.lesson import Direction, Seal
from recapgen.model.units import Units
from recapgen.words.amounts import clock, day, quantity_name, size, span
from recapgen.words.catalogue import Words


def tell_seal(seal: Seal, units: Units, words: Words) -> tuple[tuple[str, str], ...]:
    """What is sealed, as (name, value) pairs in the order of the notes."""
    guard = seal.guard
    told = [("number", quantity_name(seal.quantity, words)), ("want", _want(seal, units, words))]
    if seal.smallest_change is None:
        told.append(("matters", words.say("seal.matters.default")))
    else:
        told.append(("matters", size(seal.quantity, seal.smallest_change, units, words)))
    if guard is not None:
        margin = size(guard.quantity, guard.margin, units, words)
        name = quantity_name(guard.quantity, words)
        told.append(("guard", words.say(f"seal.guard.{guard.kind}", name=name, margin=margin)))
    told.append(("planned", _planned(seal, words)))
    return tuple((words.say(f"seal.{name}"), value) for name, value in told)


def tell_time(at: datetime, words: Words) -> str:
    """A time with its day: "10:12 on 11 April 2027"."""
    return words.say("seal.time", clock=clock(at.time(), words), day=day(at.date(), words))


def _want(seal: Seal, units: Units, words: Words) -> str:
    want = seal.want
    if want.direction is not Direction.WINDOW or want.low is None or want.high is None:
        return words.say(f"seal.want.{want.direction}")
    return span(seal.quantity, (want.low, want.high), units, None, words)


def _planned(seal: Seal, words: Words) -> str:
    counts = [
        words.say(f"seal.planned.{block}", n=balls)
        for block, balls in (("before", seal.planned_before), ("after", seal.planned_after))
        if balls is not None
    ]
    return words.say("seal.planned.join").join(counts) or words.say("seal.planned.none")
