"""What the pages of one student must not tell: others' names and folders, private words, the path.

The rule for names, and its limits, is in ``names.py``; beyond it:

- A name of several words ("Marta Lind") counts as a whole, and each of its words alone as it may
  tell. A student shown as "Will B." is only met by that whole, which is the way out for a coach.
- A name with an s behind it, as in "Martas Schwung", is still that name where it has its capital.
- Words of the student's own name, the coach's and the place's never count, nor do the authors
  cited in a sentence of ours (Smith 2018), nor the coach's own lines at the foot of every page.
- Who agreed for another student is looked for like a student.
- A folder's name of one word counts like a name, one of several as a whole, with its own signs
  between them.
- In scripts that set no blanks between words, or hang endings on them (Japanese, Korean, Chinese,
  Thai), a name of two letters or more is looked for anywhere but in words of our own.
"""

import re
from collections.abc import Iterable
from functools import lru_cache

from msgspec import Struct, field

from recapgen.model.people import Coach, Student
from recapgen.model.problem import Code
from recapgen.privacy.details import (
    Contacts,
    Details,
    contacts_in,
    contacts_of,
    contacts_of_coach,
    details_of,
    guardians_of,
)
from recapgen.privacy.names import (
    PARTICLES,
    SHORT,
    SHORTEST,
    UNSPACED,
    Tells,
    Vocabulary,
    composed,
    fold,
    folded_words,
    spellings,
)

_TITLES = frozenset(
    {
        "mr", "mrs", "ms", "miss", "dr", "prof", "herr", "frau", "m", "mme", "mlle", "monsieur",
        "madame", "sr", "sra", "señor", "señora", "don", "doña",
    }
)  # fmt: skip
_RUN = 8  # words in a row that nobody writes twice by chance
_SHORTEST_PRIVATE = 4
_UNSPACED_RUN = 14  # letters in a row that nobody writes twice by chance


class Sought(Struct, frozen=True):
    """What a find would tell, what to show the coach of it, and how it must be written."""

    code: Code
    shown: str
    needs: Tells


class Forbidden(Struct, frozen=True):
    """What one site must not tell; folded text, but for ``root`` and ``folders``.

    ``words`` maps a single word to what it would tell; ``sequences`` the first of several words
    in a row to the rows that begin with it, ``folders`` to patterns; ``passages`` are left out.
    ``unspaced`` and ``unspaced_private`` are for scripts without blanks between words.
    """

    words: dict[str, Sought] = field(default_factory=dict)
    sequences: dict[str, list[tuple[str, Sought]]] = field(default_factory=dict)
    unspaced: dict[str, Sought] = field(default_factory=dict)
    folders: dict[str, list[tuple[re.Pattern[str], Sought]]] = field(default_factory=dict)
    private: list[str] = field(default_factory=list)
    unspaced_private: list[str] = field(default_factory=list)
    passages: list[str] = field(default_factory=list)
    details: Details = details_of(Contacts(), None)

    def names(self) -> frozenset[str]:
        """Every name and folder that is looked for, as it is shown to the coach."""
        rows = (sought for rows in self.sequences.values() for _, sought in rows)
        alone = (*self.words.values(), *self.unspaced.values())
        within = (sought for patterns in self.folders.values() for _, sought in patterns)
        return frozenset(sought.shown for sought in (*rows, *alone, *within))


class Named(Struct, frozen=True):
    """What a leak is known by: a student's names, folder name, and what else is theirs."""

    name: str
    key: str
    guardians: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    players: tuple[str, ...] = ()
    contacts: Contacts = Contacts()


def named(student: Student, key: str) -> Named:
    """Whose folder ``key`` is; every guardian on file counts, of earlier answers as well."""
    return Named(
        student.name,
        key,
        guardians_of(student),
        student.also_called,
        student.players,
        contacts_of(student),
    )


