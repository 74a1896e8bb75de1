"""How all lessons with a miss, an intent or a club ended: every one is counted, none is chosen."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum, auto

from recapgen.evidence.intent_pooling import rests
from recapgen.model.book import Endings, EndingsOfAll, LessonPlace, intent_key
from recapgen.model.evidence import Declared, Kept, Verdict
from recapgen.model.recap import Recap, StudentRecap

Joined = Iterable[tuple[str, Iterable[str]]]
"""Short names of the coach's, each with the wordings that are one with it."""


class _Apart(Enum):
    """Lessons whose verdict is not counted with the others."""

    AFTERWARDS = auto()
    HIDDEN = auto()
    UNNUMBERED = auto()


@dataclass(slots=True)
class _Counted:
    """What is counted of one name while the lessons are gone through."""

    name: str
    students: set[str] = field(default_factory=set)
    ended: Counter[Verdict | _Apart] = field(default_factory=Counter)
    kept: Counter[Kept] = field(default_factory=Counter)
    places: list[tuple[str, LessonPlace]] = field(default_factory=list)


def endings_of_all(
    students: Iterable[StudentRecap], *, misses: Joined = (), intents: Joined = ()
) -> EndingsOfAll:
    """Each kind with the name in most lessons first, then by name."""
    told = tuple(students)
    by_intent = names_of(intents)
    return EndingsOfAll(
        misses=_endings(told, lambda recap: recap.notes.usual_miss, names_of(misses)),
        intents=_endings(told, intent_of, by_intent),
        clubs=_endings(told, lambda recap: recap.notes.club, {}),
    )


def endings_of_intents(
    students: Iterable[StudentRecap], intents: Joined = ()
) -> tuple[Endings, ...]:
    """By what was tried alone."""
    return _endings(students, intent_of, names_of(intents))


def names_of(joined: Joined) -> Mapping[str, str]:
    """By the key of each wording the name under which the coach joins it."""
    return {intent_key(wording): name for name, all_of in joined for wording in (name, *all_of)}


def intent_of(recap: Recap) -> str | None:
    return recap.notes.short_name or recap.notes.intent


def _endings(
    students: Iterable[StudentRecap],
    worded: Callable[[Recap], str | None],
    names: Mapping[str, str],
) -> tuple[Endings, ...]:
    counted: dict[str, _Counted] = {}
    for student in students:
        for recap, key, name in _named(student, worded, names):
            each = counted.setdefault(key, _Counted(name))
            each.students.add(student.student.key)
            each.ended[_ended(recap)] += 1
            place = LessonPlace(student.student.key, recap.page)
            each.places.append((recap.on.isoformat(), place))
            each.kept.update(_kept_of(recap, student))
    told = sorted(counted.values(), key=lambda each: (-each.ended.total(), each.name.casefold()))
    return tuple(_told(each) for each in told)


def _named(
    student: StudentRecap, worded: Callable[[Recap], str | None], names: Mapping[str, str]
) -> Iterator[tuple[Recap, str, str]]:
    for recap in student.recaps:
        typed = worded(recap)
        if typed:
            name = names.get(intent_key(typed), typed)
            yield recap, intent_key(name), name


def _ended(recap: Recap) -> Verdict | _Apart:
    compared = recap.number.comparison
    if compared is None:
        return _Apart.UNNUMBERED
    if not rests(compared):
        return _Apart.HIDDEN
    return _Apart.AFTERWARDS if compared.declared is Declared.AFTERWARDS else compared.verdict


def _kept_of(recap: Recap, student: StudentRecap) -> Iterator[Kept]:
    """What stuck shows at the start of a later lesson and belongs to the earlier one."""
    compared = recap.number.comparison
    for later in student.recaps if compared is not None else ():
        stuck = later.number.retention
        same = compared is not None and stuck is not None and stuck.quantity is compared.quantity
        if stuck is not None and same and stuck.from_lesson == recap.on:
            yield stuck.kept


def _told(each: _Counted) -> Endings:
    newest = sorted(each.places, key=lambda one: one[0], reverse=True)
    return Endings(
        name=each.name,
        lessons=each.ended.total(),
        students=len(each.students),
        verdicts=tuple((v, each.ended[v]) for v in Verdict if each.ended[v]),
        afterwards=each.ended[_Apart.AFTERWARDS],
        hidden=each.ended[_Apart.HIDDEN],
        unnumbered=each.ended[_Apart.UNNUMBERED],
        kept=tuple((k, each.kept[k]) for k in Kept if each.kept[k]),
        places=tuple(place for _, place in newest),
    )
