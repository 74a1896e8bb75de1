"""The coach, the student, and what the student agreed to."""

from datetime import date
from enum import StrEnum
from pathlib import Path

from msgspec import Struct

from recapgen.model.drill import Drill
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.source import SourceRef
from recapgen.model.units import Units
from recapgen.model.usual import Usual


class Hand(StrEnum):
    RIGHT = "right"
    LEFT = "left"


class AgeBand(StrEnum):
    """Junior is under 18, senior 60 and over (conventions)."""

    JUNIOR = "junior"
    ADULT = "adult"
    SENIOR = "senior"


class ColumnRule(Struct, frozen=True):
    """One line of ``columns:`` in coach.yml: what a column of a shots file is.

    ``quantity`` is None for a column to be kept but not read (``ignore``) and for
    the columns of the table itself, which ``role`` names (shot, phase, club, time, tag).
    ``positive`` says which side a plus sign means where the file differs from
    "plus is right of target".
    """

    heading: str
    quantity: Quantity | None
    role: str | None
    unit: str | None
    positive: str | None
    where: SourceRef
    calculated: bool = False  # the device works it out from what it measures
    beside: tuple[str, ...] = ()  # headings that a file must have, too: those of one device


class Review(Struct, frozen=True):
    """Who read the safety notes through, as what, and when."""

    name: str
    role: str
    on: date


class MarkPicture(Struct, frozen=True):
    """The coach's mark made ready for a page, and the room it takes there."""

    path: Path
    width_px: int
    height_px: int


class Coach(Struct, frozen=True):
    name: str
    units: Units = Units()
    contact: str | None = None
    greeting: str | None = None
    footer: str | None = None
    accent: str | None = None  # "#rrggbb"
    mark: str | None = None  # the coach's own sign: a picture's file name in the lessons folder
    mark_picture: MarkPicture | None = None  # the same, made ready for a page
    language: str = "en"  # of the card, the cases, and sites of students who chose none
    address: str | None = None  # where site/ will be published, no trailing slash
    place: str | None = None
    emergency_number: str | None = None
    altitude_m: float | None = None
    columns: tuple[ColumnRule, ...] = ()
    intents: tuple[
        tuple[str, tuple[str, ...]], ...
    ] = ()  # own short names -> wordings that are one
    misses: tuple[tuple[str, tuple[str, ...]], ...] = ()  # the same of what students come with
    accuracy: tuple[tuple[Quantity, float], ...] = ()  # device accuracy, one s.d., inside units
    reviewed: Review | None = None  # who read the safety notes; never implied
    drills: tuple[Drill, ...] = ()
    units_unsaid: tuple[Dimension, ...] = ()  # no unit given: bare columns of these are asked about
    usual: Usual | None = None  # what the notes of all students need not say
    locks: bool = False  # sites of students whose own file does not say are locked


class Club(Struct, frozen=True):
    """A club of the student's own bag; ``name`` is canonical ("7 iron", "driver")."""

    name: str
    loft_deg: float | None = None


class Area(StrEnum):
    """Parts of the body a student may have told the coach about."""

    LOW_BACK = "low back"
    NECK = "neck"
    RIBS = "ribs"
    LEAD_SHOULDER = "lead shoulder"
    TRAIL_SHOULDER = "trail shoulder"
    ELBOW = "elbow"
    LEAD_WRIST = "lead wrist"
    TRAIL_WRIST = "trail wrist"
    HAND = "hand"
    LEAD_HIP = "lead hip"
    LEAD_KNEE = "lead knee"
    LEAD_ANKLE = "lead ankle"


class Condition(StrEnum):
    """What the student typed about their health; never inferred."""

    BONES = "osteoporosis"
    JOINT_REPLACEMENT = "joint replacement"
    HEART = "heart"
    PREGNANCY = "pregnancy"


class GivenBy(StrEnum):
    """Whose word an answer is, where the coach says so."""

    STUDENT = "student"
    GUARDIAN = "guardian"


class Guardian(Struct, frozen=True):
    """Who agreed for a junior; never published."""

    name: str
    relation: str | None = None


class Agreed(Struct, frozen=True):
    """One answer: what was agreed to, each on its own; nothing is agreed by silence.

    ``until`` is the last day on which the agreement holds; ``withdrawn`` the day it
    was taken back. ``guardian`` is required for a junior before anything is shown.
    ``case_words``, which goes with ``cases``, is the smaller step: told in words alone.
    ``unclear`` is True where the agreement was written but could not be read with
    certainty; nothing is taken as agreed then. ``where`` is the place of one of several answers.
    """

    page: bool = False
    clips: bool = False
    body: bool = False
    cases: bool = False
    case_clips: bool = False
    case_words: bool = False
    since: date | None = None
    until: date | None = None
    withdrawn: date | None = None
    guardian: Guardian | None = None
    by: GivenBy | None = None
    sheet: str | None = None  # the version of the sheet that was signed
    unclear: bool = False
    where: SourceRef | None = None


class Student(Struct, frozen=True):
    """``key`` is the coach's own folder name and is never published.

    ``agreed`` is the answer that counts; where there were several, ``answers`` are all of them,
    oldest first, each with its ``since``. Which one counts on a day: ``model/consent_on_file.py``.
    """

    key: str
    name: str
    hand: Hand | None = None
    age_band: AgeBand | None = None
    born: int | None = None  # the year alone, and never published
    band_by_year: bool = False  # the age band is not written but worked out
    first_year: bool = False
    clubs: tuple[Club, ...] = ()
    areas: tuple[Area, ...] = ()
    conditions: tuple[Condition, ...] = ()
    agreed: Agreed = Agreed()
    answers: tuple[Agreed, ...] = ()
    units: Units | None = None
    language: str | None = None  # the student's own choice; None takes the coach's
    where: SourceRef = SourceRef("")
    asked: date | None = None  # the coach last went through the questions of the intake sheet
    players: tuple[str, ...] = ()  # what files of shots call the student, where not by name
    also_called: tuple[str, ...] = ()  # by which others know them, too
    emails: tuple[str, ...] = ()  # these and the next as the coach typed them; never published
    phones: tuple[str, ...] = ()
    clinician_asked: date | None = None  # the student last said that a clinician was asked
    usual: Usual | None = None  # what the notes of this student need not say
    archived: bool = False  # stays readable, out of the day's lists
    locked: bool = False  # the site opens by a passphrase alone
    was_called: str | None = None  # what the folder was called earlier; its link leads here
    new_address: bool = False  # the link there was is to lead nowhere any more
