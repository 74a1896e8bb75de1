"""What can be read of a file that is no page: a calendar's words, a data file's, a script's."""

import json
import re
from collections.abc import Callable, Iterator, Mapping

_CALENDAR_LINE = re.compile(r"([A-Z-]+)(.*)")
_SHOWN_IN_CALENDARS = frozenset({"SUMMARY", "DESCRIPTION", "LOCATION", "COMMENT", "CONTACT"})
_CALENDAR_FRAME = frozenset(
    """BEGIN END VERSION PRODID CALSCALE METHOD DTSTAMP DTSTART DTEND DURATION RRULE TRIGGER ACTION
    SEQUENCE STATUS TRANSP CLASS""".split()  # noqa: SIM905  (reads as a list)
)
_MANIFEST_LOOKS = frozenset({"lang", "display", "purpose", "type", "sizes"})
_SAID_IN_SCRIPTS = re.compile(
    r"""//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|`(?:\\.|[^`\\])*`""",
    re.DOTALL,
)
_FILE_ENDING = re.compile(r"(?<=[\w}])\.\w{1,11}(?=[\"'`]?$)")
_OUR_FILE = re.compile(r"""["'`]assets/[\w.-]+["'`]$""")


def calendar_texts(text: str) -> tuple[str, ...]:
    """What a calendar holds of words, unfolded and without the escapes of RFC 5545.

    Of what calendars show, that; of a line that only a program reads, all but its name.
    """
    unfolded = re.sub(r"\r?\n[ \t]", "", text)
    said = []
    for match in filter(None, map(_CALENDAR_LINE.match, unfolded.splitlines())):
        if match[1] in _SHOWN_IN_CALENDARS:
            said.append(match[2].partition(":")[2])
        elif match[1] not in _CALENDAR_FRAME:
            said.append(match[2])
    return tuple(
        re.sub(r"\\(.)", lambda sign: "\n" if sign[1] in "nN" else sign[1], words) for words in said
    )


def json_texts(text: str) -> tuple[str, ...]:
    """Every text that a data file holds as a value; of one that cannot be read, all of it."""
    try:
        return tuple(_texts(json.loads(text)))
    except ValueError:
        return (text,)


def manifest_texts(text: str) -> tuple[str, ...]:
    """Every text of a manifest but how it looks; of an address, all but the file's ending."""
    try:
        said = _texts(json.loads(text), but=_MANIFEST_LOOKS)
        return tuple(_FILE_ENDING.sub("", each) for each in said)
    except ValueError:
        return (text,)


def script_texts(text: str) -> tuple[str, ...]:
    """The strings and remarks of a script; what its parts are called is no word.

    Of a file that is named, the name without its ending; our own files say nothing.
    """
    said = _SAID_IN_SCRIPTS.findall(text)
    return tuple(_FILE_ENDING.sub("", each) for each in said if not _OUR_FILE.match(each))


def _texts(kept: object, but: frozenset[str] = frozenset()) -> Iterator[str]:
    if isinstance(kept, str):
        yield kept
    elif isinstance(kept, dict):
        for key, value in kept.items():
            if key not in but:
                yield from _texts(value, but)
    elif isinstance(kept, list):
        for value in kept:
            yield from _texts(value, but)


READERS: Mapping[str, Callable[[str], tuple[str, ...]]] = {
    ".ics": calendar_texts,
    ".js": script_texts,
    ".json": json_texts,
    ".webmanifest": manifest_texts,
}
"""How a file is read, by the ending of its name."""
