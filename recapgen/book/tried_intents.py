"""Which intents the coach tried on which numbers, and what then happened to these.

There is no second group without the intent, and the coach picks an intent to fit a student:
lines say that things moved together, never that one caused the other. A number chosen when the
shots were hit is one of several that were looked at: the best of four moves "as wanted" nearly
always where nothing works, so these stand apart.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TypeAlias

from msgspec import Struct, field

from recapgen.evidence.intent_pooling import lesson_gain, pool, rests
from recapgen.model.book import TriedIntentLine, TriedIntents, intent_key
from recapgen.model.evidence import Comparison, Declared, IntentRow, Kept, LessonGain, Verdict
from recapgen.model.quantity import Quantity
from recapgen.model.recap import Recap, StudentRecap


class _Tried(Struct):
    """What is counted for one intent and number while the lessons are gone through."""

    intent: str
    quantity: Quantity
    students: set[str] = field(default_factory=set)
    gains: list[LessonGain] = field(default_factory=list)
    verdicts: Counter[Verdict] = field(default_factory=Counter)
    kept: Counter[Kept] = field(default_factory=Counter)


Pooling: TypeAlias = Callable[[Sequence[LessonGain]], tuple[IntentRow, ...]]
"""From the gains of all lessons to a row for each intent."""


def pooled(gains: Sequence[LessonGain]) -> tuple[IntentRow, ...]:
    """The rows as evidence pools them, worked out anew."""
    return pool(gains)


def count_tried_intents(
    students: Iterable[StudentRecap],
    intents: Iterable[tuple[str, Iterable[str]]] = (),
    pooling: Pooling = pooled,
) -> TriedIntents:
    """``intents`` are the coach's own short names with the wordings that are one with each.

    Lines with enough students come first, most surely moved as wanted on top; fewer students
    are no ground for an order, so the rest stand by name.
    """
    names = {intent_key(wording): name for name, all_of in intents for wording in (name, *all_of)}
    tried: dict[str, _Tried] = {}
    afterwards: dict[str, _Tried] = {}
    uncounted = 0

    def tried_in(recap: Recap | None) -> _Tried | None:
        comparison = None if recap is None else recap.number.comparison
        if recap is None or comparison is None or not rests(comparison):
            return None
        chosen_late = comparison.declared is Declared.AFTERWARDS
        return _tried_in(recap, comparison, afterwards if chosen_late else tried, names)

    for student in students:
        by_day = {recap.on: recap for recap in student.recaps}
        for recap in student.recaps:
            each = tried_in(recap)
            if each is not None and recap.number.comparison is not None:
                _count(recap.number.comparison, student.student.key, each)
            elif _worded(recap) is not None and recap.number.comparison is not None:
                uncounted += 1
        for recap in student.recaps:
            # What stuck shows at the start of a later lesson and belongs to the earlier one.
            stuck = recap.number.retention
            if stuck is not None:
                each = tried_in(by_day.get(stuck.from_lesson))
                if each is not None and each.quantity is stuck.quantity:
                    each.kept[stuck.kept] += 1
    found = pooling([gain for each in tried.values() for gain in each.gains])
    rows = {row.intent: row for row in found}
    ranked = [_line(tried[row.intent], row) for row in found if row.ranked]
    others = [
        _line(each, rows.get(key))
        for key, each in sorted(tried.items())
        if key not in rows or not rows[key].ranked
    ]
    return TriedIntents(
        lines=(*ranked, *others),
        ranked=len(ranked),
        afterwards=tuple(_line(each, None) for _, each in sorted(afterwards.items())),
        uncounted=uncounted,
    )


def _count(comparison: Comparison, student: str, each: _Tried) -> None:
    each.students.add(student)
    each.verdicts[comparison.verdict] += 1
    gain = lesson_gain(_key(each.intent, each.quantity), student, comparison)
    if gain is not None:
        each.gains.append(gain)


def _worded(recap: Recap) -> str | None:
    return recap.notes.short_name or recap.notes.intent


def _tried_in(
    recap: Recap, comparison: Comparison, tried: dict[str, _Tried], names: Mapping[str, str]
) -> _Tried | None:
    worded = _worded(recap)
    if worded is None:
        return None
    intent = names.get(intent_key(worded), worded)
    return tried.setdefault(_key(intent, comparison.quantity), _Tried(intent, comparison.quantity))


def _key(intent: str, quantity: Quantity) -> str:
    return f"{intent_key(intent)}\n{quantity}"


def _line(each: _Tried, pooled: IntentRow | None) -> TriedIntentLine:
    return TriedIntentLine(
        intent=each.intent,
        quantity=each.quantity,
        lessons=each.verdicts.total(),
        students=len(each.students),
        verdicts=tuple((v, each.verdicts[v]) for v in Verdict if each.verdicts[v]),
        kept=tuple((k, each.kept[k]) for k in Kept if each.kept[k]),
        pooled=pooled,
    )
