"""Reading the coach's keys: one mapping, key by key, with every fault noted at its place."""

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from enum import StrEnum
from typing import TypeVar

from msgspec.structs import replace

from recapgen.golf.written_amounts import read_number
from recapgen.intake.days import DayFault, days_meant, read_day
from recapgen.intake.keys_abroad import in_english
from recapgen.intake.near_words import nearest
from recapgen.intake.spelling import Spelling, from_abroad, together
from recapgen.intake.yaml_map import ListNode, MapEntry, MapNode, Node, Scalar, brief, plain_key
from recapgen.intake.yes_no import yes_or_no
from recapgen.model.fix import Cut, Offer, Put, Swap, certain, one_of
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.source import SourceRef

NAME_LENGTH = 80
LINE_LENGTH = 300
PARAGRAPH_LENGTH = 3000
MOST_ANSWERS = 6  # more to choose from are told in a sentence alone
_WHOLE = re.compile(r"\d{1,7}")
# "3O" and "l2" are thirty and twelve: of such letters beside a digit none is a word.
_LIKE_DIGITS = re.compile(r"(?<![^\W\d_])[\dOolI]*\d[\dOolI]*(?![^\W\d_])")
_DIGITS = str.maketrans("OolI", "0011")
V = TypeVar("V")

DAY_CODES = {
    DayFault.UNREADABLE: Code.DATE_UNREADABLE,
    DayFault.AMBIGUOUS: Code.DATE_AMBIGUOUS,
    DayFault.IMPOSSIBLE: Code.DATE_IMPOSSIBLE,
}


