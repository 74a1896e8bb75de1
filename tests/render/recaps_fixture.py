"""Invented recaps for looking at pages: no real person, every figure made up."""

from datetime import date, timedelta
from pathlib import Path
from statistics import median

from msgspec.structs import replace

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
    Conditions,
    Direction,
    DrillStep,
    Guard,
    GuardKind,
    Notes,
    Practice,
    Surface,
    View,
    Want,
    Wind,
)
from recapgen.model.people import Area, Coach, Hand, Student
from recapgen.model.quantity import Quantity
from recapgen.model.recap import (
    CaseLink,
    LessonCase,
    LessonEvidence,
    LessonNumber,
    LessonPractice,
    OtherNumber,
    Recap,
    StudentRecap,
    Tally,
)
from recapgen.model.shots import Block, Decision, ReadAs, Shot, ShotStatus, SortedShot
from recapgen.model.source import SourceRef
from recapgen.model.units import LengthUnit, SpeedUnit, TemperatureUnit, Units

WHERE = SourceRef("somebody/2027-04-11/notes.md", 3, 1)
SEE_ALSO = CaseLink("From slice to straight", "https://lessons.example/cases/wall.html")
COACH = Coach(
    name="Ines Falk",
    contact="ines@lessons.example",
    greeting="See you in two weeks. Bring the sand wedge.",
    footer="Invented sample: no real people.",
    accent="#7a3e9d",
)
IMPERIAL = Units(SpeedUnit.MPH, LengthUnit.YARD, TemperatureUnit.FAHRENHEIT)

PATH_THEN = (4.6, 5.1, 5.5, 5.7, 6.0, 6.6, 6.8, 7.0, 7.4, 8.2, 9.6)
PATH_NOW = (-1.4, -0.9, -0.2, 0.4, 0.5, 0.8, 0.9, 1.0, 1.1, 1.6, 2.3, 3.4)


def sample(first: int, values: tuple[float, ...], mishits: tuple[int, ...] = ()) -> Sample:
    """Shots numbered from ``first``; ``mishits`` are places in ``values``."""
    return Sample(
        numbers=tuple(range(first, first + len(values))),
        values=values,
        mishit=tuple(i in mishits for i in range(len(values))),
        median=median(values) if values else None,
        robust_sd=1.2 if values else None,
    )


def comparison(
    quantity: Quantity,
    want: Want,
    blocks: tuple[Sample, Sample],
    verdict: Verdict,
    inside: tuple[int, int] | None = None,
) -> Comparison:
    then, now = blocks
    moved = (now.median or 0.0) - (then.median or 0.0)
    shift = Shift(moved, Interval(moved - 1.0, moved + 1.0), Interval(moved - 0.7, moved + 0.7))
    good = Shift(
        abs(moved),
        Interval(abs(moved) - 1.1, abs(moved) + 1.1),
        Interval(abs(moved) - 0.8, abs(moved) + 0.8),
    )
    share = None
    if inside is not None:
        share = ShareChange(
            Share(inside[0], then.n, Interval(0.0, 0.2)),
            Share(inside[1], now.n, Interval(0.6, 0.94)),
            inside[1] / now.n - inside[0] / then.n,
            Interval(0.5, 0.95),
            Interval(0.6, 0.9),
        )
    enough = then.n >= 3 and now.n >= 3
    return Comparison(
        quantity=quantity,
        want=want,
        before=then,
        after=now,
        as_read=shift if enough else None,
        good=good if enough else None,
        smallest_change=1.0,
        smallest_change_from=SmallestChangeFrom.DECLARED,
        verdict=verdict,
        verdict_uncapped=verdict,
        declared=Declared.STATED,
        drift=DriftFinding.STEADY,
        lowered_by_mishits=False,
        setup_moved=False,
        overshot=False,
        leaning=0,
        balls_needed=12 if verdict is Verdict.TOO_EARLY else None,
        inside=share,
        mishits=None,
        guards=(),
    )


def path_comparison() -> Comparison:
    told = comparison(
        Quantity.CLUB_PATH,
        Want(Direction.WINDOW, -2.0, 2.0),
        (sample(7, PATH_THEN, (10,)), sample(26, PATH_NOW)),
        Verdict.CHANGED,
        inside=(0, 10),
    )
    guard = Guard(Quantity.CARRY_SIDE, GuardKind.SPREAD, 2.0, WHERE)
    return replace(told, guards=(GuardResult(guard, GuardFinding.HELD, 6.1, 5.2, None),))


