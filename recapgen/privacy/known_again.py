"""Folders known again by what lies in them, or not at all: where two fit, nobody knows which."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping

from msgspec import Struct, field

from recapgen.model.naming import folded


class Trace(Struct, frozen=True):
    """What a folder is known by: marks of its files, of the lines of its notes, of ``who`` it is.

    ``called`` is the earlier name that the coach says it had; ``fresh`` says that it is to have
    none. A folder without ``who`` is one of somebody who is known already.
    """

    files: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    who: str = ""
    called: str | None = None
    fresh: bool = False


class KnownAgain(Struct):
    """``was`` says which of the folders of before each one is; the coach is to say of ``asked``.

    For each of those ``asked`` has the folders that it may be; for one that is a copy, ``copies``
    has the one that is still there.
    """

    was: dict[str, str] = field(default_factory=dict)
    asked: dict[str, tuple[str, ...]] = field(default_factory=dict)
    copies: dict[str, str] = field(default_factory=dict)


def know_again(before: Mapping[str, Trace], now: Mapping[str, Trace]) -> KnownAgain:
    """Each folder of ``now`` with the one of ``before`` that it is; one that is new has none.

    What most of the files are the same of, to the last byte, is the same folder, whatever it is
    called; so is one of the same person that shares any file that lies nowhere else. Unlike
    persons, lines alone, and two that fit alike are a question.
    """
    return _Knowing(before, now).go()


class _Knowing:
    def __init__(self, before: Mapping[str, Trace], now: Mapping[str, Trace]) -> None:
        self.before, self.now = before, now
        self.found = KnownAgain()
        self.taken: set[str] = set()
        self.at_home = {folded(key): key for key in before}
        self.holders: defaultdict[str, list[str]] = defaultdict(list)
        for key, trace in before.items():
            for each in {*trace.files, *trace.lines, *([trace.who] if trace.who else [])}:
                self.holders[each].append(key)

    def go(self) -> KnownAgain:
        for key, trace in self.now.items():
            said = None if trace.called is None else self.at_home.get(folded(trace.called))
            there = said is not None and folded(said) != folded(key) and self._there(said)
            if said is not None and self._free(said) and not there:
                self._is(key, said)
        for key in self.now:
            self._stay_at_home(key)
        while self._match_the_surest():
            pass
        for key in [k for k in self._loose() if not self.now[k].fresh]:
            candidates = tuple(e for e in self._near(key) if self._free(e) and self._likely(e, key))
            copied = None if candidates else self._copied(key)
            if copied is not None:
                self.found.copies[key] = copied
            if candidates or copied is not None:
                self.found.asked[key] = candidates
        return self.found

    def _stay_at_home(self, key: str) -> None:
        """A folder that is called as before, unless it plainly holds what another one held.

        One that is gone is no rival as long as the folder still holds anything that it held: of
        two lessons with the same shots, deleting one takes no link from the other.
        """
        home = self.at_home.get(folded(key))
        if home is None or key in self.found.was or not self._free(home):
            return
        one, other = self.before[home], self.now[key]
        mine = self._shared(home, key)
        if one.files != other.files and mine * 2 <= self._own(home).total():
            holds = bool({*one.files} & {*other.files})
            others = (e for e in self._near(key) if e != home and (self._there(e) or not holds))
            rivals = (e for e in others if self._sure(e, key))
            if any(self._rank(e, key) > self._rank(home, key) for e in rivals):
                return
            if not mine and one.who and other.who and one.who != other.who and not other.fresh:
                self.found.asked[key] = (home,)
                return
        self._is(key, home)

    def _match_the_surest(self) -> bool:
        """Each folder with the one that fits it best, if that is fitted best by it, and no tie."""
        best_of = {key: self._best(self._near(key), key) for key in self._loose()}
        best_for: defaultdict[str, list[str]] = defaultdict(list)
        for key, home in best_of.items():
            if home is not None and not self.now[key].fresh:
                best_for[home].append(key)
        matched = False
        for home, keys in sorted(best_for.items()):
            ranks = sorted((self._rank(home, key) for key in keys), reverse=True)
            if len(ranks) > 1 and ranks[0] == ranks[1]:
                continue
            self._is(max(keys, key=lambda key: self._rank(home, key)), home)
            matched = True
        return matched

    def _best(self, near: Iterable[str], key: str) -> str | None:
        fits = sorted((self._rank(e, key), e) for e in near if self._free(e) and self._sure(e, key))
        if not fits or (len(fits) > 1 and fits[-1][0] == fits[-2][0]):
            return None
        return fits[-1][1]

    def _loose(self) -> list[str]:
        return [k for k in self.now if k not in self.found.was and k not in self.found.asked]

    def _is(self, key: str, home: str) -> None:
        self.found.was[key] = home
        self.taken.add(home)

    def _free(self, home: str) -> bool:
        """Whether no folder of now is that one yet."""
        return home not in self.taken

    def _there(self, home: str) -> bool:
        return any(folded(home) == folded(key) for key in self.now)

    def _near(self, key: str) -> list[str]:
        """Those of before that have anything in common with it."""
        trace = self.now[key]
        marks = {*trace.files, *trace.lines, *([trace.who] if trace.who else [])}
        return sorted({home for each in marks for home in self.holders.get(each, ())})

    def _own(self, home: str) -> Counter[str]:
        """What it holds and no other does; all of it where that is nothing."""
        files = self.before[home].files
        return Counter(f for f in files if len(self.holders[f]) == 1) or Counter(files)

    def _shared(self, home: str, key: str) -> int:
        return (self._own(home) & Counter(self.now[key].files)).total()

    def _alike(self, home: str, key: str) -> int:
        return len({*self.before[home].lines} & {*self.now[key].lines})

    def _rank(self, home: str, key: str) -> tuple[int, int]:
        return self._shared(home, key), self._alike(home, key)

    def _sure(self, home: str, key: str) -> bool:
        one, other, shared = self.before[home], self.now[key], self._shared(home, key)
        if not shared or (one.who and other.who and one.who != other.who):
            return False
        alone = any(len(self.holders[each]) == 1 for each in one.files)
        same_person = one.who == other.who and alone
        return same_person or shared * 2 > self._own(home).total()

    def _likely(self, home: str, key: str) -> bool:
        one, other = self.before[home], self.now[key]
        if one.who and one.who == other.who:
            return True
        if self._shared(home, key) * 2 > self._own(home).total():
            return True
        return bool(one.lines) and self._alike(home, key) * 2 >= len(one.lines)

    def _copied(self, key: str) -> str | None:
        """Another folder of the same person, most of which is in this one, too."""
        who = self.now[key].who
        same = (e for e in self._near(key) if who and self.before[e].who == who)
        return next((e for e in same if self._shared(e, key) * 2 > self._own(e).total()), None)
