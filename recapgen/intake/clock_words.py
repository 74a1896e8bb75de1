"""Times of day as the notes write them: "10:02", "10:02:30", "23:50-00:12"."""

import re
from datetime import time
from enum import Enum, auto

from recapgen.intake.yaml_map import Scalar
from recapgen.model.clock_marks import DAY_S, ClockSpan

_TIME = r"(\d{1,2})[:：h](\d{2})(?:[:：](\d{2}))?"
_SPAN = re.compile(
    rf"(?:from\s+)?{_TIME}(?:\s*(?:[-–—~〜～－−‑]|to|till|until|bis|à|a)\s*{_TIME})?", re.IGNORECASE
)
LONGEST_S = 6 * 3600  # a block; what is longer was written backwards


class ClockFault(Enum):
    NO_SUCH_TIME = auto()
    BACKWARDS = auto()


def says_time(text: str) -> bool:
    """Whether a time of day is meant rather than the numbers of shots."""
    return _SPAN.fullmatch(text.strip()) is not None


def read_clock_span(words: Scalar) -> ClockSpan | ClockFault | None:
    """The span; None where no time of day is meant. It may lead over midnight."""
    match = _SPAN.fullmatch(words.text.strip())
    if match is None:
        return None
    first = _seconds(match[1], match[2], match[3])
    last = first if match[4] is None else _seconds(match[4], match[5], match[6])
    if first is None or last is None:
        return ClockFault.NO_SUCH_TIME
    exact = match[6] is not None or (match[4] is None and match[3] is not None)
    if last < first:
        last += DAY_S
        if last - first > LONGEST_S:
            return ClockFault.BACKWARDS
    return ClockSpan(first, last, exact, words.text.strip(), words.where)


def read_time(text: str) -> time | None:
    """The time of day that ``text`` names; None where no clock shows it."""
    match = re.fullmatch(_TIME, text.strip())
    seconds = None if match is None else _seconds(match[1], match[2], match[3])
    if seconds is None:
        return None
    return time(seconds // 3600, seconds // 60 % 60, seconds % 60)


def turned(text: str) -> str:
    """``text`` with its two times swapped."""
    first, last = (text[m.start() : m.end()] for m in re.finditer(_TIME, text))
    return f"{last}-{first}"


def told(seconds: float) -> str:
    """A time of day as the notes would write it."""
    whole = int(seconds) % DAY_S
    hour, minute, second = whole // 3600, whole // 60 % 60, whole % 60
    return f"{hour:02}:{minute:02}" + (f":{second:02}" if second else "")


def _seconds(hour: str, minute: str, second: str | None) -> int | None:
    parts = int(hour), int(minute), int(second or 0)
    if parts[0] > 23 or parts[1] > 59 or parts[2] > 59:  # noqa: PLR2004 - a clock's own
        return None
    return parts[0] * 3600 + parts[1] * 60 + parts[2]
