"""What a coach may do to a folder between two builds, each drawn from a seed of its own.

An edit that finds nothing to work on leaves all as it is. None looks at anything but the folder
and its seed, so that any of them can be left out when a failure is made smaller.
"""

from collections.abc import Callable
from random import Random

from tests.edits import edits_of_files, edits_of_words
from tests.edits.edited_book import Book

EDITS: dict[str, Callable[[Random, Book], None]] = {
    "words": edits_of_words.edit_words,
    "notes": edits_of_words.edit_notes,
    "shots": edits_of_words.edit_shots,
    "agreed": edits_of_words.edit_agreed,
    "student": edits_of_words.edit_student,
    "name": edits_of_words.edit_name,
    "coach": edits_of_words.edit_coach,
    "drill": edits_of_words.edit_drill,
    "plan": edits_of_words.edit_plan,
    "day": edits_of_files.edit_day,
    "template": edits_of_files.edit_template,
    "lesson gone": edits_of_files.edit_lesson_gone,
    "question": edits_of_files.edit_question,
    "lesson new": edits_of_files.edit_lesson_new,
    "seal gone": edits_of_files.edit_seal_gone,
    "lesson renamed": edits_of_files.edit_lesson_renamed,
    "student renamed": edits_of_files.edit_student_renamed,
    "student gone": edits_of_files.edit_student_gone,
    "student back": edits_of_files.edit_student_back,
    "private": edits_of_words.edit_private,
    "log": edits_of_words.edit_log,
    "unreadable": edits_of_files.edit_unreadable,
    "mended": edits_of_files.edit_mended,
}
_SHARES = {
    "notes": 5,
    "shots": 4,
    "agreed": 3,
    "coach": 3,
    "student": 2,
    "day": 2,
    "question": 3,
    "mended": 5,
}
_OFTEN = [kind for kind in EDITS for _ in range(_SHARES.get(kind, 1))]


def apply(kind: str, seed: int, book: Book) -> None:
    """One edit of ``kind``, the same each time for the same ``seed`` and folder."""
    EDITS[kind](Random(f"{kind} {seed}"), book)  # noqa: S311 - edits that can be had again


def drawn(draw: Random) -> tuple[str, int]:
    """The kind and the seed of another edit."""
    return draw.choice(_OFTEN), draw.randrange(1_000_000)
