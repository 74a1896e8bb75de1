"""Lessons whose worksheet the coach asked for, though their notes are finished."""

from pathlib import Path

FILE = ".recapgen/worksheets.txt"
MOST_ASKED = 20
"""More are not kept open: those asked for longest ago are put away."""


def worksheets_asked(root: Path) -> tuple[str, ...]:
    """Each as "student/lesson", in the order in which they were asked for."""
    try:
        lines = (root / FILE).read_text("utf-8").split("\n")
    except (OSError, UnicodeDecodeError):
        return ()
    return tuple(dict.fromkeys(line for line in lines if line))[-MOST_ASKED:]
