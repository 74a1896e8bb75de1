"""What notes say of their lesson's link, read before the rest: the page is named by it."""

import re
from pathlib import Path

from recapgen.intake.form import Form
from recapgen.intake.front_matter import split
from recapgen.intake.notes import KEYS, KNOWN
from recapgen.intake.text_file import MOST_BYTES, lines_in

_HINTS = ("called", "folder was", "address", "link")
_NOT_OF_THE_PAGE = re.compile(
    r"(?:usual miss|the miss|next|next lesson|was called|new address|case|see also)\s*:|#",
    re.IGNORECASE,
)
_LEAST_SIGNS = 4  # "---" says nothing


def link_keys(notes: Path) -> tuple[str | None, bool, tuple[str, ...]]:
    """``was called``, ``new address``, and those lines that the notes may be known again by.

    Nothing where they cannot be read: the fault is told where they are read whole.
    """
    lines = lines_in(notes, MOST_BYTES) or ()
    text = "\n".join(lines)
    said = (line.strip() for line in lines)
    telling = tuple(sorted({each for each in said if len(each) >= _LEAST_SIGNS and _tells(each)}))
    if not any(hint in text.casefold() for hint in _HINTS):
        return None, False, telling
    front = split(text, notes.name, KNOWN).value
    if front is None:
        return None, False, telling
    form = Form(front.keyed, KEYS, [])
    return form.text("was called"), form.yes_no("new address") or False, telling


def _tells(line: str) -> bool:
    """Whether a line may be told on the lesson's page."""
    return _NOT_OF_THE_PAGE.match(line) is None
