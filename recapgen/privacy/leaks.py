"""What must not be on a page: another student's name, the coach's own words, outside addresses.

What is looked at is what people can read, see or hear (``tools/html_reading.py``): never our own
file names, markup, or pictures written into a page. What is looked for is in ``forbidden.py``.
In an address that somebody typed, and in files' names, only a word that means nothing else tells.

An everyday word at the start of a sentence is not found, nor a nickname that nobody wrote down:
this is the second wall, no page is made from more than one student's folder.
"""

import re
from collections.abc import Callable, Iterable, Iterator
from pathlib import PurePosixPath
from urllib.parse import unquote, urlsplit

from msgspec import Struct, field

from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.source import SourceRef
from recapgen.privacy.forbidden import Forbidden, Sought
from recapgen.privacy.names import SHORT, Heard, Tells, composed, fold, hear
from recapgen.privacy.outside import fetched_outside, outside
from recapgen.tools.html_reading import ReadSite, css_addresses

_OURS = "assets"
_NAMES = frozenset({Code.OTHER_STUDENT_NAMED, Code.GUARDIAN_NAMED, Code.FOLDER_NAME_SHOWN})


class Leak(Struct, frozen=True):
    """``word`` is what to show the coach; ``near`` the folded text that it stands in."""

    code: Code
    page: str
    word: str
    near: str

    @property
    def said(self) -> tuple[Code, str, str]:
        """What is said in which words, on whatever page."""
        return (self.code, self.word, self.near)


class Up(Struct, frozen=True):
    """What is up in the place of a staged site, and the names it was clean of when made."""

    read: Callable[[], ReadSite]
    knew: frozenset[str]


def find_leaks(site: ReadSite, forbidden: Forbidden) -> tuple[Leak, ...]:
    """Every leak of a site that is read, each word once a text."""
    found: dict[Leak, None] = {}
    search = _Search(forbidden)
    for path, texts in site.readable():
        found.update(dict.fromkeys(search.in_texts(path, texts)))
    for path, page in site.pages.items():
        found.update({Leak(Code.OUTSIDE_ADDRESS, path, a, a): None for a in fetched_outside(page)})
        for pointer in page.pointers:
            if pointer.followed:
                shown = forbidden.details.contacts_in(unquote(pointer.address))
                found.update(dict.fromkeys(Leak(Code.DETAIL_SHOWN, path, s, s) for s in shown))
                words = _address_words(pointer.address)
                found.update(dict.fromkeys(_told_by_address(path, words, forbidden)))
    for path, css in site.all_styles():
        fetched = filter(outside, css_addresses(css))
        found.update({Leak(Code.OUTSIDE_ADDRESS, path, a, a): None for a in fetched})
    for path in site.files:
        parts = PurePosixPath(path).with_suffix("").parts
        if parts[0] != _OURS:
            found.update(dict.fromkeys(_told_by_address(path, " ".join(parts), forbidden)))
    return tuple(found)


def leaks(
    site: ReadSite,
    forbidden: Forbidden,
    where: SourceRef,
    costs: Cost,
    *,
    up: Up | None = None,
    at: Callable[[Leak], SourceRef | None] = lambda _: None,
) -> tuple[Problem, ...]:
    """Every leak of a staged site as a problem, each word once a page or file.

    Words that are ``up`` already, and name somebody who came since, are only reported. ``at`` knows
    in which line of the coach's a word stands, if known; else it is reported at ``where``.
    """
    found = find_leaks(site, forbidden)
    before = (
        {leak.said for leak in since_then(up, forbidden)} if up is not None and found else set()
    )
    once: dict[tuple[Code, str, str], Problem] = {}
    for leak in sorted(found, key=lambda leak: leak.said in before):
        facts = {"page": leak.page, "word": leak.word}
        old = leak.said in before
        code, cost = (Code.STUDENT_NAMED_BEFORE, None) if old else (leak.code, costs)
        if (leak.code, leak.page, leak.word) not in once:
            place = at(leak) or where
            once[leak.code, leak.page, leak.word] = Problem(code, place, facts, cost)
    return tuple(once.values())


def since_then(up: Up, forbidden: Forbidden) -> frozenset[Leak]:
    """Leaks there of names that no student had when it was made."""
    found = find_leaks(up.read(), forbidden)
    return frozenset(leak for leak in found if leak.code in _NAMES and leak.word not in up.knew)


