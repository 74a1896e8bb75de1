"""What must not be on a page: another student's name, the coach's own words, outside addresses.

The rule for names, and its limits. A name is looked for as a whole word, whatever its case,
accents or spelling in Unicode, in all text, attributes, comments and file names.

- A name of several words ("Marta Lind") counts as a whole, and each of its words counts alone.
- A word that is also an ordinary one (Will, Rose, Mark) says nothing by itself. Alone it counts
  only as a one-word name, written with its capital in the middle of a sentence. A student shown
  as "Will B." is therefore only met by his full shown name, which is the way out for a coach.
  A name typed small (will) is looked for with its capital all the same.
- A word of the calendar (May, April) counts only as part of a longer name: every date has it.
  So does a word that our own sentences write with a capital, as German does its nouns.
- Words of the student's own name, the coach's and the place's never count, nor do the authors
  cited in a sentence of ours (Smith 2018).
- A folder's name counts as a whole, unless it is made of ordinary words and numbers.

- In scripts that set no blanks between words, or hang endings on them (Japanese, Korean, Chinese),
  a name of two letters or more is looked for anywhere, unless a sentence of our own holds it.

So a one-word ordinary name at the start of a sentence, and a nickname nobody declared, are not
found. The check is the second wall: no page is made from more than one student's folder.
"""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import PurePosixPath

from recapgen.model.people import Coach, Student
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.source import SourceRef
from recapgen.tools.html_reading import ReadPage, ReadSite, css_addresses

_RUN = 8  # words in a row that nobody writes twice by chance
_SHORTEST_PRIVATE = 4
_SHORTEST_NAME = 2
_UNSPACED = re.compile("[\u1100-\u11ff\u2e80-\ud7ff\uf900-\ufaff]")  # folded: Hangul is taken apart
_UNSPACED_RUN = 14  # letters in a row that nobody writes twice by chance
_ENDS_SENTENCE = frozenset(".!?:;…\"“”„«»‘’'([{–—-•·|/>*#")


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Words a language needs for itself: ``ordinary`` ones, and those of its ``calendar``.

    ``sources`` are the sentences of our own that cite an author, who may share a student's name;
    ``capitals`` the words that they write with a capital where none begins a sentence.
    """

    ordinary: frozenset[str]
    calendar: frozenset[str]
    sources: tuple[str, ...] = ()
    capitals: frozenset[str] = frozenset()

    def tells(self, word: str) -> bool:
        """Does a folded ``word`` by itself point at somebody?"""
        return not (word.isdigit() or word in self.ordinary or word in self.calendar)


@dataclass(frozen=True, slots=True)
class Unsaid:
    """What one site must not tell. All but ``plain_names`` and ``raw`` is folded text.

    ``sequences`` maps several words in a row, ``words`` a single word, to what to show the
    coach; ``plain_names`` are the names made of ordinary words; ``sources`` are not looked at.
    ``unspaced`` and ``unspaced_private`` are the same in scripts without blanks between words.
    """

    sequences: dict[str, tuple[Code, str]]
    words: dict[str, tuple[Code, str]]
    plain_names: list[str]
    private: list[str]
    raw: list[str]
    sources: tuple[str, ...]
    unspaced: dict[str, tuple[Code, str]] = field(default_factory=dict)
    unspaced_private: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Named:
    """What a leak is known by: a student's shown name and folder name."""

    name: str
    key: str


def unsaid(
    own: Student | None,
    everyone: Iterable[Named],
    *,
    coach: Coach,
    private: Iterable[str],
    root: str,
    vocabulary: Vocabulary,
) -> Unsaid:
    """What the site of ``own`` (None: the cases and the card, of nobody) must not tell.

    ``private`` are the texts of private.md, ``root`` the path of the lessons folder.
    """
    free = {*_words(coach.name), *_words(coach.place or ""), *_words(own.name if own else "")}
    sources = tuple(_folded(source) for source in vocabulary.sources)
    private = tuple(private)
    told = Unsaid({}, {}, [], list(_private_runs(private)), [root], sources)
    told.unspaced_private.extend(_unspaced_runs(private))
    for person in everyone:
        if own is None or person.key != own.key:
            _add_name(told, person.name, free, vocabulary)
        _add_folder(told, person.key, free, vocabulary)
    return told


def leaks(site: ReadSite, told: Unsaid, where: SourceRef, costs: Cost) -> tuple[Problem, ...]:
    """Every leak of a staged site, each word once a page or file."""
    found: dict[tuple[Code, str, str], None] = {}
    for path, page in site.pages.items():
        found.update({(code, path, word): None for code, word in _told_on(page, told)})
        found.update({(Code.OUTSIDE_ADDRESS, path, a): None for a in _fetched_outside(page)})
    for path, css in site.all_styles():
        outside = filter(_outside, css_addresses(css))
        found.update({(Code.OUTSIDE_ADDRESS, path, address): None for address in outside})
    for path in site.files:
        stems = " ".join(PurePosixPath(path).with_suffix("").parts)
        found.update({(code, path, word): None for code, word in _names_in(_folded(stems), told)})
    return tuple(
        Problem(code, where, {"page": page, "word": word}, costs) for code, page, word in found
    )


def _add_name(told: Unsaid, name: str, free: set[str], vocabulary: Vocabulary) -> None:
    """Another student's shown name, as a whole and by its words."""
    parts = _words(name)
    found = (Code.OTHER_STUDENT_NAMED, name)
    if not parts or free.issuperset(parts):
        return
    if len(parts) == 1 and parts[0] in vocabulary.calendar | vocabulary.capitals:
        return
    if vocabulary.ordinary.issuperset(parts):
        written = name.strip()
        told.plain_names.append(written.title() if written.islower() else written)
    elif len(parts) > 1:
        told.sequences[" ".join(parts)] = found
    for part in set(parts) - free:
        if _UNSPACED.search(part):
            _add_unspaced(told, part, found, free, vocabulary)
        elif len(part) >= _SHORTEST_NAME and vocabulary.tells(part):
            told.words[part] = found


