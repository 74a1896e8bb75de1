"""What there is of a student, and what becomes of it when the coach is asked to forget."""

from collections.abc import Mapping
from datetime import date
from enum import StrEnum
from pathlib import Path

from msgspec import Struct


class TraceKind(StrEnum):
    """What may be kept of a student, in the order in which it is told."""

    SITE = "site"
    UNSEALED = "unsealed"
    LOCK = "lock"
    CASES = "cases"
    ONE_PAGES = "one-pages"
    COPIES = "copies"
    BOOK = "book"
    STATE = "state"
    CACHE = "cache"
    STILLS = "stills"
    DRILLS = "drills"
    BEFORE = "before"
    NOT_DONE = "not-done"
    SHEETS = "sheets"
    INBOX = "inbox"
    ORIGINALS = "originals"


class StudentTrace(Struct, frozen=True):
    """So many files or entries of one kind, and where they lie."""

    kind: TraceKind
    count: int
    place: str


class ForgetStudent(Struct, frozen=True):
    """Whether all ``traces`` of the student in ``folder`` may be erased; answered by yes or no.

    ``shared`` are files of the inbox that hold others' shots, too, and stay, as do ``elsewhere``
    those of other students' lessons that hold this one's; ``stays`` says that the student's own
    folder does.
    """

    folder: str
    traces: tuple[StudentTrace, ...]
    shared: tuple[str, ...] = ()
    elsewhere: tuple[str, ...] = ()
    stays: bool = False


class Receipt(Struct, frozen=True):
    """What was erased on a day, by kind, under a ``number`` that is drawn and says nothing."""

    number: str
    on: date
    erased: Mapping[TraceKind, int]


class Forgotten(Struct, frozen=True):
    """The receipt and where it lies; ``left`` is the student's own folder where it still lies."""

    receipt: Receipt
    file: Path
    left: Path | None
