"""A file's text, or the place where it stops being text."""

import codecs
import unicodedata
from pathlib import Path

from recapgen.model.fix import Offer, Swap, one_of
from recapgen.model.naming import printable
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef

MOST_BYTES = 1_000_000
KEPT_BEFORE = Path(".recapgen", "before")
"""Of the lessons folder: every text changed for the coach, as it was, under its own path."""

MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
# Line and paragraph separators break lines unseen; the others turn the reading direction.
_UNSEEN = frozenset(
    "\u2028\u2029\ufffe\uffff\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
)


def file_of(root: Path, path: Path) -> str:
    """The path as problems name it: from the lessons folder, forward slashes, always printable."""
    relative = path.relative_to(root).as_posix()
    shown = "".join(c if not is_hidden(c) else f"\\u{ord(c):04x}" for c in printable(relative))
    return "" if shown == "." else shown


def is_hidden(character: str) -> bool:
    """True for control characters and others that nobody sees but that change a page."""
    return character in _UNSEEN or unicodedata.category(character) in {"Cc", "Cs"}


def leads_outside(root: Path, path: Path) -> bool:
    """True for a link whose end lies outside the lessons folder (or nowhere)."""
    try:
        return not path.resolve(strict=True).is_relative_to(root.resolve())
    except (OSError, RuntimeError):
        return True


def read_text(root: Path, path: Path) -> Checked[str]:
    """The text of ``path`` with every line end as one newline.

    UTF-8 with or without its mark, or UTF-16 with it. The problem for anything else says
    the line and column of the first byte or character that does not belong.
    """
    file = file_of(root, path)
    if leads_outside(root, path):
        return Checked(None, (Problem(Code.LINK_OUTSIDE, SourceRef(file)),))
    try:
        if not path.is_file():
            return _unreadable(file, "not a plain file")
        size = path.stat().st_size
        if size > MOST_BYTES:
            facts = {"size": f"{size:,}", "most": f"{MOST_BYTES:,}"}
            return Checked(None, (Problem(Code.FILE_TOO_BIG, SourceRef(file), facts),))
        data = path.read_bytes()
    except OSError as fault:
        return _unreadable(file, fault.strerror or type(fault).__name__)
    return decode(data, file)


def lines_in(path: Path, most: int) -> list[str] | None:
    """The lines of a text, whatever stands in them; None where it is none, or too long."""
    try:
        data = path.read_bytes() if path.stat().st_size <= most else None
    except OSError:
        return None
    if data is None:
        return None
    mark, encoding = marked(data)
    try:
        return one_line_end(data[len(mark) :].decode(encoding)).split("\n")
    except UnicodeDecodeError:
        return None


def marked(data: bytes) -> tuple[bytes, str]:
    """The mark of byte order that ``data`` begins with, b"" for none, and the encoding."""
    return next(((m, e) for m, e in MARKS if data.startswith(m)), (b"", "utf-8"))


def decode(data: bytes, file: str) -> Checked[str]:
    """The text in ``data``, as ``read_text`` gives it."""
    mark, encoding = marked(data)
    body = data[len(mark) :]
    try:
        text = one_line_end(body.decode(encoding))
    except UnicodeDecodeError as fault:
        before = one_line_end(body[: fault.start].decode(encoding))
        found = " ".join(f"0x{byte:02x}" for byte in body[fault.start : fault.end])
        where = place_after(before, file)
        return Checked(None, (Problem(Code.NOT_UTF8, where, {"found": found}),))
    hidden = next((i for i, c in enumerate(text) if c not in "\n\t" and is_hidden(c)), None)
    if hidden is not None:
        facts = {"found": _name(text[hidden])}
        where = place_after(text[:hidden], file)
        offers = _without_hidden(text, file)
        return Checked(None, (Problem(Code.HIDDEN_CHARACTER, where, facts, offers=offers),))
    return Checked(text, ())


def _without_hidden(text: str, file: str) -> tuple[Offer, ...]:
    """Every character that nobody can see taken out at once.

    Not those that turn the reading direction: without them a name reads as nobody saw it.
    """
    if any(c in _UNSEEN for c in text):
        return ()
    hidden = (
        Swap(SourceRef(file, number, column), character, "")
        for number, line in enumerate(text.split("\n"), 1)
        for column, character in enumerate(line, 1)
        if character != "\t" and is_hidden(character)
    )
    return one_of([tuple(hidden)])


def place_after(before: str, file: str) -> SourceRef:
    """Where the character that follows ``before`` stands."""
    return SourceRef(file, before.count("\n") + 1, len(before) - before.rfind("\n"))


def one_line_end(text: str) -> str:
    """``text`` with every line end as one newline."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _name(character: str) -> str:
    code = f"U+{ord(character):04X}"
    name = unicodedata.name(character, "").lower()
    return f"{code} ({name})" if name else code


def _unreadable(file: str, reason: str) -> Checked[str]:
    return Checked(None, (Problem(Code.FILE_UNREADABLE, SourceRef(file), {"reason": reason}),))
