"""Notes from a worksheet written into their lesson's folder, unless they changed meanwhile."""

from pathlib import Path

from recapgen.desk.careful_writing import keep_before
from recapgen.intake.folder import survey
from recapgen.intake.notes_as_typed import digest_of_notes
from recapgen.intake.text_file import MOST_BYTES, marked
from recapgen.model.notes_sent import NotesKept, NotesSent, SaveEnd
from recapgen.tools.atomic import write_bytes, write_new

_REFUSED = NotesKept(SaveEnd.REFUSED)


def save_notes(root: Path, sent: NotesSent) -> NotesKept:
    """Write the text as it was sent, the old file kept below ``root``.

    Nothing is written where notes.md is not what the page was opened with, nor for what is no
    lesson of ``root``. Raises OSError.
    """
    path = _notes_of(root, sent.lesson)
    if path is None:
        return _REFUSED
    old = path.read_bytes() if path.exists() else None
    if (digest_of_notes(old) if old is not None else "") != sent.digest:
        return _meanwhile(old or b"")
    new = _encoded(sent.text, old or b"")
    if new is None:
        return _REFUSED
    instead = _written_new(path, new) if old is None else _replaced(path, old, new, root)
    return instead or NotesKept(SaveEnd.SAVED, digest_of_notes(new), sent.text)


def _encoded(text: str, old: bytes) -> bytes | None:
    """In the encoding of the file that it replaces; None for what cannot be notes."""
    _, encoding = marked(old)
    try:
        data = text.encode(encoding)
    except UnicodeEncodeError:
        return None
    return data if len(data) <= MOST_BYTES else None


def _written_new(path: Path, new: bytes) -> NotesKept | None:
    """None once it is written; else what somebody put there meanwhile."""
    try:
        write_new(path, new, 0o644)
    except FileExistsError:
        return _meanwhile(path.read_bytes())
    return None


def _replaced(path: Path, old: bytes, new: bytes, root: Path) -> NotesKept | None:
    if new == old:
        return None
    keep_before(path, old, root)
    if (now := path.read_bytes()) != old:  # the last look before it is replaced
        return _meanwhile(now)
    write_bytes(path, new, path.stat().st_mode & 0o777)
    return None


def _notes_of(root: Path, lesson: str) -> Path | None:
    """Only what the survey knows as a lesson, by its names, and no link."""
    found = survey(root).value
    students = found.students if found is not None else ()
    known = {
        f"{student.key}/{paths.key}": paths.notes
        for student in students
        for paths in student.lessons
    }
    path = known.get(lesson)
    return None if path is None or path.is_symlink() else path


def _meanwhile(data: bytes) -> NotesKept:
    _, encoding = marked(data)
    return NotesKept(SaveEnd.MEANWHILE, digest_of_notes(data), data.decode(encoding, "replace"))