def shots(told: Comparison) -> tuple[SortedShot, ...]:
    """The comparison's shots with a warm-up before and one left out after."""
    quantity = told.quantity

    def one(
        number: int, block: Block | None, value: float, status: ShotStatus = ShotStatus.USED
    ) -> SortedShot:
        readings = {quantity: value, Quantity.CLUB_SPEED: 41.3, Quantity.CARRY: 188.2}
        return SortedShot(Shot(number, WHERE, readings, block, "driver"), block, status)

    warm = [one(n, Block.WARM_UP, 5.0 + n / 3, ShotStatus.SET_ASIDE) for n in range(1, 7)]
    then = [
        one(n, Block.BEFORE, v)
        for n, v in zip(told.before.numbers, told.before.values, strict=True)
    ]
    now = [
        one(n, Block.AFTER, v) for n, v in zip(told.after.numbers, told.after.values, strict=True)
    ]
    gone = replace(
        one(99, Block.AFTER, -20.0, ShotStatus.LEFT_OUT),
        reason="a ball rolled off the tee",
        left_out_by_coach=True,
    )
    return (*warm, *then, *now, gone)


def film(folder: Path, view: View = View.DOWN_THE_LINE) -> Film:
    """A film whose files exist but are only stand-ins."""
    name = view.value.replace(" ", "-")
    video, poster = folder / f"{name}.mp4", folder / f"{name}.jpg"
    video.write_bytes(b"not a film")
    poster.write_bytes(b"not a picture")
    strike = Strike(1.84, ImpactFrom.SOUND)
    return Film(
        view=view,
        sides=(
            FilmSide("swing_12.mov", Block.BEFORE, 12, strike),
            FilmSide("swing_31.mov", Block.AFTER, 31, strike),
        ),
        video=video,
        poster=poster,
        fingerprint=f"f0{len(name):02d}",
        fps=60,
        frames=180,
        impact_frame=110,
        width=1280,
        height=1000,
    )


NOTES_OF_CARE = (
    CareNote(
        NoteCode.FLAGGED_AREA,
        Level.CARE,
        NoteFacts(areas=(Area.LOW_BACK,)),
        "low back",
        body=True,
        shown=True,
    ),
    CareNote(NoteCode.WARM_UP, Level.INFO, NoteFacts(), "always", body=False, shown=True),
    CareNote(NoteCode.SPACE, Level.INFO, NoteFacts(), "always", body=False, shown=True),
    CareNote(NoteCode.STOP_SIGNS, Level.INFO, NoteFacts(), "always", body=False, shown=True),
)

PRACTICE = Practice(
    sessions_per_week=3,
    balls_per_session=40,
    rounds_per_week=1,
    minutes_per_session=35,
    weeks=2,
    steps=(
        DrillStep("Slowly at a real wall, no ball", None, 10),
        DrillStep("Half swings off a tee", 12, None),
        DrillStep("Full swings, a new target every ball", 18, None),
    ),
)

WORDS = """You were standing up through the ball, so the club had to go out to the right to
find it. Grip and aim were *fine* from the first ball, and we left them alone.

With the wall behind you there was room again, and the path came back without a word about it.
You said it felt like sitting down. **Good: keep that.**
"""


def full_recap(films: tuple[Film, ...] = ()) -> Recap:
    """Everything a lesson can have."""
    told = path_comparison()
    return Recap(
        key="2027-04-11 driver",
        on=date(2027, 4, 11),
        page="2027-04-11-k3f9.html",
        notes=Notes(
            where=WHERE,
            words=WORDS,
            intent="Slide your back pockets along a wall, all the way through",
            feels_like="polishing the wall behind you",
            student_says="it felt like sitting down",
            letting_go_of="keeping my head down",
            club="driver",
            practice=PRACTICE,
            conditions=Conditions(
                surface=Surface.MAT,
                ball="range",
                temperature_c=14.0,
                wind=Wind(3.0, 250.0, 2.0),
                target_deg=70.0,
                altitude_m=90.0,
            ),
        ),
        private="PRIVATE words of the coach",
        number=LessonNumber(told),
        films=films,
        practice=LessonPractice(Load(40, 3, 120, 35, 1, 45, 110.0, 4)),
        care=NOTES_OF_CARE,
        evidence=LessonEvidence(
            shots=shots(told),
            tally=Tally(read=30, used=23, set_aside=6, not_read=0, left_out=1),
            others=(
                OtherNumber(Quantity.FACE_ANGLE, 2.1, 1.4, -0.7, -1.6, 0.2, dot=False),
                OtherNumber(Quantity.CLUB_SPEED, 41.1, 41.5, 0.4, -0.6, 1.4, dot=False),
                OtherNumber(Quantity.ATTACK_ANGLE, -1.1, 1.6, 2.7, 1.2, 4.1, dot=True),
            ),
            decided=(Decision("Path", ReadAs.UNIT, "read as degrees"),),
            unknown_columns=("Mystery",),
        ),
        case=LessonCase(links=(SEE_ALSO,)),
    )


