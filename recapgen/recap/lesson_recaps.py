"""A student's lessons become recaps, oldest first: verdict, what stuck, load, safety notes."""

from collections.abc import Mapping, Sequence
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from recapgen.care.safety_notes import care_for
from recapgen.evidence.compare import compare
from recapgen.evidence.dispersion import dispersion_change
from recapgen.evidence.retention import baseline, day_to_day_sd, retained
from recapgen.evidence.smallest_change import usual_spread
from recapgen.evidence.sorting import sorted_shots, tally
from recapgen.evidence.undeclared_numbers import undeclared_numbers
from recapgen.golf.quantity_facts import FACTS
from recapgen.model.carry import FairCarry, FlightLines, LoftAtStrike
from recapgen.model.comparable import balls_alike, lessons_alike, swings_compared, swung_alike
from recapgen.model.drill import Demonstration
from recapgen.model.evidence import Comparison, Hidden, Retention, Verdict
from recapgen.model.films import Film
from recapgen.model.lesson import Lesson, Notes
from recapgen.model.people import Student
from recapgen.model.practice_log import PracticeLog
from recapgen.model.quantity import Quantity
from recapgen.model.recap import (
    LessonCase,
    LessonEvidence,
    LessonNumber,
    LessonPractice,
    OtherNumber,
    Recap,
)
from recapgen.model.shots import Block, SortedShot
from recapgen.recap.fair_carry import FairShots, fair_carries
from recapgen.recap.flight_lines import flights_then_and_now, loft_at_strike

_COMPARED = frozenset({Block.BEFORE, Block.AFTER, Block.CLOSING})


class PreparedLesson(Struct, frozen=True):
    """A lesson read, with its films and the names of its pages."""

    lesson: Lesson
    films: tuple[Film, ...]
    page: str
    case_page: str | None
    demonstrations: tuple[Demonstration, ...] = ()
    case_films: tuple[Film, ...] = ()


class _LessonFlown(Struct, frozen=True):
    """A lesson with its shots sorted, the one club of its notes, and its balls in standard air."""

    prepared: PreparedLesson
    shots: tuple[SortedShot, ...]
    notes: Notes
    fair: FairShots | None
    lines: FlightLines | None

    @property
    def lesson(self) -> Lesson:
        return self.prepared.lesson


def recap_lessons(
    student: Student,
    lessons: Sequence[PreparedLesson],
    log: PracticeLog,
    accuracy: Mapping[Quantity, float],
    place_altitude_m: float | None = None,
    *,
    today: date | None = None,
) -> tuple[Recap, ...]:
    """The recaps of one student, oldest first. ``accuracy`` is the device's, inside units.

    ``place_altitude_m`` is where lessons are usually held, for notes that do not say. ``today``
    is the day on which the newest plan is read: pain logged since its lesson is added to it.
    """
    recaps: list[Recap] = []
    ordered = sorted(lessons, key=lambda t: (t.lesson.on, t.lesson.key))
    for flown in _fly(ordered, place_altitude_m):
        read_on = today if flown.prepared is ordered[-1] else None
        recaps.append(_recap(student, flown, log, recaps, accuracy=accuracy, read_on=read_on))
    return tuple(recaps)


def _fly(lessons: Sequence[PreparedLesson], place_altitude_m: float | None) -> list[_LessonFlown]:
    """All lessons' balls through standard air at once."""
    shots = [sorted_shots(each.lesson) for each in lessons]
    noted = [
        replace(each.lesson.notes, club=each.lesson.notes.club or _club_of(here))
        for each, here in zip(lessons, shots, strict=True)
    ]
    fair = fair_carries(list(zip(shots, noted, strict=True)), place_altitude_m)
    lines = flights_then_and_now(
        [(here, notes.club) for here, notes in zip(shots, noted, strict=True)]
    )
    return [_LessonFlown(*flown) for flown in zip(lessons, shots, noted, fair, lines, strict=True)]


def _recap(
    student: Student,
    flown: _LessonFlown,
    log: PracticeLog,
    told: Sequence[Recap],
    *,
    accuracy: Mapping[Quantity, float],
    read_on: date | None,
) -> Recap:
    """The lesson's recap; ``told`` are the recaps of the student's earlier lessons."""
    prepared, lesson, notes = flown.prepared, flown.lesson, flown.notes
    club = notes.club
    before = [
        recap
        for recap in told
        if club is not None and recap.on < lesson.on and lessons_alike(recap.notes, notes)
    ]
    comparison = _comparison(flown, accuracy, before)
    earlier = tuple(recap.on for recap in told)
    load, care = care_for(student, notes, log, lesson.on, earlier, read_on=read_on)
    return Recap(
        key=lesson.key,
        on=lesson.on,
        page=prepared.page,
        notes=notes,
        private=lesson.private,
        number=LessonNumber(
            comparison=comparison,
            retention=_retention(comparison, flown, before),
            worked_from=lesson.shots.worked_number if lesson.shots is not None else None,
        ),
        films=prepared.films,
        practice=LessonPractice(load, prepared.demonstrations),
        care=care,
        evidence=_evidence(
            flown,
            others=_others(flown, comparison, accuracy),
            loft=loft_at_strike(flown.shots, club, student),
        ),
        case=LessonCase(
            note=notes.case if prepared.case_page is not None else None,
            page=prepared.case_page,
            films=prepared.case_films,
        ),
    )


