"""An invented student with two lessons, for the tests of the book."""

from datetime import date
from pathlib import Path

from recapgen.model.care import CareNote, Level, Load, NoteCode, NoteFacts
from recapgen.model.evidence import (
    Comparison,
    Declared,
    DriftFinding,
    GuardFinding,
    GuardResult,
    Interval,
    Kept,
    Retention,
    Sample,
    Share,
    ShareChange,
    Shift,
    SmallestChangeFrom,
    Verdict,
)
from recapgen.model.films import Film, FilmSide, ImpactFrom, Strike
from recapgen.model.lesson import (
    CaseNote,
    Declaration,
    Direction,
    Guard,
    GuardKind,
    IntentKind,
    Notes,
    View,
    Want,
)
from recapgen.model.people import Agreed, Area, Hand, Student
from recapgen.model.quantity import Quantity
from recapgen.model.recap import (
    LessonCase,
    LessonEvidence,
    LessonNumber,
    LessonPractice,
    OtherNumber,
    Recap,
    StudentRecap,
    Tally,
)
from recapgen.model.shots import Block, Shot, ShotStatus, SortedShot
from recapgen.model.source import SourceRef
from recapgen.model.units import LengthUnit, SpeedUnit, Units

IMPERIAL = Units(SpeedUnit.MPH, LengthUnit.YARD)
METRIC = Units()
FIRST = date(2027, 4, 11)
SECOND = date(2027, 4, 25)

NOTHING_COMPARED = Declaration(
    Quantity.CLUB_SPEED,
    Want(Direction.HIGHER),
    smallest_change=0.44704,
    guard=None,
    stated=True,
    where=SourceRef("marta/2027-04-11/notes.md", 3),
)


