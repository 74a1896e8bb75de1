"""Practice load and safety notes: codes, levels and facts, never sentences."""

from datetime import date
from enum import StrEnum

from msgspec import Struct

from recapgen.model.lesson import Surface
from recapgen.model.people import Area


class Level(StrEnum):
    """Most serious last."""

    INFO = "info"
    NOTE = "note"
    CARE = "care"
    ASK_FIRST = "ask_first"


class NoteCode(StrEnum):
    """The safety notes, as in the safety rules; PAIN_LOGGED is theirs too, named here."""

    PAIN_LOGGED = "PAIN_LOGGED"
    SESSION_STEP = "SESSION_STEP"
    WEEK_STEP = "WEEK_STEP"
    WEEK_VOLUME = "WEEK_VOLUME"
    NO_REST_DAY = "NO_REST_DAY"
    FEW_REST_DAYS = "FEW_REST_DAYS"
    NO_HISTORY = "NO_HISTORY"
    NO_RECENT_SESSION = "NO_RECENT_SESSION"
    LAYOFF = "LAYOFF"
    FIRST_YEAR = "FIRST_YEAR"
    INTENT_MEETS_FLAG = "INTENT_MEETS_FLAG"
    FLAGGED_AREA = "FLAGGED_AREA"
    SPEED_WORK = "SPEED_WORK"
    FIRM_SURFACE = "FIRM_SURFACE"
    JUNIOR = "JUNIOR"
    SENIOR = "SENIOR"
    CONDITION_OSTEOPOROSIS = "CONDITION_OSTEOPOROSIS"
    CONDITION_JOINT_REPLACEMENT = "CONDITION_JOINT_REPLACEMENT"
    CONDITION_HEART = "CONDITION_HEART"
    CONDITION_PREGNANCY = "CONDITION_PREGNANCY"
    WARM_UP = "WARM_UP"
    LIGHTNING = "LIGHTNING"
    HEAT = "HEAT"
    SUN = "SUN"
    SPACE = "SPACE"
    STOP_SIGNS = "STOP_SIGNS"


class NoteFacts(Struct, frozen=True):
    """What fills a note's sentence; most notes have one or two of them.

    ``general`` asks for words that could stand on anybody's page, ``chest`` for those about pain
    in the chest. ``day`` and ``place`` are of the last pain written down, ``usual`` of a week.
    """

    general: bool = False
    chest: bool = False
    days: int | None = None
    sessions: int | None = None
    balls: int | None = None
    biggest: int | None = None
    usual: int | None = None
    balls_per_week: int | None = None
    balls_per_session: int | None = None
    day: date | None = None
    place: str | None = None
    surface: Surface | None = None
    areas: tuple[Area, ...] = ()


class CareNote(Struct, frozen=True):
    """One note. ``facts`` fill its sentence; ``trigger`` says in short what made it fire.

    ``body`` is True where the note gives away a body flag, an age or a condition, and so
    is shown on the student's page only if the student agreed to that.
    """

    code: NoteCode
    level: Level
    facts: NoteFacts
    trigger: str
    body: bool
    shown: bool


class Load(Struct, frozen=True):
    """The plan in numbers beside what this student is used to; unknown is None."""

    balls_per_session: int | None
    sessions_per_week: int | None
    balls_per_week: int | None
    minutes_per_session: int | None
    rounds_per_week: int | None
    biggest_session_30d: int | None
    usual_week: float | None
    days_since_last: int | None

    @property
    def usual_week_open(self) -> bool:
        """Are there lines in the log, but too few counted weeks for a usual one?"""
        return self.usual_week is None and self.days_since_last is not None


class WeekSoFar(Struct, frozen=True):
    """The balls logged in the seven days up to today, beside the time before; unknown is None.

    ``biggest`` is the biggest single line of these days, ``biggest_before`` that of the thirty
    days before them. ``raised`` are the steps that either of the two makes.
    """

    balls: int
    usual_week: float | None
    biggest: int
    biggest_before: int | None
    raised: tuple[NoteCode, ...] = ()
