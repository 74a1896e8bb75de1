"""A lesson's worksheet: its notes as they stand, and everything that can be pointed at."""

from datetime import date
from enum import StrEnum
from pathlib import Path

from msgspec import Struct

from recapgen.model.lesson import ClipFile, Lesson, View
from recapgen.model.people import Student
from recapgen.model.problem import Code
from recapgen.model.shots import Block, Shot
from recapgen.model.units import Units


class Written(StrEnum):
    """What a value in the notes is, to YAML."""

    TEXT = "text"
    MAP = "map"
    LIST = "list"


class WrittenPart(Struct, frozen=True):
    """An entry of a mapping, called ``name`` as the house spells it, or an item of a list.

    ``first`` is where its key begins, or the item; ``name`` is "" in a list.
    """

    name: str
    first: int
    value: "WrittenValue"


class WrittenValue(Struct, frozen=True):
    """A value from the place ``first`` to before ``last``; in brackets where it is ``inline``.

    Places count UTF-16 units of the file's text, as a script in a browser counts. ``indent`` is
    how far its entries are moved in.
    """

    kind: Written
    first: int
    last: int
    inline: bool = True
    indent: int = 0
    parts: tuple[WrittenPart, ...] = ()


class NotesText(Struct, frozen=True):
    """notes.md to the letter: line ends, its mark of byte order and all.

    ``digest`` is that of its bytes, "" where there is no file yet; ``encoding`` how they are
    written. ``keys`` are where every value stands, None where that cannot be read; ``end`` is
    where a further key goes, None where there are no "---" lines yet.
    """

    text: str
    digest: str
    encoding: str = "utf-8"
    keys: WrittenValue | None = None
    end: int | None = None


class SheetShot(Struct, frozen=True):
    """A shot with what the notes and its file say of it.

    ``mishit`` and ``left_out`` are the words, "" for none; ``filed`` is the file's own word for a
    mishit, which notes can change but not take away. ``tool`` left it out by a rule.
    """

    shot: Shot
    block: Block | None = None
    mishit: str = ""
    filed: str = ""
    left_out: str = ""
    tool: bool = False


class WatchCopy(Struct, frozen=True):
    """A small copy of a clip that a browser can play: frame k shows the picture of ``times_s[k]``.

    It plays at ``fps``, whatever the clip's own rate is. ``name`` is how it is called in the book.
    """

    video: Path
    name: str
    width: int
    height: int
    fps: int
    times_s: tuple[float, ...]


class SheetClip(Struct, frozen=True):
    """A clip of the lesson; ``copy`` or ``still`` where there is one, else ``why`` there is none.

    ``guess_s`` is when impact seems to be, in seconds of the clip; ``likely_view`` what the picture
    suggests where nobody said from where it was filmed.
    """

    clip: ClipFile
    copy: WatchCopy | None = None
    still: Path | None = None
    why: Code | None = None
    guess_s: float | None = None
    likely_view: View | None = None


class Worksheet(Struct, frozen=True):
    """One lesson's worksheet; ``page`` is its file name, ``lesson`` None where it cannot be read.

    ``intents`` are what can be chosen, the student's own first; ``drills`` the coach's.
    ``clips_withheld`` is how many clips lie there that the student has not agreed to.
    """

    page: str
    student: Student
    key: str
    on: date
    units: Units
    notes: NotesText
    lesson: Lesson | None
    shots: tuple[SheetShot, ...] = ()
    clips: tuple[SheetClip, ...] = ()
    clips_withheld: int = 0
    intents: tuple[str, ...] = ()
    drills: tuple[str, ...] = ()