def _evidence(
    flown: _LessonFlown,
    others: tuple[OtherNumber, ...],
    loft: LoftAtStrike | None,
) -> LessonEvidence:
    table = flown.lesson.shots
    return LessonEvidence(
        shots=flown.shots,
        tally=tally(flown.shots) if table is not None else None,
        others=others,
        decided=table.decided if table is not None else (),
        unknown_columns=table.unknown if table is not None else (),
        calculated=table.calculated if table is not None else (),
        fair_carry=flown.fair.told if flown.fair else None,
        flights=flown.lines,
        loft=loft,
        counted=table.counted if table is not None else False,
    )


def _comparison(
    flown: _LessonFlown, accuracy: Mapping[Quantity, float], before: Sequence[Recap]
) -> Comparison | None:
    lesson, fair = flown.lesson, flown.fair
    declaration = lesson.notes.declaration
    if declaration is None or not (swung_alike(lesson.notes) and balls_alike(lesson.notes)):
        return None
    quantity = declaration.quantity
    if quantity is not Quantity.CARRY or fair is None or not fair.differed:
        fair = None
    told = compare(
        fair.shots if fair else flown.shots,
        declaration,
        lesson.seal,
        moved=bool(lesson.notes.moved),
        accuracy=accuracy.get(quantity),
        resolution=FACTS[quantity].resolution,
        earlier_before=tuple(c.before for c in _same_number(before, quantity)),
        on=lesson.on,
        air_sd=fair.told.sd_m if fair else 0.0,
    )
    if told is not None and fair is not None:
        told = _in_fair_air(told, flown.shots, fair.told)
    if told is None or not any(each.block in _COMPARED for each in lesson.notes.swings):
        return told
    return replace(told, swings=swings_compared(lesson.notes))


def _in_fair_air(told: Comparison, shots: tuple[SortedShot, ...], air: FairCarry) -> Comparison:
    """Where balls finished stays as read; where the air hides what changed, nothing is claimed."""
    told = replace(told, air=air, dispersion=dispersion_change(shots))
    if air.withheld is None:
        return told
    unknown = Verdict.TOO_EARLY
    return replace(
        told, verdict=unknown, verdict_uncapped=unknown, verdict_put_back=None,
        leaning=0, balls_needed=None, hidden_by=Hidden.AIR,
    )  # fmt: skip


def _others(
    flown: _LessonFlown, comparison: Comparison | None, accuracy: Mapping[Quantity, float]
) -> tuple[OtherNumber, ...]:
    if comparison is None:
        return ()
    moved = bool(flown.lesson.notes.moved)
    return undeclared_numbers(flown.shots, comparison.quantity, accuracy if moved else None)


def _retention(
    comparison: Comparison | None, flown: _LessonFlown, before: Sequence[Recap]
) -> Retention | None:
    """What is still there of the last lesson with the same club and number."""
    if comparison is None:
        return None
    quantity = comparison.quantity
    earlier = [
        (recap, told)
        for recap in before
        if (told := recap.number.comparison) is not None and told.quantity is quantity
    ]
    if not earlier:
        return None
    last, then = earlier[-1]
    if comparison.air is not None or then.air is not None:
        return None  # carries in standard air and carries as read never stand side by side
    now = baseline(flown.shots, quantity)
    baselines = [baseline(recap.evidence.shots, quantity) for recap, _ in earlier]
    day_sd = day_to_day_sd((*baselines, now), usual_spread(now, baselines))
    return retained(then, now, day_sd, last.on, flown.lesson.on)


def _same_number(recaps: Sequence[Recap], quantity: Quantity) -> list[Comparison]:
    return [
        recap.number.comparison
        for recap in recaps
        if recap.number.comparison is not None and recap.number.comparison.quantity is quantity
    ]


def _club_of(shots: Sequence[SortedShot]) -> str | None:
    """The club of the compared shots where the table names one and the notes do not."""
    clubs = [s.shot.club for s in shots if s.block in _COMPARED and s.shot.club is not None]
    return max(sorted(set(clubs)), key=clubs.count) if clubs else None
