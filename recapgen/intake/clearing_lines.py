"""Lines of the coach's that clear a body, or wave away what the stop signs warn of.

A coach may add to the cautions, never take from them: only whoever treats a student says that
a body may be used. A phrase counts where no negation turns it round; a clearing that waits for
the clinician ("once your doctor has cleared you") is none. Nor does a coach advise a medicine.
"""

import re
from collections.abc import Iterator
from functools import cache

from msgspec import Struct

from recapgen.intake.clearing_phrases import TONGUES, Tongue
from recapgen.intake.clinicians_phrases import CLINICIANS, ClinicianSays
from recapgen.intake.yaml_map import brief
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.source import SourceRef

# Sentences, blank lines, items of a list, and lines that begin with a key.
_ENDS = re.compile(
    r"[.!?](?=\s|[\"'”»)\]}]|$)|[。！？…]|\n[ \t]*\n|\n(?=[ \t]*(?:[-*+>#]|\d+[.)])\s)"
    r"|\n(?=[ \t]*[\w' -]{1,30}:\s)"
)
_CLAUSE = re.compile(r"[,;:，、()–—]")
# Words that are not the coach's advice: the student's own, and what is to be left behind.
_NOT_ADVICE = re.compile(
    r"^(?:student (?:says|said|words)|letting[ _-]go(?:[ _-]of)?|let[ _-]go[ _-]of)[ \t]*:.*"
    r"(?:\n[ \t]+\S.*)*",
    re.MULTILINE | re.IGNORECASE,
)
_REMARK = re.compile(r"^[ \t]*#.*$", re.MULTILINE)
_WARNS = re.compile(
    r"\b(?:myth|not an option|not allowed|nonsense|old saying|mistake|bad idea|dangerous"
    r"|(?<!nothing )(?<!nothing is )wrong|makes? (?:it|things) worse"
    r"|unsinn|märchen|falsch|mito|mentira|error|bêtise|mythe|dangereux)\b"
)


class Clearing(Struct, frozen=True):
    """``at`` is where the phrase begins in the text, in characters from nought."""

    at: int
    phrase: str


def check_lines(
    text: str, file: str, words_from: int, costs: Cost | None = None
) -> Iterator[Problem]:
    """A problem for each line of ``text``, all of ``file``, that clears a body.

    The lines before ``words_from``, counted from 1, hold keys: there remarks and what is not
    the coach's own advice are passed over. ``costs`` is what each costs, if other than usual.
    """
    lines = text.split("\n")
    keys = _NOT_ADVICE.sub(_blank, _REMARK.sub(_blank, "\n".join(lines[: words_from - 1])))
    for found in clearings("\n".join((keys, *lines[words_from - 1 :])) if keys else text):
        before = text[: found.at]
        line, column = before.count("\n") + 1, found.at - before.rfind("\n")
        facts = {"found": brief(found.phrase)}
        yield Problem(Code.LINE_CLEARS_A_BODY, SourceRef(file, line, column), facts, costs)


def clearings(text: str) -> Iterator[Clearing]:
    """Every sentence that clears a body, waves pain away or advises a medicine, by its phrase."""
    start = 0
    for end in (*(match.end() for match in _ENDS.finditer(text)), len(text)):
        sentence = _plain(text[start:end])
        found = _first(sentence) if sentence.strip() else None
        if found is not None:
            at = start + found[0]
            yield Clearing(at, " ".join(text[at : start + found[1]].split()))
        start = end


def speaks_of_pain(text: str) -> bool:
    """Whether ``text`` tells of pain, in any language of the pages; not that there is none."""
    return any(spoken.tells_of_pain(_plain(text)) for spoken in _tongues())


def _plain(text: str) -> str:
    """``text`` in small letters and as long as it was, with blanks and apostrophes of one kind."""
    small = "".join(low if len(low := c.lower()) == 1 else c for c in text)
    return re.sub(r"[\s*_\u00a0\u202f]", " ", small).replace("’", "'").replace("ʼ", "'")


def _first(sentence: str) -> tuple[int, int] | None:
    """Where the first phrase that counts begins and ends."""
    squeezed, places = _squeeze(sentence)
    for spoken in _tongues():
        found = spoken.first(squeezed)
        if found is not None:
            return places[found[0]], places[found[1] - 1] + 1
    return None


def _squeeze(text: str) -> tuple[str, list[int]]:
    """``text`` with single blanks, and for each character its place in ``text``."""
    kept = [i for i, c in enumerate(text) if c != " " or (i and text[i - 1] != " ")]
    return "".join(text[i] for i in kept), kept


def _blank(match: re.Match[str]) -> str:
    return re.sub(r"[^\n]", " ", match[0])


class _Spoken:
    """One language's phrases, ready to look for."""

    def __init__(self, tongue: Tongue, clinician: ClinicianSays) -> None:
        self._pain = re.compile(tongue.pain)
        self._painless = re.compile(tongue.painless)
        self._waves_off = [re.compile(phrase) for phrase in tongue.waves_off]
        self._goes_on = [re.compile(phrase) for phrase in tongue.goes_on]
        self._clears = [re.compile(phrase) for phrase in (*tongue.clears, *clinician.well)]
        self._medicine = [re.compile(phrase) for phrase in clinician.medicine]
        self._asks = re.compile(clinician.asks)
        self._help = re.compile(tongue.seeks_help)
        self._not_before = re.compile(tongue.not_before)
        self._not_after = re.compile(tongue.not_after)
        self._only_if = re.compile(tongue.only_if)

    def first(self, sentence: str) -> tuple[int, int] | None:
        if _WARNS.search(sentence):
            return None
        return next((match.span() for match in self._all(sentence)), None)

    def tells_of_pain(self, text: str) -> bool:
        return self._pain.search(self._painless.sub(lambda m: " " * len(m[0]), text)) is not None

    def _all(self, sentence: str) -> Iterator[re.Match[str]]:
        yield from self._met(self._waves_off[:1], sentence)  # "no pain, no gain"
        told = self._painless.sub(lambda m: " " * len(m[0]), sentence)
        yield from self._met(self._waves_off[1:], told)
        for match in self._met(self._clears, sentence):
            if not self._only_if.search(sentence[: match.start()]):
                yield match
        if not self._asks.search(sentence):
            yield from self._met(self._medicine, sentence)
        if self._pain.search(told) and not self._help.search(sentence):
            yield from self._met(self._goes_on, told)

    def _met(self, phrases: list[re.Pattern[str]], sentence: str) -> Iterator[re.Match[str]]:
        for phrase in phrases:
            for match in phrase.finditer(sentence):
                clause = _CLAUSE.split(sentence[: match.start()])[-1]
                turned = self._not_before.search(clause) or self._not_after.match(
                    sentence[match.end() :]
                )
                if not turned:
                    yield match


@cache
def _tongues() -> tuple[_Spoken, ...]:
    return tuple(_Spoken(*spoken) for spoken in zip(TONGUES, CLINICIANS, strict=True))