def sample(*values: float, first: int = 1) -> Sample:
    ordered = sorted(values)
    return Sample(
        numbers=tuple(range(first, first + len(values))),
        values=values,
        mishit=tuple(False for _ in values),
        median=ordered[len(ordered) // 2] if values else None,
        robust_sd=1.0 if values else None,
    )


def comparison(
    quantity: Quantity = Quantity.CARRY,
    want: Want | None = None,
    verdict: Verdict = Verdict.CHANGED,
    values: tuple[tuple[float, ...], tuple[float, ...]] = (
        (100.0, 102.0, 104.0),
        (110.0, 112.0, 114.0),
    ),
    shift: Shift | None = None,
) -> Comparison:
    before, after = values
    return Comparison(
        quantity=quantity,
        want=want or Want(Direction.HIGHER),
        before=sample(*before),
        after=sample(*after, first=len(before) + 1),
        as_read=shift or Shift(10.0, Interval(6.0, 14.0), Interval(7.0, 13.0)),
        good=Shift(10.0, Interval(5.4, 14.6), Interval(6.5, 13.5)),
        smallest_change=2.0,
        smallest_change_from=SmallestChangeFrom.DECLARED,
        verdict=verdict,
        verdict_uncapped=verdict,
        declared=Declared.STATED,
        drift=DriftFinding.STEADY,
        lowered_by_mishits=False,
        setup_moved=False,
        overshot=False,
        leaning=1,
        balls_needed=None,
        inside=ShareChange(
            Share(1, 3, Interval(0.1, 0.7)),
            Share(2, 3, Interval(0.3, 0.9)),
            1 / 3,
            Interval(-0.2, 0.7),
            Interval(-0.1, 0.6),
        ),
        mishits=None,
        guards=(
            GuardResult(
                Guard(
                    Quantity.CARRY_SIDE,
                    GuardKind.SPREAD,
                    2.0,
                    SourceRef("marta/2027-04-11/notes.md", 9, 3),
                ),
                GuardFinding.HELD,
                3.0,
                3.2,
                Shift(0.2, Interval(-1.0, 1.2), Interval(-0.8, 1.0)),
            ),
        ),
    )


FILM = Film(
    view=View.FACE_ON,
    sides=(
        FilmSide("marta before.mov", Block.BEFORE, 2, Strike(1.84, ImpactFrom.NOTES)),
        FilmSide("marta after.mov", Block.AFTER, 5, Strike(0.9, ImpactFrom.SOUND)),
    ),
    video=Path("cache/ab12.mp4"),
    poster=Path("cache/ab12.jpg"),
    fingerprint="ab12",
    fps=30,
    frames=120,
    impact_frame=54,
    width=1080,
    height=960,
)

CARE = (
    CareNote(
        NoteCode.INTENT_MEETS_FLAG,
        Level.ASK_FIRST,
        NoteFacts(areas=(Area.LEAD_WRIST,)),
        "flagged lead wrist; intent asks for firmer grip",
        body=True,
        shown=True,
    ),
    CareNote(NoteCode.WARM_UP, Level.INFO, NoteFacts(), "always", body=False, shown=True),
    CareNote(NoteCode.STOP_SIGNS, Level.INFO, NoteFacts(), "always", body=False, shown=True),
)

LEFT_OUT = SortedShot(
    Shot(14, SourceRef("marta/2027-04-11/shots.csv", 17), {}),
    Block.BEFORE,
    ShotStatus.LEFT_OUT,
    "phone rang in the swing",
    left_out_by_coach=True,
)


def recap(
    key: str = "2027-04-11",
    on: date = FIRST,
    intent: str | None = "Hum one even note",
    compared: Comparison | None = None,
    *,
    declaration: Declaration | None = None,
    retention: Retention | None = None,
    private: str | None = None,
    case: CaseNote | None = None,
    short_name: str | None = None,
) -> Recap:
    return Recap(
        key=key,
        on=on,
        page=f"{on.isoformat()}-k3f9.html",
        notes=Notes(
            where=SourceRef(f"marta/{key}/notes.md"),
            words="You stood up.",
            intent=intent,
            short_name=short_name,
            feels_like="rocking a pram",
            student_says="it felt lazy",
            kinds=(IntentKind.GRIP,),
            club="7 iron",
            declaration=declaration,
        ),
        private=private,
        number=LessonNumber(compared, retention),
        films=(FILM,) if compared else (),
        practice=LessonPractice(Load(40, 3, 120, 35, 1, 60, 110.0, 2)),
        care=CARE,
        evidence=LessonEvidence(
            shots=(LEFT_OUT,),
            tally=Tally(read=8, used=6, set_aside=1, not_read=0, left_out=1) if compared else None,
            others=(OtherNumber(Quantity.BALL_SPEED, 50.0, 51.0, 1.0, -0.5, 2.5, dot=False),)
            if compared
            else (),
        ),
        case=LessonCase(
            note=case,
            page="driver-starts-right.html" if case else None,
            films=(FILM,) if compared and case else (),
        ),
    )


def retained(quantity: Quantity = Quantity.CARRY, kept: Kept = Kept.MOSTLY) -> Retention:
    return Retention(quantity, FIRST, SECOND, 10.0, 8.0, Interval(0.6, 1.0), kept)


CASE = CaseNote(
    "even-note",
    "The even note",
    "A story for strangers.",
    SourceRef("marta/2027-04-11/notes.md", 9),
)


def student(
    *recaps: Recap,
    key: str = "marta",
    name: str = "Marta",
    units: Units = METRIC,
    published: bool = True,
    agreed: Agreed | None = None,
) -> StudentRecap:
    return StudentRecap(
        student=Student(
            key=key,
            name=name,
            hand=Hand.LEFT,
            agreed=agreed or Agreed(page=True, body=True, since=date(2027, 1, 3)),
            where=SourceRef(f"{key}/student.yml"),
        ),
        units=units,
        address="q7w2e9",
        published=published,
        recaps=recaps,
        problems=(),
    )