def all_along(up: Up, forbidden: Forbidden, own: frozenset[Code]) -> bool:
    """Whether it shows what was forbidden when it was made, or a leak of its ``own`` codes."""
    return any(
        leak.code in own or (leak.code in _NAMES and leak.word in up.knew)
        for leak in find_leaks(up.read(), forbidden)
    )


def find_line(leak: Leak, text: str, forbidden: Forbidden) -> int | None:
    """The line of ``text``, a file of the coach's, in which the word of ``leak`` stands."""
    for number, line in enumerate(text.splitlines(), 1):
        for met in _Search(forbidden).in_texts(leak.page, (line,)):
            if (met.code, met.word) == (leak.code, leak.word):
                return number
    return None


class _Search(Struct, frozen=True):
    """A search of texts for what is ``forbidden``; pages share most of theirs, read once."""

    forbidden: Forbidden
    _heard: dict[str, tuple[str, tuple[Sought, ...]]] = field(default_factory=dict)

    def in_texts(self, path: str, texts: Iterable[str]) -> Iterator[Leak]:
        """What texts of one page or file tell, each by itself; private words, as they run on."""
        lines = []
        for text in texts:
            line, met = self._in_text(text)
            lines.append(line.strip())
            for sought in met:
                yield Leak(sought.code, path, sought.shown, line)
        running = " ".join(lines)
        private, unspaced = self.forbidden.private, self.forbidden.unspaced_private
        run = next((run for run in private if f" {run} " in f" {running} "), None)
        squeezed = composed(running.replace(" ", "")) if unspaced else ""
        row = next((row for row in unspaced if row in squeezed), None)
        for seen in filter(None, (run, row)):
            yield Leak(Code.PRIVATE_WORDS_SHOWN, path, seen, seen)

    def _in_text(self, text: str) -> tuple[str, tuple[Sought, ...]]:
        """The text folded, and what is met in it."""
        if text not in self._heard:
            plain = _less(self.forbidden.passages, text)
            heard = hear(plain)
            names, folders = (
                _names_in(heard, self.forbidden),
                _folders_in(text, heard, self.forbidden),
            )
            details = (
                Sought(Code.DETAIL_SHOWN, shown, Tells.NOTHING)
                for shown in self.forbidden.details.in_text(plain, heard)
            )
            self._heard[text] = heard.line, (*names, *folders, *details)
        return self._heard[text]


def _names_in(heard: Heard, forbidden: Forbidden) -> Iterator[Sought]:
    for word in forbidden.words.keys() & heard.words.keys():
        if heard.words[word] >= forbidden.words[word].needs:
            yield forbidden.words[word]
    for first in forbidden.sequences.keys() & heard.words.keys():
        for row, sought in forbidden.sequences[first]:
            line = heard.line if sought.needs is Tells.NOTHING else heard.capital_line
            if f" {row} " in line:
                yield sought
    if heard.letters:
        yield from (sought for name, sought in forbidden.unspaced.items() if name in heard.letters)


def _folders_in(text: str, heard: Heard, forbidden: Forbidden) -> Iterator[Sought]:
    for first in forbidden.folders.keys() & heard.words.keys():
        shown = fold(text)
        yield from (sought for whole, sought in forbidden.folders[first] if whole.search(shown))


def _told_by_address(path: str, words: str, forbidden: Forbidden) -> Iterator[Leak]:
    """Nobody writes capitals in an address, so only a word without another meaning counts."""
    heard = hear(words)
    for word in forbidden.words.keys() & heard.words.keys():
        sought = forbidden.words[word]
        if sought.needs is Tells.NOTHING and len(word) > SHORT:
            yield Leak(sought.code, path, sought.shown, heard.line)


def _address_words(address: str) -> str:
    """What somebody chose in an address: not the host, the ending, or a place within a page."""
    try:
        parts = urlsplit(address)
    except ValueError:  # the site check tells it as a dead link
        return ""
    if parts.scheme == "data" or (not parts.netloc and parts.path.split("/")[0] in ("", _OURS)):
        return ""
    path = re.sub(r"\.\w{1,5}$", "", parts.path)
    return unquote(f"{path} {parts.query}")


def _less(passages: Iterable[str], text: str) -> str:
    """``text`` less the passages that may name whom they like."""
    plain = "\n".join(" ".join(line.split()) for line in text.splitlines())
    for passage in passages:
        plain = plain.replace(passage, " ")
    return plain