def _add_folder(told: Unsaid, key: str, free: set[str], vocabulary: Vocabulary) -> None:
    """A folder's name, as a whole; one of ordinary words and numbers tells nothing."""
    parts = _words(key)
    if not free.issuperset(parts) and any(vocabulary.tells(part) for part in parts):
        kept = told.words if len(parts) == 1 else told.sequences
        kept.setdefault(" ".join(parts), (Code.FOLDER_NAME_SHOWN, key))
        for part in filter(_UNSPACED.search, parts):
            _add_unspaced(told, part, (Code.FOLDER_NAME_SHOWN, key), free, vocabulary)


def _add_unspaced(
    told: Unsaid, part: str, found: tuple[Code, str], free: set[str], vocabulary: Vocabulary
) -> None:
    """A name in a script without blanks, unless words that are always there hold it."""
    name = _composed(part)
    held = any(name in _composed(word) for word in (*free, *vocabulary.ordinary))
    if len(name) >= _SHORTEST_NAME and not held:
        told.unspaced.setdefault(name, found)


def _told_on(page: ReadPage, told: Unsaid) -> Iterable[tuple[Code, str]]:
    yield from ((Code.FOLDER_NAME_SHOWN, raw) for raw in told.raw if raw in page.source)
    texts = [*page.texts, *(pointer.address for pointer in page.pointers)]
    folded = "\n".join(_folded(text) for text in texts)
    yield from _names_in(_without(told.sources, folded), told)
    running = folded.replace("\n", " ")
    for run in told.private:
        if f" {run} " in running:
            yield Code.PRIVATE_WORDS_SHOWN, run
            break
    squeezed = _composed(folded).replace("\n", "").replace(" ", "") if told.unspaced_private else ""
    seen = next((run for run in told.unspaced_private if run in squeezed), None)
    if seen is not None:
        yield Code.PRIVATE_WORDS_SHOWN, seen
    for name in told.plain_names:
        if any(_stands_as_name(name, text) for text in page.texts):
            yield Code.OTHER_STUDENT_NAMED, name


def _names_in(folded: str, told: Unsaid) -> Iterable[tuple[Code, str]]:
    """``folded`` has a blank before and after every word, as ``_folded`` writes it."""
    present = set(folded.split())
    yield from {told.words[word] for word in told.words.keys() & present}
    yield from {found for words, found in told.sequences.items() if f" {words} " in folded}
    if told.unspaced:
        composed = _composed(folded)
        yield from {found for name, found in told.unspaced.items() if name in composed}


def _without(sources: Iterable[str], folded: str) -> str:
    """``folded`` less the sentences of ours that cite somebody."""
    for source in sources:
        folded = folded.replace(source, " ")
    return folded


def _stands_as_name(name: str, text: str) -> bool:
    """Is ``name`` written with its capitals where an ordinary word would have none?"""
    exactly = rf"(?<!\w){re.escape(unicodedata.normalize('NFC', name))}(?!\w)"
    for match in re.finditer(exactly, unicodedata.normalize("NFC", text)):
        before = text[: match.start()].rstrip()
        if " " in name or (before and before[-1] not in _ENDS_SENTENCE):
            return True
    return False


def _private_runs(texts: Iterable[str]) -> Iterable[str]:
    """Each sentence of the private words as runs of eight words, a short one whole."""
    for text in texts:
        for sentence in re.split(r"[.!?;\n]+", text):
            words = _words(sentence)
            if len(words) >= _SHORTEST_PRIVATE:
                for start in range(max(1, len(words) - _RUN + 1)):
                    yield " ".join(words[start : start + _RUN])


def _unspaced_runs(texts: Iterable[str]) -> Iterable[str]:
    """The same of a script without blanks: runs of letters."""
    for text in texts:
        for sentence in re.split(r"[.!?;。！？；\n]+", text):
            letters = _composed("".join(_words(sentence)))
            if len(letters) >= _UNSPACED_RUN and _UNSPACED.search(letters):
                for start in range(len(letters) - _UNSPACED_RUN + 1):
                    yield letters[start : start + _UNSPACED_RUN]


def _composed(folded: str) -> str:
    """Hangul put together again, so that no syllable is met in half of another."""
    return unicodedata.normalize("NFC", folded)


def _words(text: str) -> list[str]:
    """The words of ``text``, folded: no case, no accents, no invisible signs."""
    parts = unicodedata.normalize("NFKD", text.casefold())
    kept = (sign for sign in parts if unicodedata.category(sign) not in ("Mn", "Cf"))
    return re.findall(r"[^\W_]+", "".join(kept).casefold())


def _folded(text: str) -> str:
    return f" {' '.join(_words(text))} "


def _fetched_outside(page: ReadPage) -> Iterable[str]:
    for pointer in page.pointers:
        if _outside(pointer.address):
            plain = pointer.address.lower().startswith(("https://", "http://", "mailto:", "tel:"))
            told_on = pointer.address.lower().startswith("http") and not pointer.private
            if not pointer.followed or not plain or told_on:
                yield pointer.address


def _outside(address: str) -> bool:
    """Does it leave the site? A picture written into the page itself (data:) does not."""
    compact = re.sub(r"[\x00-\x20]+", "", address).lower()
    leaves = re.match(r"[a-z][a-z0-9+.-]*:|//|\\\\|/\\|\\/", compact) is not None
    return leaves and not compact.startswith(("data:image/", "data:,", "data:font/"))
