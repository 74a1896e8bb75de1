"""What a student has hit lately: practice.csv."""

from datetime import date

from msgspec import Struct

from recapgen.model.source import SourceRef


class LogEntry(Struct, frozen=True):
    """One line of the log. Unknown is None, never zero. ``effort`` is 0 to 10."""

    on: date
    where: SourceRef
    balls: int | None = None
    minutes: int | None = None
    effort: float | None = None
    rounds: int | None = None
    pain: bool | None = None
    pain_place: str | None = None
    score: int | None = None
    miss_count: int | None = None

    @property
    def effort_minutes(self) -> float | None:
        """Effort times minutes: a line of a diary, with no bound that it should keep to."""
        if self.effort is None or self.minutes is None:
            return None
        return self.effort * self.minutes


class PracticeLog(Struct, frozen=True):
    """All readable lines in date order; ``kept`` is False where no log was dropped."""

    entries: tuple[LogEntry, ...] = ()
    kept: bool = False
