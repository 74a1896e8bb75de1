"""Notes pasted from a messenger: the time and the name that it sets before each message."""

import re
from collections.abc import Callable, Iterator, Sequence

from msgspec import Struct

_DAY = r"(?:\d{4}[./-] ?\d{1,2}[./-] ?\d{1,2}\.?|\d{1,2}[./-] ?\d{1,2}[./-] ?\d{2,4}\.?)"
_TIME = (
    r"(?:(?:오전|오후|午前|午後) ?)?\d{1,2}[:.]\d{2}(?:[:.]\d{2})?"
    r"(?:[ \u00a0\u202f]?[AaPp]\.?[Mm]\.?)?"
)
_STAMP = rf"\[?(?:{_DAY},? {_TIME}|{_TIME},? {_DAY})\]?"
_UNSEEN = "\u200e\u200f\ufeff "
_LED_BY = f"[{_UNSEEN}]*"
_BEFORE = re.compile(rf"{_LED_BY}{_STAMP}(?: ?[-–—:,]|(?<=\]))? ?(?P<rest>.*)")
_ALONE = re.compile(rf"{_LED_BY}[^\[\]:]{{1,40}}, \[(?:{_DAY},? {_TIME}|{_TIME},? {_DAY})\]:?\s*")
_TIME_ONLY = re.compile(rf"{_LED_BY}\[?{_TIME}\]?(?: ?[-–—:])? (?P<rest>.*)")
_NAME = re.compile(r"[^:\[\]{}]{1,40}: ?")

IsKey = Callable[[str], bool]


class Stamp(Struct, frozen=True):
    """Line ``at`` (from nought) begins with ``length`` signs of a messenger's own."""

    at: int
    length: int
    found: str
    alone: bool  # nothing else stands on the line


def stamps_in(lines: Sequence[str], is_key: IsKey) -> tuple[Stamp, ...]:
    """Every line that a messenger began. ``is_key`` is true of lines that begin with a key."""
    return tuple(_stamps(lines, is_key))


def without(lines: Sequence[str], stamps: Sequence[Stamp]) -> list[str]:
    """The lines as they were written; as many as before."""
    cut = {stamp.at: stamp.length for stamp in stamps}
    return [line[cut.get(at, 0) :] for at, line in enumerate(lines)]


def _stamps(lines: Sequence[str], is_key: IsKey) -> Iterator[Stamp]:
    for at, line in enumerate(lines):
        if _ALONE.fullmatch(line):
            yield Stamp(at, len(line), line.strip(), alone=True)
            continue
        told = _BEFORE.fullmatch(line)
        timed = _TIME_ONLY.fullmatch(line)
        if told is None and timed is not None and is_key(timed["rest"]):
            told = timed
        if told is not None:
            rest = told["rest"]
            name = None if is_key(rest) else _NAME.match(rest)
            if name is None and not is_key(rest) and not line.lstrip(_UNSEEN).startswith("["):
                continue  # a day and a time in the coach's own words
            length = told.start("rest") + (0 if name is None else name.end())
            yield Stamp(at, length, line[:length].strip(), alone=not line[length:].strip())
