"""Whose a dropped file is: said by the file, by its folder or name, or by the clock; else asked."""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct

from recapgen.desk.inbox import Dropped
from recapgen.intake.table.players import students_named
from recapgen.model.naming import folded

_AROUND = timedelta(minutes=2)  # set by the network, no two clocks differ by more
_NEXT_LESSON = timedelta(minutes=20)
_FEWEST_LETTERS = 3
_WORD = re.compile(r"[^\W\d_]+")


class Person(Struct, frozen=True):
    """A student by the folder ``key``; ``days`` are those of the lessons, ``awaited`` is the next.

    The first of ``names`` is the one that is shown.
    """

    key: str
    names: tuple[str, ...]
    days: frozenset[date] = frozenset()
    awaited: date | None = None


class Unclaimed(Struct, frozen=True):
    """Files that belong together and may be anybody's; ``people`` has the likeliest first."""

    files: tuple[Dropped, ...]
    people: tuple[str, ...]
    likely: bool


class SortedOut(Struct, frozen=True):
    theirs: Mapping[str, tuple[Dropped, ...]]
    unclaimed: tuple[Unclaimed, ...]


def sort_out(
    dropped: Sequence[Dropped], people: Sequence[Person], given: str | None = None
) -> SortedOut:
    """Each file to the student whose it must be; ``given`` is whose the coach said all are.

    A file that says somebody else's name is asked about even then. One whose rows name several
    students, and nobody else, is every one's.
    """
    claims = {each: _claimed(each, people, given) for each in dropped}
    owner = {each: keys[0] for each, keys in claims.items() if len(keys) == 1}
    owner |= _by_the_clock(dropped, owner, claims)
    shared = {each: keys for each in dropped if (keys := _all_of(each, people)) == claims[each]}
    theirs: dict[str, list[Dropped]] = {}
    for each in dropped:
        for key in (owner[each],) if each in owner else shared.get(each, ()):
            theirs.setdefault(key, []).append(each)
    open_files = [each for each in dropped if each not in owner and not shared.get(each)]
    unclaimed = tuple(_unclaimed(group, people, claims, theirs) for group in _together(open_files))
    return SortedOut({key: tuple(files) for key, files in theirs.items()}, unclaimed)


def _claimed(each: Dropped, people: Sequence[Person], given: str | None) -> tuple[str, ...]:
    """Whom the file itself names: several where it names several, or says two things."""
    names = {person.key: person.names for person in people}
    said: dict[str, None] = {}
    for player in each.players:
        said |= dict.fromkeys(students_named(player, names))
    strangers = any(not students_named(player, names) for player in each.players)
    if given is not None:
        said[given] = None
    elif each.below is not None:
        said |= dict.fromkeys(key for key, of in names.items() if _one_of(each.below, of))
    words = frozenset(map(folded, _WORD.findall(each.path.stem)))
    if given is None:
        said |= dict.fromkeys(key for key, of in names.items() if _named_in(words, of))
    keys = tuple(said)
    return () if strangers and given is None and len(keys) == 1 else keys


def _all_of(each: Dropped, people: Sequence[Person]) -> tuple[str, ...]:
    """The students of whom each row names one; none where a row names anybody else."""
    names = {person.key: person.names for person in people}
    named = [students_named(player, names) for player in each.players]
    return (
        tuple(dict.fromkeys(keys[0] for keys in named)) if all(len(k) == 1 for k in named) else ()
    )


def _one_of(word: str, names: Iterable[str]) -> bool:
    return folded(word) in map(folded, names)


def _named_in(words: frozenset[str], names: Iterable[str]) -> bool:
    """Whether a file's name has all words of one of the names; initials are too little."""
    for name in names:
        own = frozenset(map(folded, _WORD.findall(name)))
        if own and own <= words and max(map(len, own)) >= _FEWEST_LETTERS:
            return True
    return False


def _by_the_clock(
    dropped: Iterable[Dropped],
    owner: Mapping[Dropped, str],
    claims: Mapping[Dropped, tuple[str, ...]],
) -> dict[Dropped, str]:
    """What was filmed while one student's shots were hit, and nobody else's."""
    tables = [each for each in dropped if each.is_table and each.first is not None]
    found: dict[Dropped, str] = {}
    for each in dropped:
        if each in owner or claims[each] or each.is_table or each.first is None:
            continue
        during = [table for table in tables if _during(each, table)]
        owners = {owner.get(table) for table in during}
        if len(owners) == 1 and (only := owners.pop()) is not None:
            found[each] = only
    return found


def _during(each: Dropped, table: Dropped) -> bool:
    if each.first is None or table.first is None or table.last is None:
        return False
    return table.first - _AROUND <= each.first <= table.last + _AROUND


def _notes_of(each: Dropped, table: Dropped) -> bool:
    return each.is_notes and each.day is not None and each.day == table.day


def _together(files: Sequence[Dropped]) -> list[tuple[Dropped, ...]]:
    """Files of one lesson, as far as the clock tells: a table and what was filmed meanwhile."""
    groups: list[list[Dropped]] = [[each] for each in files if each.is_table]
    alone: list[Dropped] = []
    for each in files:
        if each.is_table:
            continue
        during = [group for group in groups if _during(each, group[0]) or _notes_of(each, group[0])]
        (during[0] if len(during) == 1 else alone).append(each)
    alone.sort(key=lambda each: (each.first is None, each.first or 0, each.name))
    further: list[list[Dropped]] = []
    for each in alone:
        last = further[-1][-1] if further else None
        if last is None or not _follows(last, each):
            further.append([])
        further[-1].append(each)
    return [tuple(group) for group in (*groups, *further)]


def _follows(last: Dropped, each: Dropped) -> bool:
    if last.first is None or each.first is None:
        return last.first is None and each.first is None and last.day == each.day
    return each.first - last.first <= _NEXT_LESSON


def _unclaimed(
    group: tuple[Dropped, ...],
    people: Sequence[Person],
    claims: Mapping[Dropped, tuple[str, ...]],
    theirs: Mapping[str, Sequence[Dropped]],
) -> Unclaimed:
    """The people with those first who are named, then who were or are to be there that day.

    Who was there is told by the lessons, and by what lies beside it and is ``theirs``.
    """
    days = {each.day for each in group if each.day is not None}
    on = next(iter(days)) if len(days) == 1 else None
    initials = {each.initials.upper() for each in group if each.initials}
    named = {key for each in group for key in claims[each]}

    def signs(person: Person) -> int:
        own = "".join(word[0] for word in person.names[0].split()).upper()
        days = {*person.days, person.awaited, *(each.day for each in theirs.get(person.key, ()))}
        there = on is not None and on in days
        return 4 * (person.key in named) + 2 * (own in initials) + there

    def last(person: Person) -> date:
        return max(person.days, default=date.min)

    order = sorted(people, key=lambda each: (signs(each), last(each)), reverse=True)
    likely = bool(order) and signs(order[0]) > (signs(order[1]) if len(order) > 1 else 0)
    return Unclaimed(group, tuple(person.key for person in order), likely)