def bare_recap(on: date, notes: Notes) -> Recap:
    """A lesson with nothing but its notes."""
    return Recap(key=f"{on} notes only", on=on, page=f"{on}-q2w8.html", notes=notes)


def _numbered(recap: Recap, told: Comparison) -> Recap:
    """``recap`` with the number ``told`` and its shots."""
    return replace(recap, number=LessonNumber(told), evidence=LessonEvidence(shots(told)))


def words_only() -> Recap:
    return bare_recap(date(2027, 2, 3), Notes(WHERE, "We talked about the bunker, and no more."))


def too_early() -> Recap:
    """Four balls a side, carry with a window, yards and miles."""
    want = Want(Direction.WINDOW, 34.7, 40.2)
    told = comparison(
        Quantity.CARRY,
        want,
        (sample(1, (31.0, 33.2, 38.8, 42.0)), sample(9, (36.0, 36.1, 36.2, 39.9))),
        Verdict.TOO_EARLY,
        inside=(1, 4),
    )
    notes = Notes(WHERE, "", intent="Hum one even note from start to finish", club="sand wedge")
    return _numbered(bare_recap(date(2027, 3, 14), notes), told)


def faster() -> Recap:
    """A number that should go up, with no clips and no plan; what stuck of it later."""
    told = comparison(
        Quantity.BALL_SPEED,
        Want(Direction.HIGHER),
        (
            sample(1, (58.1, 59.0, 59.2, 59.3, 60.4, 60.6, 61.0, 52.3), (7,)),
            sample(12, (58.9, 59.8, 60.9, 61.2, 61.8, 62.0, 62.0, 63.1)),
        ),
        Verdict.PROBABLY,
    )
    notes = Notes(WHERE, "Wide and slow back.", intent="Roll the barrel up the ramp")
    return _numbered(bare_recap(date(2027, 2, 21), notes), told)


def earlier_path() -> Recap:
    """An older lesson with the same club and number as the full one."""
    told = comparison(
        Quantity.CLUB_PATH,
        Want(Direction.WINDOW, -2.0, 2.0),
        (
            sample(1, (8.1, 8.8, 9.4, 9.6, 10.2, 11.0, 12.3)),
            sample(9, (5.0, 5.5, 5.9, 6.1, 6.4, 7.7, 8.0)),
        ),
        Verdict.CHANGED,
        inside=(0, 0),
    )
    notes = Notes(WHERE, "First look.", intent="Turn before you drop", club="driver")
    return _numbered(bare_recap(date(2027, 3, 28), notes), told)


def what_stuck() -> Retention:
    return Retention(
        quantity=Quantity.CLUB_PATH,
        from_lesson=date(2027, 3, 28),
        to_lesson=date(2027, 4, 11),
        gained=3.5,
        still_there=3.0,
        share80=Interval(0.6, 1.0),
        kept=Kept.MOSTLY,
    )


def with_retention(recap: Recap, stuck: Retention) -> Recap:
    return replace(recap, number=replace(recap.number, retention=stuck))


def student(*recaps: Recap, name: str = "Mara", units: Units = Units()) -> StudentRecap:
    return StudentRecap(
        student=Student(key="mara-secret-folder", name=name, hand=Hand.RIGHT),
        units=units,
        address="k3f9x",
        published=True,
        recaps=tuple(sorted(recaps, key=lambda recap: recap.on)),
        problems=(),
    )


def mara(folder: Path) -> StudentRecap:
    """Five lessons, the newest with everything."""
    newest = with_retention(full_recap((film(folder), film(folder, View.FACE_ON))), what_stuck())
    return student(words_only(), faster(), too_early(), earlier_path(), newest)


def sixty() -> StudentRecap:
    """Sixty lessons over five years, with three numbers by turns, the newest with everything."""
    kinds = (faster(), earlier_path(), too_early())
    newest = full_recap()
    lessons = []
    for n in range(59):
        on = newest.on - timedelta(days=30 * (59 - n))
        kind = kinds[n % len(kinds)]
        lessons.append(replace(kind, key=f"{on} lesson", on=on, page=f"{on}-q2w8.html"))
    return student(*lessons, newest)
