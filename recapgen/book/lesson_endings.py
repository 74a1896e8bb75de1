"""How all lessons with a miss, an intent or a club ended: every one is counted, none is chosen."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date
from enum import Enum, auto

from msgspec import Struct, field

from recapgen.evidence.intent_pooling import rests
from recapgen.model.book import Endings, EndingsOfAll, LessonPlace, intent_key
from recapgen.model.evidence import Declared, Kept, Retention, Verdict
from recapgen.model.recap import Recap, StudentRecap

Joined = Iterable[tuple[str, Iterable[str]]]
"""Short names of the coach's, each with the wordings that are one with it."""


class _Apart(Enum):
    """Lessons whose verdict is not counted with the others."""

    AFTERWARDS = auto()
    HIDDEN = auto()
    UNNUMBERED = auto()


class _Counted(Struct):
    """What is counted of one name while the lessons are gone through."""

    name: str
    students: set[str] = field(default_factory=set)
    ended: Counter[Verdict | _Apart] = field(default_factory=Counter)
    kept: Counter[Kept] = field(default_factory=Counter)
    places: list[tuple[date, LessonPlace]] = field(default_factory=list)


class _LessonOnce(Struct, frozen=True):
    """One lesson, looked at once for all that it is counted under."""

    recap: Recap
    place: LessonPlace
    ended: Verdict | _Apart
    kept: tuple[Kept, ...]


def endings_of_all(
    students: Iterable[StudentRecap], *, misses: Joined = (), intents: Joined = ()
) -> EndingsOfAll:
    """Each kind with the name in most lessons first, then by name."""
    told = tuple(_lessons(students))
    return EndingsOfAll(
        misses=_endings(told, lambda recap: recap.notes.usual_miss, names_of(misses)),
        intents=_endings(told, intent_of, names_of(intents)),
        clubs=_endings(told, lambda recap: recap.notes.club, {}),
    )


def endings_of_intents(
    students: Iterable[StudentRecap], intents: Joined = ()
) -> tuple[Endings, ...]:
    """By what was tried alone."""
    return _endings(tuple(_lessons(students)), intent_of, names_of(intents))


def names_of(joined: Joined) -> Mapping[str, str]:
    """By the key of each wording the name under which the coach joins it."""
    return {intent_key(wording): name for name, all_of in joined for wording in (name, *all_of)}


def intent_of(recap: Recap) -> str | None:
    return recap.notes.short_name or recap.notes.intent


def _lessons(students: Iterable[StudentRecap]) -> Iterator[_LessonOnce]:
    for student in students:
        stuck = _stuck(student)
        for recap in student.recaps:
            place = LessonPlace(student.student.key, recap.page)
            kept = tuple(_kept_of(recap, stuck.get(recap.on, ())))
            yield _LessonOnce(recap, place, _ended(recap), kept)


def _endings(
    lessons: Iterable[_LessonOnce], worded: Callable[[Recap], str | None], names: Mapping[str, str]
) -> tuple[Endings, ...]:
    counted: dict[str, _Counted] = {}
    known: dict[str, _Counted] = {}  # by the words as they were typed
    for told in lessons:
        typed = worded(told.recap)
        if not typed:
            continue
        if typed not in known:
            name = names.get(intent_key(typed), typed)
            known[typed] = counted.setdefault(intent_key(name), _Counted(name))
        each = known[typed]
        each.students.add(told.place.student)
        each.ended[told.ended] += 1
        each.kept.update(told.kept)
        each.places.append((told.recap.on, told.place))
    found = sorted(counted.values(), key=lambda each: (-each.ended.total(), each.name.casefold()))
    return tuple(_summed(each) for each in found)


def _ended(recap: Recap) -> Verdict | _Apart:
    compared = recap.number.comparison
    if compared is None:
        return _Apart.UNNUMBERED
    if not rests(compared):
        return _Apart.HIDDEN
    return _Apart.AFTERWARDS if compared.declared is Declared.AFTERWARDS else compared.verdict


def _stuck(student: StudentRecap) -> Mapping[date, list[Retention]]:
    """What stuck shows at the start of a later lesson and belongs to the earlier one: its day."""
    found: dict[date, list[Retention]] = {}
    for recap in student.recaps:
        if recap.number.retention is not None:
            found.setdefault(recap.number.retention.from_lesson, []).append(recap.number.retention)
    return found


def _kept_of(recap: Recap, stuck: Sequence[Retention]) -> Iterator[Kept]:
    compared = recap.number.comparison
    for each in stuck:
        if compared is not None and each.quantity is compared.quantity:
            yield each.kept


def _summed(each: _Counted) -> Endings:
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
