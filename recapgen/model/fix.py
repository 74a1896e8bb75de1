"""How a fault is mended, as data: what is meant to change, and the very lines to paste.

A stage that meets a fault *offers* changes in the coach's own terms: put this under that key,
swap this word, cut this entry. Where the lines stand and how they are quoted is worked out in
one place, ``intake/pasting.py``, which turns offers into *fixes*: lines of a file.
"""

from collections.abc import Iterable, Mapping
from enum import Enum
from typing import TYPE_CHECKING, TypeAlias

from msgspec import Struct

from recapgen.model.source import SourceRef

if TYPE_CHECKING:
    Value: TypeAlias = str | tuple["Value", ...] | Mapping[str, "Value"]
else:  # deeper than any offer: the reader of kept values knows no kind within itself
    Value = str
    for _ in range(5):
        Value = str | tuple[Value, ...] | Mapping[str, Value]
"""What stands behind a key: words, a list, or keys of its own. Never quoted here."""


class Sureness(Enum):
    """CERTAIN can be applied unasked: no other answer is possible, and no number hangs on it."""

    CERTAIN = "certain"
    ONE_OF_SEVERAL = "one of several"


class Edit(Struct, frozen=True, tag=True):
    """Lines ``first_line`` to ``last_line`` of ``file``, counted from 1, become ``lines``.

    Without a line to replace (``last_line`` is ``first_line - 1``) they go in before
    ``first_line``. A file that is not there is made of them.
    """

    file: str
    first_line: int
    last_line: int
    lines: tuple[str, ...]


class Fix(Struct, frozen=True):
    """Edits that belong together, none of which touches a line of another."""

    edits: tuple[Edit, ...]
    sureness: Sureness


class Put(Struct, frozen=True, tag=True):
    """``value`` under ``keys``, whatever stood there before.

    ``where`` names the file; with a line and column, the mapping (or the bare item of a list)
    that begins there, else the file's own keys. Missing keys, and a missing file, are made.
    """

    where: SourceRef
    keys: tuple[str, ...]
    value: Value


class Swap(Struct, frozen=True, tag=True):
    """The words ``old``, which begin at ``where``, become ``new``.

    ``old`` is what was read there, without quotes: a key, a value, a part of it, a cell; None
    is whatever value stands there, a list or keys of its own.
    """

    where: SourceRef
    old: str | None
    new: Value


class Add(Struct, frozen=True, tag=True):
    """``item`` at the end of the list under ``keys``; ``where`` and what is missing as in Put."""

    where: SourceRef
    keys: tuple[str, ...]
    item: Value


class Cut(Struct, frozen=True, tag=True):
    """The key with its value, or the item of a list, that begins at ``where`` is taken out."""

    where: SourceRef


Change: TypeAlias = Put | Add | Swap | Cut | Edit


class Offer(Struct, frozen=True):
    """Changes that mend a fault when all of them are made."""

    changes: tuple[Change, ...]
    sureness: Sureness


def certain(*changes: Change) -> tuple[Offer, ...]:
    """The one way to mend it."""
    return (Offer(changes, Sureness.CERTAIN),)


def one_of(changes: Iterable[Change | tuple[Change, ...]]) -> tuple[Offer, ...]:
    """Ways between which the coach chooses, if there is just one, whether to take it."""
    return tuple(
        Offer(way if isinstance(way, tuple) else (way,), Sureness.ONE_OF_SEVERAL) for way in changes
    )


def mended(text: str, edits: Iterable[Edit]) -> str:
    """``text``, its lines ended by newlines, with ``edits`` of one file made."""
    lines = text.split("\n")
    # Of two at one line the replacement comes first: what goes in before it moves it.
    for edit in sorted(edits, key=lambda each: (each.first_line, each.last_line), reverse=True):
        lines[edit.first_line - 1 : edit.last_line] = edit.lines
    return "\n".join(lines)
