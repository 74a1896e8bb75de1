"""What only the coach can say, as it is asked while the coach sits there."""

from collections.abc import Callable
from datetime import date
from typing import TypeAlias

from msgspec import Struct

from recapgen.model.receipt import ForgetStudent


class WhoseFiles(Struct, frozen=True):
    """Whose ``files`` are; ``people`` are students' folders, the likeliest first.

    Without any files a lesson is to be begun. ``likely`` says that the first is more than one of
    many: an empty answer means it. Answered by a place in ``people``, counted from 1, a folder's
    name, or a new one. Asked again after ``refused``, an answer that was none of these, or a new
    name that is nearly that of the folders ``near``.
    """

    files: tuple[str, ...]
    on: date | None
    people: tuple[str, ...]
    likely: bool
    refused: str = ""
    near: tuple[str, ...] = ()


class WhichDay(Struct, frozen=True):
    """The day of a lesson whose files do not tell it; ``likely`` is when they were written.

    Asked again after ``refused``, which is no day.
    """

    files: tuple[str, ...]
    likely: date
    refused: str = ""


class WhichFolder(Struct, frozen=True):
    """Which of two lessons of a day; answered by a place in ``folders``, counted from 1.

    Asked again after ``refused``, which is none.
    """

    files: tuple[str, ...]
    folders: tuple[str, ...]
    refused: str = ""


class ChangeFile(Struct, frozen=True):
    """Whether ``file`` may be changed from the one text to the other; answered by yes or no."""

    file: str
    before: str
    after: str


Question: TypeAlias = WhoseFiles | WhichDay | WhichFolder | ChangeFile | ForgetStudent
Ask: TypeAlias = Callable[[Question], str | None]
"""Puts a question; None where nobody is there, or nothing was answered."""
