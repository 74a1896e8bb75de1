"""What became of the files that lay in the inbox, and of the lessons they belong to."""

from enum import StrEnum

from msgspec import Struct


class LeftBecause(StrEnum):
    """Why a file stays in the inbox."""

    COPYING = "copying"
    LINK = "link"
    NOT_OURS = "not-ours"
    NAME = "name"
    WHOSE = "whose"
    WHEN = "when"
    WHICH_FOLDER = "which-folder"
    NOT_MOVED = "not-moved"
    NOTES_THERE = "notes-there"
    SAME = "same"


class NotesState(StrEnum):
    BEGUN = "begun"
    COMPLETED = "completed"
    AS_THEY_WERE = "as-they-were"
    OPEN = "open"  # there was something to add, and nobody said yes
    UNREAD = "unread"  # they cannot be read, so nothing was added


class LeftFile(Struct, frozen=True):
    file: str
    because: LeftBecause


class LessonTaken(Struct, frozen=True):
    """A lesson's folder, the files that came into it as they are called now, and its notes."""

    folder: str
    files: tuple[str, ...]
    notes: NotesState


class TakenIn(Struct, frozen=True):
    lessons: tuple[LessonTaken, ...]
    left: tuple[LeftFile, ...]

    @property
    def open(self) -> bool:
        """Whether something waits for the coach; not what is none of ours, or there already."""
        idle = (LeftBecause.NOT_OURS, LeftBecause.SAME)
        return any(left.because not in idle for left in self.left) or any(
            lesson.notes in (NotesState.OPEN, NotesState.UNREAD) for lesson in self.lessons
        )
