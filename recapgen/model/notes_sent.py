"""Notes that a worksheet sends to be saved, and what became of them."""

from collections.abc import Callable
from enum import Enum, auto

from msgspec import Struct


class NotesSent(Struct, frozen=True):
    """``lesson`` is "student/lesson"; ``digest`` that of the notes the page was opened with."""

    lesson: str
    digest: str
    text: str


class SaveEnd(Enum):
    """``MEANWHILE``: notes.md is another one by now, and nothing was written."""

    SAVED = auto()
    MEANWHILE = auto()
    REFUSED = auto()


class NotesKept(Struct, frozen=True):
    """``digest`` and ``text`` are those of the notes that stand in the folder now."""

    end: SaveEnd
    digest: str = ""
    text: str = ""


NotesSaver = Callable[[NotesSent], NotesKept]

SheetOpener = Callable[[str], str | None]
"""Takes a lesson as "student/lesson"; gives its worksheet from the book's folder, made by the next
build, or None for what is no lesson. Raises OSError."""


class SheetDesk(Struct, frozen=True):
    """What the pages of the book may have done in the lessons folder while it is watched."""

    save: NotesSaver
    open: SheetOpener
