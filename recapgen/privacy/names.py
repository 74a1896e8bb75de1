"""How a name stands in a text that people read, and how a student's name must stand to tell.

A text is taken as folded words (no case, no accents, no invisible signs), each with the best
that any of its occurrences says for a name: its capital inside a sentence, its capital where a
sentence begins or where every word has one, or neither. Scripts without capitals always say the
most. What a name needs depends on what else the word may mean:

- Nothing that we know (Marta): it tells however it is written; one of three letters or fewer
  only with its capital, since so many short words are something else.
- Something that is seldom said (a baker): with its capital.
- An everyday word (will, bell, park): with its capital inside a sentence, so not at the start.
- A word of the calendar, a particle (de, von), a word that the language writes with a capital
  wherever it stands (German nouns): never alone, only within the whole name.
"""

import re
import unicodedata
from collections.abc import Iterable
from enum import IntEnum
from functools import lru_cache

from msgspec import Struct

SHORTEST = 2
SHORT = 3
_LONG_WORD = 4  # letters; shorter ones are written small in the middle of a title
_UNSPACED_SIGNS = "\u0e00-\u0eff\u1000-\u109f\u1100-\u11ff\u1780-\u17ff\u2e80-\ud7ff\uf900-\ufaff"
UNSPACED = re.compile(f"[{_UNSPACED_SIGNS}]")  # of folded text: Hangul is taken apart there
_WORD = re.compile(rf"[{_UNSPACED_SIGNS}]+|[^\W_{_UNSPACED_SIGNS}]+")
_ENDS_SENTENCE = frozenset(".!?:;…\"“”„«»‘’'([{)]}–—-•·|/>*#。！？")
_WITHIN_NAMES = frozenset("-‐‑'’./")
_HIDDEN = frozenset({"Mn", "Mc", "Me", "Cf"})
_PLAIN = str.maketrans(
    {"ı": "i", "ł": "l", "đ": "d", "ø": "o", "æ": "ae", "œ": "oe", "ð": "d", "þ": "th"}
)
_SPELT_OUT = str.maketrans(
    {"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "Ä": "Ae", "Ö": "Oe", "Ü": "Ue", "Å": "Aa"}
)
PARTICLES = frozenset(
    "aus bin da dal de degli dei del della den der des di do dos du e el von vom het i ibn la las"  # noqa: SIM905  (reads as a list)
    " le les los mc o of op st ten ter the und y zu zum zur".split()
)


class Tells(IntEnum):
    """How much the way a word is written says for a name."""

    NOTHING = 0
    CAPITAL = 1
    CAPITAL_INSIDE = 2


class Vocabulary(Struct, frozen=True):
    """Words a language needs for itself: ``ordinary`` ones, and those of its ``calendar``.

    ``seldom`` are words that are known but hardly said; ``capitals`` those written with a
    capital where none begins a sentence; ``sources`` the sentences of our own that cite an
    author, who may share a student's name.
    """

    ordinary: frozenset[str]
    calendar: frozenset[str]
    sources: tuple[str, ...] = ()
    capitals: frozenset[str] = frozenset()
    seldom: frozenset[str] = frozenset()

    def tells(self, word: str) -> bool:
        """Does a folded ``word`` by itself point at somebody?"""
        return self.needs(word) is Tells.NOTHING

    def needs(self, word: str) -> Tells | None:
        """How a folded ``word`` must be written to be a name by itself; None: it never is."""
        if len(word) < SHORTEST or word.isdigit():
            return None
        if word in self.calendar or word in self.capitals:
            return None
        if word in self.ordinary or word in PARTICLES:
            return Tells.CAPITAL_INSIDE
        return Tells.CAPITAL if word in self.seldom else Tells.NOTHING


class Heard(Struct, frozen=True):
    """A text as names are looked for in it.

    ``words`` maps each folded word to the most that it says for a name, ``line`` has them in
    order with a blank round each, ``capital_line`` the same with a dash for every word that
    has no capital; ``letters`` is the text of scripts without blanks.
    """

    words: dict[str, Tells]
    line: str
    capital_line: str
    letters: str


@lru_cache(maxsize=8192)  # the pages of a site say much alike
def hear(text: str) -> Heard:
    """Take ``text`` as words."""
    plain = _shown(unicodedata.normalize("NFC", text))
    found = list(_WORD.finditer(plain))
    words: dict[str, Tells] = {}
    line, capitals = [], []
    for sentence in _sentences(plain, found):
        titled = [_has_capital(word) for word in sentence]
        says = _says_in(sentence, titled)
        for word, capital, tells in zip(sentence, titled, says, strict=True):
            for part in folded_words(word):
                words[part] = max(tells, words.get(part, Tells.NOTHING))
                line.append(part)
                capitals.append(part if capital else "-")
    running = f" {' '.join(line)} "
    letters = composed(running) if UNSPACED.search(running) else ""
    return Heard(words, running, f" {' '.join(capitals)} ", letters)


def fold(text: str) -> str:
    """No case, no accents, no invisible signs, and for a letter its nearest plain one."""
    if text.isascii():
        return text.lower()
    return _shown(unicodedata.normalize("NFKD", text.casefold())).casefold().translate(_PLAIN)


def spellings(name: str) -> Iterable[str]:
    """``name``, and where it has umlauts the way it is typed where there are none (Mueller)."""
    whole = unicodedata.normalize("NFC", name)
    yield whole
    spelt_out = whole.translate(_SPELT_OUT)
    if spelt_out != whole:
        yield spelt_out


def folded_words(text: str) -> list[str]:
    """The words of ``text``, folded; a change of script parts them."""
    return _WORD.findall(fold(text))


def composed(folded: str) -> str:
    """Hangul put together again, so that no syllable is met in half of another."""
    return unicodedata.normalize("NFC", folded)


def _sentences(plain: str, found: Iterable[re.Match[str]]) -> Iterable[list[str]]:
    sentence: list[str] = []
    end = 0
    for match in found:
        if sentence and _parts(plain[end : match.start()], plain, match):
            yield sentence
            sentence = []
        sentence.append(match.group())
        end = match.end()
    if sentence:
        yield sentence


def _parts(between: str, plain: str, match: re.Match[str]) -> bool:
    """Does a sentence end in what stands ``between`` two words? Not in Anna-Lena or O'Brien."""
    if "\n" in between:
        return True
    around = plain[max(match.start() - 2, 0) : match.start()]
    within = around[:1].isalnum() and around[1:] in _WITHIN_NAMES
    return not within and between.strip()[-1:] in _ENDS_SENTENCE


def _says_in(sentence: list[str], titled: list[bool]) -> list[Tells]:
    """The first word's capital says little, and so does any where all have one."""
    long = [i for i, word in enumerate(sentence) if i and len(word) >= _LONG_WORD]
    says = []
    for i, (word, capital) in enumerate(zip(sentence, titled, strict=True)):
        others = [titled[j] for j in long if j != i]
        heading = len(others) > 1 and all(others)
        if _is_caseless(word):
            says.append(Tells.CAPITAL_INSIDE)
        elif not capital:
            says.append(Tells.NOTHING)
        else:
            says.append(Tells.CAPITAL if i == 0 or heading else Tells.CAPITAL_INSIDE)
    return says


def _has_capital(word: str) -> bool:
    """As a name has it, not as shouting has; a script without capitals needs none."""
    return _is_caseless(word) or (word[0].isupper() and (len(word) == 1 or not word.isupper()))


def _is_caseless(word: str) -> bool:
    return word[0].isalpha() and word[0].title() == word[0] and not word[0].isupper()


def _shown(text: str) -> str:
    """``text`` less what stands on other letters, or is not seen."""
    if text.isascii():
        return text
    return "".join(sign for sign in text if unicodedata.category(sign) not in _HIDDEN)
