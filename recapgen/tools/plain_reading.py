"""What people read of a file that is no page: a calendar's words, the texts of a data file."""

import json
import re
from collections.abc import Callable, Iterator, Mapping

_SHOWN_IN_CALENDARS = re.compile(r"(?:SUMMARY|DESCRIPTION|LOCATION|COMMENT|CONTACT)[^:]*:(.*)")


def calendar_texts(text: str) -> tuple[str, ...]:
    """What a calendar shows of its entries, unfolded and without the escapes of RFC 5545."""
    unfolded = re.sub(r"\r?\n[ \t]", "", text)
    shown = (
        match[1] for line in unfolded.splitlines() if (match := _SHOWN_IN_CALENDARS.match(line))
    )
    return tuple(
        re.sub(r"\\(.)", lambda sign: "\n" if sign[1] in "nN" else sign[1], words)
        for words in shown
    )


def json_texts(text: str) -> tuple[str, ...]:
    """Every text that a data file holds as a value; of one that cannot be read, all of it."""
    try:
        return tuple(_texts(json.loads(text)))
    except ValueError:
        return (text,)


def manifest_texts(text: str) -> tuple[str, ...]:
    """What a phone shows of a manifest; the rest of it is addresses and looks."""
    told = json.loads(text)
    return tuple(str(told[key]) for key in ("name", "short_name", "description") if key in told)


def _texts(kept: object) -> Iterator[str]:
    if isinstance(kept, str):
        yield kept
    elif isinstance(kept, dict):
        for value in kept.values():
            yield from _texts(value)
    elif isinstance(kept, list):
        for value in kept:
            yield from _texts(value)


READERS: Mapping[str, Callable[[str], tuple[str, ...]]] = {
    ".ics": calendar_texts,
    ".json": json_texts,
    ".webmanifest": manifest_texts,
}
"""How a file is read, by the ending of its name."""
