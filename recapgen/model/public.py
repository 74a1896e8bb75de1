"""What a build changed of what anybody can read."""

from dataclasses import dataclass
from enum import StrEnum


class Move(StrEnum):
    """What became of a folder of site/."""

    PUT_UP = "put-up"
    CHANGED = "changed"
    CAME_DOWN = "came-down"


@dataclass(frozen=True, slots=True)
class PublicChange:
    """``name`` is whose pages they are; "" for the cases. ``folder`` lies in site/."""

    move: Move
    name: str
    folder: str


@dataclass(frozen=True, slots=True)
class FolderGone:
    """A student's or lesson's ``folder`` that is not among the lessons any more.

    What is kept of it waits for ``days_left``; none left means that it was cleared.
    """

    folder: str
    days_left: int
