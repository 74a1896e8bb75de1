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
