"""Which intents the coach tried on which numbers, and what then happened to these.

There is no second group without the intent, and the coach picks an intent to fit a student:
lines say that things moved together, never that one caused the other.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from recapgen.model.book import LedgerLine
from recapgen.model.evidence import Kept, Verdict
from recapgen.model.quantity import Quantity
from recapgen.model.recap import Recap, StudentRecap

STUDENTS_TO_RANK = 3


@dataclass(slots=True)
class _Tried:
    """What is counted for one intent and number while the lessons are gone through."""

    intent: str
    quantity: Quantity
    students: set[str] = field(default_factory=set)
    verdicts: Counter[Verdict] = field(default_factory=Counter)
    kept: Counter[Kept] = field(default_factory=Counter)


def keep_ledger(students: Iterable[StudentRecap]) -> tuple[tuple[LedgerLine, ...], int]:
    """All lines, and how many of them, the first, are ranked.

    Lines with three students or more come first, by the share of their lessons that moved as
    wanted; fewer students are no ground for an order, so the rest stand by name.
    """
    tried: dict[tuple[str, Quantity], _Tried] = {}
    for student in students:
        by_day = {recap.on: recap for recap in student.recaps}
        for recap in student.recaps:
            each = _tried_in(recap, tried)
            if each is not None and recap.comparison is not None:
                each.students.add(student.student.key)
                each.verdicts[recap.comparison.verdict] += 1
        for recap in student.recaps:
            # What stuck shows at the start of a later lesson and belongs to the earlier one.
            if recap.retention is not None:
                each = _tried_in(by_day.get(recap.retention.from_lesson), tried)
                if each is not None and each.quantity is recap.retention.quantity:
                    each.kept[recap.retention.kept] += 1
    lines = [_line(each) for each in tried.values()]
    ranked = sorted(
        (line for line in lines if line.students >= STUDENTS_TO_RANK),
        key=lambda line: (-line.moved / line.lessons, -line.lessons, *_name(line)),
    )
    others = sorted((line for line in lines if line.students < STUDENTS_TO_RANK), key=_name)
    return (*ranked, *others), len(ranked)


def _tried_in(recap: Recap | None, tried: dict[tuple[str, Quantity], _Tried]) -> _Tried | None:
    if recap is None or recap.notes.intent is None or recap.comparison is None:
        return None
    intent, quantity = recap.notes.intent, recap.comparison.quantity
    return tried.setdefault((_spelling(intent), quantity), _Tried(intent, quantity))


def _spelling(intent: str) -> str:
    """Two intents are one where only case, spaces and the final stop differ."""
    return " ".join(intent.casefold().split()).rstrip(".! ")


def _line(each: _Tried) -> LedgerLine:
    return LedgerLine(
        intent=each.intent,
        quantity=each.quantity,
        lessons=each.verdicts.total(),
        students=len(each.students),
        verdicts=tuple((v, each.verdicts[v]) for v in Verdict if each.verdicts[v]),
        kept=tuple((k, each.kept[k]) for k in Kept if each.kept[k]),
    )


def _name(line: LedgerLine) -> tuple[str, str]:
    return _spelling(line.intent), line.quantity.value
