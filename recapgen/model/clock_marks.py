"""What the notes say by the time of day, before the shots' own times tell which shots that was."""

from dataclasses import dataclass
from enum import StrEnum

from recapgen.model.shots import Block
from recapgen.model.source import SourceRef

DAY_S = 24 * 3600


@dataclass(frozen=True, slots=True)
class ClockSpan:
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


@dataclass(frozen=True, slots=True)
class TimedBlock:
    """``shots: {before: 10:02-10:11}``."""

    block: Block
    span: ClockSpan


class ClockMarkKind(StrEnum):
    MISHIT = "mishits"
    LEFT_OUT = "left out"


@dataclass(frozen=True, slots=True)
class TimedMark:
    """``mishits: {10:24: thin}``, ``left out: {10:05-10:07: phone rang}``."""

    kind: ClockMarkKind
    words: str
    span: ClockSpan
