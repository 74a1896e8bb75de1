"""Blocks and marks as the notes give them by time of day, not yet matched to shots."""

from enum import StrEnum

from msgspec import Struct

from recapgen.model.shots import Block
from recapgen.model.source import SourceRef

DAY_S = 24 * 3600


class ClockSpan(Struct, frozen=True):
    """From one time of day to another, in seconds after midnight, as ``text`` was typed.

    ``last_s`` may lie beyond midnight. ``exact``: typed to the second; else a minute is meant
    whole.
    """

    first_s: int
    last_s: int
    exact: bool
    text: str
    where: SourceRef

    @property
    def end_s(self) -> int:
        """The first second that is not meant any more."""
        return self.last_s + (1 if self.exact else 60)


class TimedBlock(Struct, frozen=True):
    """A block with its times, as in ``shots: {before: 10:02-10:11}``."""

    block: Block
    span: ClockSpan


class ClockMarkKind(StrEnum):
    MISHIT = "mishits"
    LEFT_OUT = "left out"


class TimedMark(Struct, frozen=True):
    """A mishit or shots left out, with a time and the coach's words, as in ``{10:24: thin}``."""

    kind: ClockMarkKind
    words: str
    span: ClockSpan
