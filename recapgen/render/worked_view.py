"""What the readings say beyond themselves, folded: worked out, and worth a second look."""

from collections.abc import Sequence
from statistics import median

from msgspec import Struct

from recapgen.model.carry import LoftAtStrike
from recapgen.model.quantity import Quantity
from recapgen.model.recap import Recap
from recapgen.model.row_rules import RowRule, leans_on
from recapgen.model.shots import Block, ShotStatus, SortedShot, WorkedOut
from recapgen.render.reader import Reader
from recapgen.words.amounts import quantity_name
from recapgen.words.catalogue import Words
from recapgen.words.shot_sentences import tell_rule, tell_way

_NO_ONE = ""
_MOST_SHOTS = 12


class WorkedRow(Struct, frozen=True):
    name: str
    then: str
    now: str
    doubt: str
    way: str


class WorkedView(Struct, frozen=True):
    """The middle of what was worked out in each block, and the loft at the strike in words."""

    rows: tuple[WorkedRow, ...]
    sentences: tuple[str, ...]


def worked_view(recap: Recap, reader: Reader) -> WorkedView | None:
    """None where everything there is to know was read."""
    blocks = tuple(
        [
            s
            for s in recap.evidence.shots
            if s.block is block and s.status in (ShotStatus.USED, ShotStatus.NOT_READ)
        ]
        for block in (Block.BEFORE, Block.AFTER)
    )
    rows = tuple(row for q in Quantity for row in _rows(q, blocks, reader))
    sentences = (*_number(recap, reader), *_loft(recap.evidence.loft, reader))
    return WorkedView(rows, sentences) if rows or sentences else None


def second_looks(recap: Recap, reader: Reader) -> tuple[str, ...]:
    """Each rule that cast doubt on shots, with their numbers."""
    words = reader.words
    by_rule: dict[RowRule, list[int]] = {}
    for s in recap.evidence.shots:
        for rule in s.shot.doubts if s.status is not ShotStatus.LEFT_OUT else ():
            by_rule.setdefault(rule, []).append(s.shot.number)
    return tuple(
        words.say(
            "shots.second-look.line",
            sentence=tell_rule(rule, words, leans_on(rule, recap.evidence.calculated)),
            shots=_listed(numbers, words),
        )
        for rule, numbers in by_rule.items()
    )


def _listed(numbers: Sequence[int], words: Words) -> str:
    more = ("…",) if len(numbers) > _MOST_SHOTS else ()
    return words.listed((*map(str, numbers[:_MOST_SHOTS]), *more))


def _rows(
    quantity: Quantity, blocks: tuple[list[SortedShot], ...], reader: Reader
) -> list[WorkedRow]:
    """One row, or none where the quantity was read or cannot be known."""
    worked: list[list[WorkedOut]] = [
        [s.shot.derived[quantity] for s in block if s.shot.derived and quantity in s.shot.derived]
        for block in blocks
    ]
    every = [one for block in worked for one in block]
    if not every or any(quantity in s.shot.readings for block in blocks for s in block):
        return []
    then, now = (
        reader.amount(quantity, median(one.value for one in block)) if block else _NO_ONE
        for block in worked
    )
    doubt = reader.size(quantity, median(one.doubt for one in every))
    way = tell_way(every[0].way, reader.words)
    return [WorkedRow(quantity_name(quantity, reader.words), then, now, doubt, way)]


def _number(recap: Recap, reader: Reader) -> list[str]:
    if recap.number.worked_from is None or recap.number.comparison is None:
        return []
    name = quantity_name(recap.number.comparison.quantity, reader.words)
    way = tell_way(recap.number.worked_from, reader.words)
    return [reader.words.say("worked.number", quantity=name, way=way)]


def _loft(loft: LoftAtStrike | None, reader: Reader) -> list[str]:
    if loft is None:
        return []
    words = reader.words
    told: list[str] = []
    for name, lean_deg in (("before", loft.before_lean_deg), ("after", loft.after_lean_deg)):
        if lean_deg is None:
            continue
        when = words.say(f"chart.strip.{name}")
        size = reader.size(Quantity.DYNAMIC_LOFT, lean_deg)
        own = reader.size(Quantity.DYNAMIC_LOFT, loft.club_loft_deg)
        way = "added" if lean_deg < 0 else "taken"
        told.append(
            words.say(f"loft.{way}", when=when, size=size, club=reader.club(loft.club), loft=own)
        )
    doubt = reader.size(Quantity.DYNAMIC_LOFT, loft.lean_doubt_deg)
    told.append(words.say("loft.lean", doubt=doubt))
    return told