class Form:
    """One mapping being read; faults are added to ``problems`` as they are met.

    ``costs`` is what a fault in here costs, where that is other than the code says. What stands
    behind a misspelt or foreign key is read as if it were spelt right, since its fault holds back
    what it costs; without ``guesses``, where even that may not be, it counts as not written.
    """

    def __init__(
        self,
        keyed: MapNode,
        known: Spelling,
        problems: list[Problem],
        costs: Cost | None = None,
        *,
        guesses: bool = True,
    ) -> None:
        self.where = keyed.where
        self._keyed = keyed
        self._known = known
        self._problems = problems
        self._costs = costs
        self._entries: dict[str, MapEntry] = {}
        self._guessed: dict[str, MapEntry] = {}
        self._abroad = from_abroad(keyed.entries, known)
        for entry in keyed.entries:
            self._file_away(entry, known)
        if guesses and costs is not Cost.NOTHING:  # so that nothing rests on a guess
            self._entries = self._guessed | self._entries

    def _file_away(self, entry: MapEntry, known: Spelling) -> None:
        key = known.key(entry.name)
        if key is None:
            key = self._probably(entry, known)
            if key is not None:
                self._guessed.setdefault(key, entry)
        elif key not in self._entries:
            self._entries[key] = entry
        elif (both := together(self._entries[key], entry)) is not None:
            self._entries[key] = both
        else:
            self._twice(key, self._entries[key].where, entry.where)

    def _probably(self, entry: MapEntry, known: Spelling) -> str | None:
        """The key that one that is not known was meant to be, for what is wrong behind it."""
        found = {"found": brief(entry.key), "known": ", ".join(known.keys)}
        if entry.where in self._abroad:
            return self._from_abroad(entry, in_english(entry.name, known.keys))
        near = known.nearest(entry.name)
        if near is None:
            self.report(Code.KEY_UNKNOWN, entry.where, one_of([Cut(entry.where)]), **found)
            return None
        offers = one_of([Swap(entry.where, entry.key, near)])
        self.report(Code.KEY_MISSPELT, entry.where, offers, near=near, **found)
        return near

    def _from_abroad(self, entry: MapEntry, meant: tuple[str, ...]) -> str | None:
        """The key that a foreign one is likeliest to be; None where all it can be are there."""
        free = self._abroad[entry.where]
        if not free:
            self._twice(meant[0], self._first_of(meant, entry), entry.where)
            return None
        swaps = [Swap(entry.where, entry.key, key) for key in free]
        offers = certain(*swaps) if len(meant) == 1 else one_of(swaps)
        facts = {"found": brief(entry.key), "english": ", ".join(free)}
        self.report(Code.KEY_FOREIGN, entry.where, offers, **facts)
        return free[0]

    def _first_of(self, meant: tuple[str, ...], again: MapEntry) -> SourceRef:
        """Where what ``again`` would be stands already."""
        for entry in self._keyed.entries:
            key = self._known.key(entry.name)
            may_be = self._abroad.get(entry.where, ()) if key is None else (key,)
            if entry is not again and set(may_be) & set(meant):
                return entry.where
        return self.where

    def _twice(self, key: str, first: SourceRef, again: SourceRef) -> None:
        offers = one_of([Cut(again), Cut(first)])
        self.report(Code.KEY_TWICE, again, offers, key=key, first=str(first.line))

    def report(
        self, code: Code, where: SourceRef, offers: tuple[Offer, ...] = (), /, **facts: str
    ) -> None:
        """Note a fault; what is merely odd stays so wherever it stands."""
        costs = None if code.cost is Cost.NOTHING else self._costs
        self._problems.append(Problem(code, where, facts, costs, offers))

    @property
    def costly(self) -> int:
        """How many faults that cost something were noted so far, here and elsewhere."""
        return sum(problem.cost is not Cost.NOTHING for problem in self._problems)

    def has(self, key: str) -> bool:
        return key in self._entries

    def listed(self, key: str) -> bool:
        """Is the value of ``key`` a list?"""
        return key in self._entries and isinstance(self._entries[key].value, ListNode)

    def place(self, key: str) -> SourceRef:
        """Where ``key`` stands, or where the mapping begins if it is not given."""
        return self._entries[key].where if key in self._entries else self.where

    def typed(self, key: str) -> str | None:
        """The key as the coach spelt it."""
        return self._entries[key].key if key in self._entries else None

    def node(self, key: str) -> Node | None:
        """The value of ``key``; None where it is absent or left empty."""
        entry = self._entries.get(key)
        if entry is None or (isinstance(entry.value, Scalar) and entry.value.empty):
            if entry is not None and isinstance(entry.value, Scalar):
                self._say_cut(key, entry.value)
            return None
        return entry.value

    def perhaps(self, key: str) -> bool:
        """May a key of another language be ``key``, alone or as well as something else?"""
        return any(key in free for free in self._abroad.values())

    def guess(self, key: str) -> Node | None:
        """The value of a key that was probably meant to be ``key``."""
        return self._guessed[key].value if key in self._guessed else None

    def words(self, key: str, most: int = LINE_LENGTH) -> Scalar | None:
        """The single value of ``key``, at most ``most`` characters."""
        node = self.node(key)
        return None if node is None else self.one(key, node, most)

    def one(self, key: str, node: Node, most: int = LINE_LENGTH) -> Scalar | None:
        if not isinstance(node, Scalar):
            offers = one_of(Swap(node.where, None, text) for text in _texts(node))
            self.report(Code.ONE_VALUE_EXPECTED, node.where, offers, key=brief(key))
            return None
        length = len(" ".join(node.text.split()))
        if length > most:
            facts = {"key": brief(key), "length": str(length), "most": str(most)}
            self.report(Code.TEXT_TOO_LONG, node.where, **facts)
            return None
        return node

    def text(self, key: str, most: int = LINE_LENGTH) -> str | None:
        """Words on one line, at most ``most`` characters."""
        words = self.words(key, most)
        return None if words is None else self.line(key, words)

    def line(self, key: str, words: Scalar) -> str | None:
        """Words as one line; what a " #" cut off is a problem."""
        self._say_cut(key, words)
        return " ".join(words.text.split()) or None

    def _say_cut(self, key: str, words: Scalar) -> None:
        """What a " #" cut off was meant as words, or as a comment."""
        if words.cut is None:
            return
        whole = f"{words.text}{words.dropped}"
        where = words.where if words.text else words.cut
        offers = one_of([Swap(where, whole.strip(), whole.strip())])
        self.report(Code.CUT_AT_HASH, words.cut, offers, key=brief(key))

    def required(
        self, key: str, most: int = LINE_LENGTH, offers: tuple[Offer, ...] = ()
    ) -> str | None:
        """As ``text``; an absent key is a problem, which ``offers`` would mend."""
        if self.node(key) is None:
            if not self.perhaps(key):  # that line is told already, with the key it may be
                self.report(Code.KEY_MISSING, self.place(key), offers, key=key)
            return None
        return self.text(key, most)

    def yes_no(self, key: str) -> bool | None:
        words = self.words(key)
        if words is None:
            return None
        found = yes_or_no(words.text)
        if found is None:
            offers = instead(words, "yes", "no")
            self.report(Code.NOT_YES_NO, words.where, offers, key=key, found=brief(words.text))
        return found

    def whole(self, key: str, least: int, most: int) -> int | None:
        words = self.words(key)
        return None if words is None else self.whole_in(key, words, least, most)

    def whole_in(self, key: str, words: Scalar, least: int, most: int) -> int | None:
        text = words.text.strip()
        found = {"key": key, "found": brief(text), "least": str(least), "most": str(most)}
        if not (text.isascii() and text.isdigit() and len(text) <= 9):  # noqa: PLR2004 - fits any count
            meant = _WHOLE.findall(_LIKE_DIGITS.sub(lambda like: like[0].translate(_DIGITS), text))
            fits = len(meant) == 1 and least <= int(meant[0]) <= most
            offers = instead(words, str(int(meant[0]))) if fits else ()
            self.report(Code.NOT_A_NUMBER, words.where, offers, **found)
            return None
        if not least <= int(text) <= most:
            self.report(Code.NUMBER_OUT_OF_RANGE, words.where, **found)
            return None
        return int(text)

    def number(self, key: str, least: float, most: float, unit: str = "") -> float | None:
        """A number, decimal point or comma, with ``unit`` behind it or not."""
        words = self.words(key)
        if words is None:
            return None
        text = words.text.strip()
        found = {"key": key, "found": brief(text), "least": f"{least:g}", "most": f"{most:g}"}
        value = read_number(text.removesuffix(unit).strip() if unit else text)
        if value is None:
            self.report(Code.NOT_A_NUMBER, words.where, **found)
            return None
        if not least <= value <= most:
            self.report(Code.NUMBER_OUT_OF_RANGE, words.where, **found)
            return None
        return value

    def day(self, key: str) -> date | None:
        words = self.words(key)
        return None if words is None else self.day_in(key, words)

    def day_in(self, key: str, words: Scalar) -> date | None:
        """The day that ``words`` under ``key`` name, reported where there is none for certain."""
        found = read_day(words.text)
        if isinstance(found, DayFault):
            offers = instead(words, *(day.isoformat() for day in days_meant(words.text)))
            self.report(DAY_CODES[found], words.where, offers, key=key, found=brief(words.text))
            return None
        return found

    def choice(self, key: str, meanings: Mapping[str, V]) -> V | None:
        """What the word for ``key`` means; ``meanings`` has every accepted word in plain form."""
        words = self.words(key)
        return None if words is None else self.meant(key, words, meanings)

    def meant(
        self, key: str, words: Scalar, meanings: Mapping[str, V], unknown: Code = Code.WORD_UNKNOWN
    ) -> V | None:
        found = plain_key(words.text)
        if found in meanings:
            return meanings[found]
        known = shown(meanings)
        near = nearest(found, known.split(", "))
        if near is None and (near := nearest(found, meanings)) is not None:
            meaning = meanings[near]
            if isinstance(meaning, StrEnum) and near not in meaning.value:
                near = meaning.value  # a word from abroad, offered as the house writes it
        self.misread(key, words, known, near, unknown=unknown)
        return None

    def misread(
        self,
        key: str,
        words: Scalar,
        known: str,
        near: str | None,
        *others: str,
        unknown: Code = Code.WORD_UNKNOWN,
    ) -> None:
        """A word that is none of those expected; ``others`` are as near as ``near``."""
        facts = {"key": key, "found": brief(words.text), "known": known}
        few = known.split(", ")
        if near is not None:
            offers = instead(words, near, *others)
            self.report(Code.WORD_MISSPELT, words.where, offers, near=near, **facts)
        elif unknown is Code.WORD_UNKNOWN and len(few) <= MOST_ANSWERS:
            self.report(unknown, words.where, instead(words, *few), **facts)
        else:
            self.report(unknown, words.where, **facts)

    def several(self, key: str) -> Iterator[Scalar]:
        """The single values of a list; one value alone, or with commas, is a short list."""
        node = self.node(key)
        if isinstance(node, ListNode):
            for item in node.items:
                words = self.one(key, item)
                if words is not None and not words.empty:
                    yield words
        elif node is not None:
            words = self.one(key, node)
            yield from _by_commas(words) if words is not None else ()

    def form(self, key: str, known: Spelling, costs: Cost | None = None) -> "Form | None":
        """The mapping under ``key``."""
        node = self.node(key)
        return None if node is None else self.inner(key, node, known, costs)

    def inner(
        self, key: str, node: Node, known: Spelling, costs: Cost | None = None
    ) -> "Form | None":
        if isinstance(node, MapNode):
            return Form(node, known, self._problems, costs or self._costs)
        facts = {"key": key, "known": ", ".join(known.keys)}
        self._problems.append(Problem(Code.KEYS_EXPECTED, node.where, facts, costs or self._costs))
        return None

    def pairs(self, key: str, example: str, most: int = NAME_LENGTH) -> Iterator[MapEntry]:
        """The entries of a mapping whose keys, of ``most`` characters, are the coach's own."""
        node = self.node(key)
        if node is None:
            return
        if not isinstance(node, MapNode):
            self.report(Code.KEYS_EXPECTED, node.where, key=key, known=example)
            return
        seen: dict[str, MapEntry] = {}
        for entry in node.entries:
            if len(entry.key) > most:
                facts = {"length": str(len(entry.key)), "most": str(most)}
                self.report(Code.TEXT_TOO_LONG, entry.where, key=brief(entry.key), **facts)
            elif entry.key not in seen:
                seen[entry.key] = entry
                yield entry
            elif together(seen[entry.key], entry) != seen[entry.key]:
                self._twice(brief(entry.key), seen[entry.key].where, entry.where)


