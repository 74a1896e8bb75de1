"""What a student asks between two lessons, and the coach's answer."""

from datetime import date
from enum import StrEnum
from pathlib import Path

from msgspec import Struct

from recapgen.model.care import CareNote
from recapgen.model.films import Film
from recapgen.model.lesson import ClipFile, Lesson, Notes
from recapgen.model.source import SourceRef


class AskedBy(StrEnum):
    """Who asked; a name is never written down."""

    STUDENT = "student"
    GUARDIAN = "guardian"
    COACH = "coach"


class QuestionWords(Struct, frozen=True):
    """What was said: Markdown, hostile until escaped; either side may be empty.

    ``answered`` is None while the question waits. ``pain`` where either side speaks of it.
    """

    asked_by: AskedBy
    asked: str
    answer: str
    answered: date | None
    pain: bool = False

    @property
    def settled(self) -> bool:
        """Whether it has its answer, and so may have a page."""
        return self.answered is not None and bool(self.answer)


class StudentQuestion(Struct, frozen=True):
    """One question.md, read and checked.

    ``key`` is the folder's name, ``on`` its date: the day on which it was asked. ``private`` is
    private.md, only ever for the coach's book.
    """

    key: str
    on: date
    folder: Path
    where: SourceRef
    words: QuestionWords
    clips: tuple[ClipFile, ...] = ()
    private: str | None = None

    @property
    def footage(self) -> Lesson:
        """Its clips as those of a lesson with nothing else in it; none while it waits."""
        return Lesson(
            key=self.key,
            on=self.on,
            folder=self.folder,
            where=self.where,
            notes=Notes(self.where, words=""),
            private=None,
            seal=None,
            shots=None,
            clips=self.clips if self.words.settled else (),
        )


class QuestionRecap(Struct, frozen=True):
    """One question with its films and safety notes, consent already applied.

    ``page`` is its page's file name, which never changes. ``key`` and ``private`` are the
    coach's own and are never rendered on a student's page.
    """

    key: str
    on: date
    page: str
    words: QuestionWords
    private: str | None = None
    films: tuple[Film, ...] = ()
    care: tuple[CareNote, ...] = ()
    corrected_on: date | None = None  # changed on that day, after the page was first up