def forbidden_in(
    own: Student | None,
    everyone: Iterable[Named],
    *,
    coach: Coach,
    private: Iterable[str],
    root: str,
    vocabulary: Vocabulary,
    handed_over: bool = False,
) -> Forbidden:
    """What the site of ``own`` (None: the cases and the card, of no student) must not show.

    ``private`` are the texts of private.md, ``root`` the path of the lessons folder. What is
    ``handed_over`` to the student alone may hold what is the student's own.
    """
    everyone, private = tuple(everyone), tuple(private)
    called = (own.name, *own.also_called) if own else ()
    free = _words_of((coach.name, coach.place or "", *called))
    details = _details(own, everyone, coach, private, handed_over=handed_over)
    forbidden = Forbidden(private=list(_private_runs(private)), details=details)
    forbidden.unspaced_private.extend(_unspaced_runs(private))
    lines = (coach.contact, coach.greeting, coach.footer) if own is not None else (coach.contact,)
    forbidden.passages.extend(
        " ".join(text.split()) for text in (*vocabulary.sources, *filter(None, lines))
    )
    unspaced = (*_unspaced(free), *_unspaced(vocabulary.ordinary))
    gathering = _Gathering(forbidden, free, vocabulary, unspaced)
    gathering.add_path(root)
    own_guardians = {fold(each) for each in guardians_of(own)} if own is not None else set()
    for person in everyone:
        if own is None or person.key != own.key:
            gathering.add_person(person)
            for guardian in person.guardians:
                if fold(guardian) not in own_guardians:
                    gathering.add_guardian(guardian)
        gathering.add_folder(person.key)
    return forbidden


def _words_of(texts: Iterable[str]) -> frozenset[str]:
    return frozenset(word for text in texts for word in folded_words(text))


def _details(
    own: Student | None,
    everyone: Iterable[Named],
    coach: Coach,
    private: Iterable[str],
    *,
    handed_over: bool,
) -> Details:
    """Everybody's numbers and addresses but the coach's; of ``own`` only where many may read."""
    theirs = contacts_of(own) if own is not None else Contacts()
    sought = contacts_in(private)
    for person in everyone:
        sought = sought.and_those(person.contacts)
    sought = sought.less(theirs) if handed_over else sought.and_those(theirs)
    born = own.born if own is not None and not handed_over else None
    return details_of(sought.less(contacts_of_coach(coach)), born)


@lru_cache(maxsize=32)
def _unspaced(words: frozenset[str]) -> tuple[str, ...]:
    """Those of ``words`` whose script sets no blanks."""
    return tuple(composed(word) for word in words if UNSPACED.search(word))