def instead(words: Scalar, *answers: str) -> tuple[Offer, ...]:
    """Each of ``answers`` in the place of ``words``."""
    return one_of(Swap(words.where, words.text, answer) for answer in answers)


def hand_offers(file: str) -> tuple[Offer, ...]:
    """Either hand, in the student.yml above ``file``."""
    where = SourceRef(f"{file.split('/', maxsplit=1)[0]}/student.yml")
    return one_of(Put(where, ("hand",), hand) for hand in ("right", "left"))


def _texts(node: Node) -> tuple[str, ...]:
    """The single values of a list, for the coach to choose one."""
    items = node.items[:MOST_ANSWERS] if isinstance(node, ListNode) else ()
    return tuple(item.text for item in items if isinstance(item, Scalar))


def shown(meanings: Mapping[str, V]) -> str:
    """The accepted words as a problem lists them: the first word of each meaning."""
    first: dict[V, str] = {}
    for word, meaning in meanings.items():
        first.setdefault(meaning, word)
    return ", ".join(first.values())


def meanings_of(table: Mapping[V, Iterable[str]]) -> dict[str, V]:
    """Every accepted word -> what it means, from what it means -> the words."""
    return {plain_key(word): meaning for meaning, words in table.items() for word in words}


def _by_commas(words: Scalar) -> Iterator[Scalar]:
    start = 0
    for part in words.text.split(","):
        if part.strip():
            lead = len(part) - len(part.lstrip())
            yield replace(words, text=part.strip(), where=_further(words, start + lead))
        start += len(part) + 1


def _further(words: Scalar, by: int) -> SourceRef:
    """``by`` characters into a value that stands unquoted on one line; else its beginning."""
    if words.quoted or "\n" in words.text or words.where.column is None:
        return words.where
    return replace(words.where, column=words.where.column + by)
