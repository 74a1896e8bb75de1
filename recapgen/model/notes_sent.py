"""Notes that a worksheet sends to be saved, and what became of them."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum, auto


@dataclass(frozen=True, slots=True)
class NotesSent:
    """``lesson`` is "student/lesson"; ``digest`` that of the notes the page was opened with."""

    lesson: str
    digest: str
    text: str


class SaveEnd(Enum):
    """``MEANWHILE``: notes.md is another one by now, and nothing was written."""

    SAVED = auto()
    MEANWHILE = auto()
    REFUSED = auto()


@dataclass(frozen=True, slots=True)
class NotesKept:
    """``digest`` and ``text`` are those of the notes that stand in the folder now."""

    end: SaveEnd
    digest: str = ""
    text: str = ""


NotesSaver = Callable[[NotesSent], NotesKept]