class _Gathering(Struct, frozen=True):
    """What is gathered into ``forbidden``; ``free`` words belong on the pages and tell nothing.

    ``unspaced`` are the free and ordinary words of scripts that set no blanks.
    """

    forbidden: Forbidden
    free: frozenset[str]
    vocabulary: Vocabulary
    unspaced: tuple[str, ...]

    def add_person(self, person: Named) -> None:
        """Another student by every name; what files call them only where it means nothing else."""
        for name in (person.name, *person.also, *filter(self._says_who, person.players)):
            for spelling in spellings(name):
                self.add_name(spelling, name)

    def add_guardian(self, name: str) -> None:
        """Who agreed for another student; "Mrs" before the name tells nobody, nor "Mum"."""
        words = [word for word in name.split() if fold(word).strip(".") not in _TITLES]
        if len(words) > 1 or self._says_who(" ".join(words)):
            for spelling in spellings(" ".join(words)):
                self.add_name(spelling, name, Code.GUARDIAN_NAMED)

    def _says_who(self, name: str) -> bool:
        return any(
            len(part) > SHORT and self.vocabulary.needs(part) in (Tells.NOTHING, Tells.CAPITAL)
            for part in folded_words(name)
        )

    def add_name(self, name: str, shown: str, code: Code = Code.OTHER_STUDENT_NAMED) -> None:
        """Somebody's name in one spelling, as a whole and by its words."""
        parts = folded_words(name)
        if not parts or self.free.issuperset(parts):
            return
        shown = shown.title() if shown.islower() else shown
        shortened = len(parts) > 1 and any(len(part) < SHORTEST for part in parts)
        if len(parts) > 1:
            plain = not shortened and not any(map(self.vocabulary.tells, parts))
            needs = Tells.CAPITAL if plain else Tells.NOTHING
            row = (" ".join(parts), Sought(code, shown, needs))
            self.forbidden.sequences.setdefault(parts[0], []).append(row)
        for part in dict.fromkeys(parts):
            # of a name with an initial ("Will B.") only a word that means nothing else tells
            within = len(parts) > 1 and part in PARTICLES
            says_who = not shortened or self.vocabulary.tells(part)
            if says_who and not within and part not in self.free:
                self._add_word(part, code, shown)

    def add_folder(self, key: str) -> None:
        """A folder's name, as a whole; one of ordinary words and numbers gives nobody away."""
        parts = folded_words(key)
        if self.free.issuperset(parts):
            return
        if len(parts) == 1 or any(map(UNSPACED.search, parts)):
            for part in set(parts) - self.free:
                self._add_word(part, Code.FOLDER_NAME_SHOWN, key)
        elif any(map(self.vocabulary.tells, parts)):
            signs = r"[\W_]+" if " " in key.strip() else r"[-_.]+"
            whole = signs.join(map(re.escape, parts))
            sought = Sought(Code.FOLDER_NAME_SHOWN, key, Tells.NOTHING)
            self._add_pattern(parts[0], rf"(?<![^\W_]){whole}(?![^\W_])", sought)

    def add_path(self, root: str) -> None:
        """The path of the lessons, unless it is so short that an address may hold it."""
        if len(re.findall(r"[^/\\]+", root)) > 1:
            sought = Sought(Code.FOLDER_NAME_SHOWN, root, Tells.NOTHING)
            whole = rf"(?<![\w:/\\.-]){re.escape(fold(root))}(?![\w-])"
            self._add_pattern(folded_words(root)[0], whole, sought)

    def _add_pattern(self, first: str, whole: str, sought: Sought) -> None:
        self.forbidden.folders.setdefault(first, []).append((re.compile(whole), sought))

    def _add_word(self, part: str, code: Code, shown: str) -> None:
        """One word, as far as it tells by itself; with an s behind it, only by its capital."""
        if UNSPACED.search(part):
            self._add_unspaced(composed(part), Sought(code, shown, Tells.NOTHING))
            return
        needs = self.vocabulary.needs(part)
        if needs is None:
            return
        if len(part) <= SHORT and not shown.isupper():
            needs = max(needs, Tells.CAPITAL)
        self._keep(part, Sought(code, shown, needs))
        owned = f"{part}s"
        if needs is Tells.NOTHING and owned not in self.free and self.vocabulary.tells(owned):
            self._keep(owned, Sought(code, shown, Tells.CAPITAL))

    def _keep(self, word: str, sought: Sought) -> None:
        """The one that needs less, the first of two alike."""
        kept = self.forbidden.words.setdefault(word, sought)
        if sought.needs < kept.needs:
            self.forbidden.words[word] = sought

    def _add_unspaced(self, name: str, sought: Sought) -> None:
        """A name in a script without blanks, unless words that are always there hold it."""
        if len(name) >= SHORTEST and not any(name in word for word in self.unspaced):
            self.forbidden.unspaced.setdefault(name, sought)


def _private_runs(texts: Iterable[str]) -> Iterable[str]:
    """Each sentence of the private words as runs of eight words, a short one whole."""
    for text in texts:
        for sentence in re.split(r"[.!?;\n]+", text):
            words = folded_words(sentence)
            if len(words) >= _SHORTEST_PRIVATE:
                for start in range(max(1, len(words) - _RUN + 1)):
                    yield " ".join(words[start : start + _RUN])


def _unspaced_runs(texts: Iterable[str]) -> Iterable[str]:
    """The same of a script without blanks: runs of letters."""
    for text in texts:
        for sentence in re.split(r"[.!?;。！？；\n]+", text):
            letters = composed("".join(folded_words(sentence)))
            if len(letters) >= _UNSPACED_RUN and UNSPACED.search(letters):
                for start in range(len(letters) - _UNSPACED_RUN + 1):
                    yield letters[start : start + _UNSPACED_RUN]
