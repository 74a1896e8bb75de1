"""Notes that are begun for the coach: lines to be written, and what is said of them."""

from collections.abc import Mapping
from enum import StrEnum

from msgspec import Struct, field

from recapgen.model.fix import Value


class Remark(StrEnum):
    """Why a line stands in notes that were begun; the value makes the key of its sentence."""

    INTENT_LAST = "intent-last"
    CLUB_IN_FILE = "club-in-file"
    CLUB_CHOOSE = "club-choose"
    CLUB_LAST = "club-last"
    BLOCKS_IN_FILE = "blocks-in-file"
    BLOCKS_BY_PAUSE = "blocks-by-pause"
    BLOCKS_CHOOSE = "blocks-choose"
    BLOCKS_OPEN = "blocks-open"
    NUMBER_LAST = "number-last"
    NUMBER_LAST_ABSENT = "number-last-absent"
    NUMBER_CHOOSE = "number-choose"
    NUMBER_BY_EYE = "number-by-eye"
    CHOSEN = "chosen"
    CLIPS = "clips"
    CLIP_BY_TIME = "clip-by-time"
    CLIP_BLOCK_BY_TIME = "clip-block-by-time"
    CLIP_IMPACT = "clip-impact"
    CLIP_IMPACT_OPEN = "clip-impact-open"
    USUAL = "usual"
    LAST_TIME = "last-time"
    PERHAPS = "perhaps"


class Said(Struct, frozen=True):
    """A remark with what fills its sentence."""

    remark: Remark
    facts: Mapping[str, str] = field(default_factory=dict)


class NotesLine(Struct, frozen=True):
    """A key with its value; "" is left for the coach to fill in.

    ``offered``: written as a comment, to be taken or left. ``beside`` has what is said of each
    item where the value is a list.
    """

    key: str
    value: Value
    offered: bool = False
    beside: tuple[tuple[Said, ...], ...] = ()


class NotesPart(Struct, frozen=True):
    """Lines that belong together, and what is said above them."""

    said: tuple[Said, ...]
    lines: tuple[NotesLine, ...] = ()
