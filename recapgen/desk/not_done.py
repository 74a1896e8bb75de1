"""Lessons that ``new`` has begun to bring files into, marked until nothing about them is open.

A run may end at any moment: where it asks, for one. An empty file below ``.recapgen/new``, called
as the lesson's folder is, tells the next one where to go on.
"""

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from recapgen.tools.walking import sizes_below

MARKED_BELOW = Path(".recapgen", "new")


def mark(root: Path, folder: Path) -> None:
    """From now on the lesson in ``folder`` is not done. Raises OSError."""
    place = _mark_of(root, folder)
    place.parent.mkdir(parents=True, exist_ok=True)
    place.touch()


def is_done(root: Path, folder: Path) -> None:
    """Nothing of the lesson in ``folder`` is open any more. Raises OSError."""
    place = _mark_of(root, folder)
    place.unlink(missing_ok=True)
    with suppress(OSError):  # others of the student are not done
        place.parent.rmdir()


def not_done(root: Path) -> Iterator[Path]:
    """The folders of lessons that an earlier run has left open, and that are still there."""
    folders = (root / path for path, _ in sizes_below(root / MARKED_BELOW))
    yield from (folder for folder in folders if folder.is_dir() and not folder.is_symlink())


def _mark_of(root: Path, folder: Path) -> Path:
    return root / MARKED_BELOW / folder.relative_to(root)
