"""What a coach wrote down for next time, wherever it stands, and what was left as a question."""

import re
from collections.abc import Iterable, Iterator

_PHRASES = (
    "next time", "next lesson", "next session", "next visit",
    "nächstes mal", "nächsten mal", "nächste mal", "nächste stunde", "nächsten stunde",
    "prochaine fois", "prochaine leçon", "prochaine séance", "prochain cours",
    "próxima vez", "próxima clase", "próxima lección", "próxima sesión",
    "次回", "次のレッスン",
    "다음 시간", "다음 번", "다음번", "다음에", "다음 레슨",
)  # fmt: skip
_ENDS = re.compile(r"(?<=[.!?…])[\"”»)]*\s+|(?<=[。！？])")
_PARTS = re.compile(r"\n\s*\n|\n\s*(?=[-*+•]\s|\d+[.)]\s)|\n(?=#)")
_MARKS = re.compile(r"^\s*(?:[-*+•>]|#+|\d+[.)])\s+|[*_`]+", re.MULTILINE)
_ASKS = re.compile(r"^(?:ask|frag|fragen|demander|demande|preguntar|pregunta)\b", re.IGNORECASE)
_QUESTION = ("?", "？")


def sentences(text: str) -> tuple[str, ...]:
    """The sentences of Markdown, without its marks; a line of a list is one at least."""
    return tuple(_sentences(text))


def said_for_next_time(texts: Iterable[str | None]) -> tuple[str, ...]:
    """Those sentences of ``texts`` that speak of the next lesson, each once."""
    found = (each for text in texts if text for each in sentences(text))
    return tuple(dict.fromkeys(each for each in found if _of_next_time(each)))


def left_open(texts: Iterable[str | None]) -> tuple[str, ...]:
    """Those sentences that ask something or are to be asked, each once."""
    found = (each for text in texts if text for each in sentences(text))
    return tuple(
        dict.fromkeys(
            each
            for each in found
            if (each.endswith(_QUESTION) or _ASKS.match(each)) and not _of_next_time(each)
        )
    )


def shortened(text: str, most: int) -> tuple[str, bool]:
    """``text`` up to ``most`` letters, to the end of a part or a sentence; was it cut?"""
    if len(text) <= most:
        return text, False
    ends = [found.start() for found in re.finditer(r"\n\s*\n", text) if found.start() <= most]
    ends = ends or [found.start() for found in _ENDS.finditer(text) if found.start() <= most]
    ends = ends or [found.start() for found in re.finditer(r"\s", text) if found.start() <= most]
    return text[: ends[-1] if ends else most].rstrip(), True


def _sentences(text: str) -> Iterator[str]:
    for part in _PARTS.split(text):
        plain = " ".join(_MARKS.sub("", part).split())
        yield from filter(None, (each.strip() for each in _ENDS.split(plain)))


def _of_next_time(sentence: str) -> bool:
    folded = sentence.casefold()
    return any(phrase in folded for phrase in _PHRASES)
