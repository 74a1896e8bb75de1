"""Which safety notes a lesson's plan calls for, and which of them the page shows.

Triggers, levels and bounds are those of the safety rules; they use only what coach and
student typed, never the shots or the clips. The page shows three notes above the quiet block,
so each level has a fixed order (``ORDER``): first what could go badly wrong, then what this
very plan asks, then what is good to know. What asks somebody first, pain that the student
wrote down, and a load at care are shown however many they are; only other notes are cut.

A student who did not agree that body, age or health may be mentioned gets none of the notes
that give these away (``body``), and pain in words for anybody: their places go to the other
notes, the coach's book keeps all of them as things to be said in person, and the page's
standing advice to ask a clinician first, which every student gets, still speaks to them.
"""

from collections.abc import Iterator, Sequence
from datetime import date

from msgspec.structs import replace

from recapgen.care import bounds
from recapgen.care.areas import JARRED_BY_FIRM_GROUND, asked_of
from recapgen.care.load import (
    counted_lately,
    days_before,
    is_session,
    steps_up_session,
    steps_up_week,
    weigh,
)
from recapgen.care.pain import written_pain
from recapgen.model.care import CareNote, Level, Load, NoteCode, NoteFacts
from recapgen.model.lesson import Conditions, IntentKind, Notes, Surface
from recapgen.model.people import AgeBand, Area, Condition, Student
from recapgen.model.practice_log import PracticeLog
from recapgen.model.rounding import whole

ORDER = (
    NoteCode.PAIN_LOGGED,
    NoteCode.CONDITION_HEART,
    NoteCode.CONDITION_PREGNANCY,
    NoteCode.CONDITION_OSTEOPOROSIS,
    NoteCode.CONDITION_JOINT_REPLACEMENT,
    NoteCode.INTENT_MEETS_FLAG,
    NoteCode.SPEED_WORK,
    NoteCode.FLAGGED_AREA,
    NoteCode.LAYOFF,
    NoteCode.SESSION_STEP,
    NoteCode.WEEK_STEP,
    NoteCode.NO_REST_DAY,
    NoteCode.FEW_REST_DAYS,
    NoteCode.JUNIOR,
    NoteCode.SENIOR,
    NoteCode.FIRST_YEAR,
    NoteCode.FIRM_SURFACE,
    NoteCode.WEEK_VOLUME,
    NoteCode.NO_RECENT_SESSION,
    NoteCode.NO_HISTORY,
    NoteCode.WARM_UP,
    NoteCode.SPACE,
    NoteCode.LIGHTNING,
    NoteCode.HEAT,
    NoteCode.SUN,
    NoteCode.STOP_SIGNS,
)
_SERIOUS_FIRST = (Level.ASK_FIRST, Level.CARE, Level.NOTE, Level.INFO)

_LOAD_NOTES = frozenset(
    {
        NoteCode.SESSION_STEP,
        NoteCode.WEEK_STEP,
        NoteCode.NO_REST_DAY,
        NoteCode.FEW_REST_DAYS,
        NoteCode.LAYOFF,
    }
)


def care_for(
    student: Student,
    notes: Notes,
    log: PracticeLog,
    on: date,
    earlier_lessons: Sequence[date] = (),
    *,
    read_on: date | None = None,
) -> tuple[Load | None, tuple[CareNote, ...]]:
    """The load of the plan given on ``on`` and every note that fired, most serious first.

    ``earlier_lessons`` are the student's other lesson days; they shorten a layoff, no more.
    ``read_on`` is today for the plan that is being practised, which pain written down since the
    lesson concerns as much as pain before it; None for a plan of the past.
    """
    load = weigh(notes.practice, log, on, earlier_lessons)
    fired = [
        *_pain_notes(student, log, load, [on] if read_on is None else [on, max(on, read_on)]),
        *_step_notes(load),
        *_week_notes(load, student),
        *_history_notes(load, log, on),
        *_flag_notes(student, notes.kinds),
        *_intent_notes(student, notes),
        *_age_and_health_notes(student),
        *_quiet_notes(notes.conditions, on),
    ]
    fired.sort(key=lambda note: (_SERIOUS_FIRST.index(note.level), ORDER.index(note.code)))
    return load, _choose(fired, body_agreed=student.agreed.body)


def _note(
    code: NoteCode,
    level: Level,
    trigger: str,
    *,
    body: bool = False,
    facts: NoteFacts | None = None,
) -> CareNote:
    return CareNote(code, level, facts or NoteFacts(), trigger, body, shown=False)


def _pain_notes(
    student: Student, log: PracticeLog, load: Load | None, read_on: Sequence[date]
) -> Iterator[CareNote]:
    """Pain that the student wrote down near a day on which the plan is read, with its load.

    Without agreement to body notes it is told in words that could stand on anybody's page.
    """
    pain = written_pain(log, read_on)
    if pain is None:
        return
    often = pain.days >= bounds.PAIN_ASK_DAYS
    facts = NoteFacts(
        days=pain.days,
        day=pain.last.on,
        place=pain.last.pain_place or None,
        chest=pain.chest,
        general=not student.agreed.body,
    )
    if load is not None:
        facts = replace(
            facts,
            balls_per_week=load.balls_per_week,
            balls_per_session=load.balls_per_session,
            usual=None if load.usual_week is None else whole(load.usual_week),
        )
    yield _note(
        NoteCode.PAIN_LOGGED,
        Level.ASK_FIRST if often else Level.CARE,
        f"pain logged on {pain.days} day(s) within {bounds.PAIN_DAYS}, last {pain.last.on}",
        body=student.agreed.body,
        facts=facts,
    )


def _step_notes(load: Load | None) -> Iterator[CareNote]:
    """The plan against the student's own biggest session and usual week."""
    if load is None:
        return
    balls, biggest = load.balls_per_session, load.biggest_session_30d
    if balls is not None and biggest is not None and steps_up_session(balls, biggest):
        careful = balls * 10 > biggest * bounds.SESSION_STEP_CARE_TENTHS
        yield _note(
            NoteCode.SESSION_STEP,
            Level.CARE if careful else Level.NOTE,
            f"balls per session {balls} > {'1.30' if careful else '1.10'} x biggest of the"
            f" last {bounds.LAST_MONTH_DAYS} days {biggest}",
            facts=NoteFacts(balls=balls, biggest=biggest),
        )
    week, usual = load.balls_per_week, load.usual_week
    if week is not None and usual is not None and steps_up_week(week, usual):
        yield _note(
            NoteCode.WEEK_STEP,
            Level.CARE,
            f"balls per week {week} > 1.5 x median of the last known weeks {usual:g}",
            facts=NoteFacts(balls=week, usual=whole(usual)),
        )


def _week_notes(load: Load | None, student: Student) -> Iterator[CareNote]:
    """Notes on how full the planned week is: balls, rounds and sessions."""
    if load is None:
        return
    balls = load.balls_per_week or 0
    rounds = load.rounds_per_week or 0
    sessions = load.sessions_per_week or 0
    full: list[str] = []
    if balls > bounds.WEEK_BALLS:
        full.append(f"balls per week {balls} > {bounds.WEEK_BALLS}")
    if rounds >= bounds.WEEK_ROUNDS:
        full.append(f"rounds per week {rounds} >= {bounds.WEEK_ROUNDS}")
    if full:
        yield _note(NoteCode.WEEK_VOLUME, Level.NOTE, "; ".join(full))
    if sessions >= bounds.NO_REST_SESSIONS:
        yield _note(
            NoteCode.NO_REST_DAY,
            Level.CARE,
            f"sessions per week {sessions} >= {bounds.NO_REST_SESSIONS}",
            facts=NoteFacts(sessions=sessions),
        )
    elif sessions == bounds.FEW_REST_SESSIONS:
        junior = student.age_band is AgeBand.JUNIOR
        yield _note(
            NoteCode.FEW_REST_DAYS,
            Level.CARE if junior else Level.NOTE,
            f"sessions per week {sessions}{', junior' if junior else ''}",
        )
    if student.first_year and balls > bounds.FIRST_YEAR_BALLS:
        yield _note(
            NoteCode.FIRST_YEAR,
            Level.NOTE,
            f"first year, balls per week {balls} > {bounds.FIRST_YEAR_BALLS}",
        )


def _history_notes(load: Load | None, log: PracticeLog, on: date) -> Iterator[CareNote]:
    """What the log says, or does not say, about the time before this lesson."""
    sessions = [e for e in log.entries if e.on < on and is_session(e)]
    if sessions and all(days_before(e, on) > bounds.LAST_MONTH_DAYS for e in sessions):
        yield _note(
            NoteCode.NO_RECENT_SESSION,
            Level.NOTE,
            f"sessions logged, none in the last {bounds.LAST_MONTH_DAYS} days",
        )
    elif not counted_lately(log, on):
        yield _note(NoteCode.NO_HISTORY, Level.NOTE, "no count of balls logged lately")
    days = load.days_since_last if load else None
    if days is not None and days >= bounds.LAYOFF_NOTE_DAYS:
        away = days >= bounds.LAYOFF_CARE_DAYS
        bound = bounds.LAYOFF_CARE_DAYS if away else bounds.LAYOFF_NOTE_DAYS
        yield _note(
            NoteCode.LAYOFF,
            Level.CARE if away else Level.NOTE,
            f"days since the last logged play {days} >= {bound}",
            facts=NoteFacts(days=days),
        )


def _flag_notes(student: Student, kinds: tuple[IntentKind, ...]) -> Iterator[CareNote]:
    """Parts of the body the student told the coach about."""
    flagged = tuple(dict.fromkeys(student.areas))
    met = asked_of(kinds, flagged)
    if met:
        yield _note(
            NoteCode.INTENT_MEETS_FLAG,
            Level.ASK_FIRST,
            f"flagged {_listed(met)}; intent asks for {', '.join(kinds)}",
            body=True,
            facts=NoteFacts(areas=met),
        )
    # Where the intent already speaks of some areas, this note is about the rest.
    if flagged:
        rest = tuple(area for area in flagged if area not in met)
        yield _note(
            NoteCode.FLAGGED_AREA,
            Level.CARE,
            f"flagged {_listed(flagged)}",
            body=True,
            facts=NoteFacts(areas=rest or flagged),
        )


def _intent_notes(student: Student, notes: Notes) -> Iterator[CareNote]:
    """What the intent and the ground ask of any body; these name nobody's flag or age."""
    if IntentKind.SPEED in notes.kinds:
        ask = student.age_band is AgeBand.SENIOR and bool(student.areas or student.conditions)
        yield _note(
            NoteCode.SPEED_WORK,
            Level.ASK_FIRST if ask else Level.CARE,
            f"intent asks for more speed{', senior with a flag' if ask else ''}",
        )
    surface = notes.conditions.surface
    if surface not in (Surface.MAT, Surface.FIRM):
        return
    why = [
        f"intent asks for {k}" for k in notes.kinds if k in (IntentKind.STEEPER, IntentKind.GRIP)
    ]
    why += [f"flagged {a}" for a in student.areas if a in JARRED_BY_FIRM_GROUND]
    if why:
        yield _note(
            NoteCode.FIRM_SURFACE,
            Level.NOTE,
            f"surface {surface}; {'; '.join(why)}",
            facts=NoteFacts(surface=surface),
        )


def _note_for(condition: Condition) -> NoteCode:
    match condition:
        case Condition.BONES:
            return NoteCode.CONDITION_OSTEOPOROSIS
        case Condition.JOINT_REPLACEMENT:
            return NoteCode.CONDITION_JOINT_REPLACEMENT
        case Condition.HEART:
            return NoteCode.CONDITION_HEART
        case Condition.PREGNANCY:
            return NoteCode.CONDITION_PREGNANCY


def _age_and_health_notes(student: Student) -> Iterator[CareNote]:
    if student.age_band is AgeBand.JUNIOR:
        yield _note(NoteCode.JUNIOR, Level.NOTE, "age band junior", body=True)
    elif student.age_band is AgeBand.SENIOR:
        yield _note(NoteCode.SENIOR, Level.NOTE, "age band senior", body=True)
    for condition in dict.fromkeys(student.conditions):
        yield _note(_note_for(condition), Level.ASK_FIRST, f"typed: {condition}", body=True)


def _quiet_notes(conditions: Conditions, on: date) -> Iterator[CareNote]:
    """The block every page carries; heat and sun only where there is a reason to speak of them.

    Room to swing and lightning always: the plan may be practised outdoors wherever the lesson was.
    """
    yield _note(NoteCode.WARM_UP, Level.INFO, "always")
    yield _note(NoteCode.SPACE, Level.INFO, "always")
    yield _note(NoteCode.LIGHTNING, Level.INFO, "always")
    for code, why in ((NoteCode.HEAT, _heat(conditions, on)), (NoteCode.SUN, _sun(conditions, on))):
        if why:
            yield _note(code, Level.INFO, why)
    yield _note(NoteCode.STOP_SIGNS, Level.INFO, "always")


def _heat(conditions: Conditions, on: date) -> str:
    """Why heat may matter; "" where nothing speaks for it."""
    warmest = _warmest(conditions)
    if warmest is not None:
        return f"temperature >= {bounds.HOT_C:g} C" if warmest >= bounds.HOT_C else ""
    hot = not conditions.indoors and on.month in bounds.HOT_MONTHS
    return f"outdoors in month {on.month}, no temperature noted" if hot else ""


def _sun(conditions: Conditions, on: date) -> str:
    """Why the sun may matter; "" where nothing speaks for it."""
    if conditions.indoors:
        return ""
    if conditions.altitude_m is not None and conditions.altitude_m >= bounds.HIGH_M:
        return f"altitude >= {bounds.HIGH_M:g} m"
    warmest = _warmest(conditions)
    if warmest is not None and warmest >= bounds.SUNNY_C:
        return f"temperature >= {bounds.SUNNY_C:g} C"
    return f"outdoors in month {on.month}" if on.month in bounds.SUNNY_MONTHS else ""


def _warmest(conditions: Conditions) -> float | None:
    every = (conditions, *(block for _, block in conditions.blocks))
    return max(
        (each.temperature_c for each in every if each.temperature_c is not None), default=None
    )


def _choose(fired: Sequence[CareNote], *, body_agreed: bool) -> tuple[CareNote, ...]:
    """Mark what the page shows: what is never cut, others up to three, the whole quiet block."""
    free = bounds.SHOWN_AT_MOST
    chosen: list[CareNote] = []
    for note in fired:
        quiet = note.level is Level.INFO
        shown = quiet or (
            (free > 0 or _never_cut(note))
            and (body_agreed or not note.body)
            and not _said_already(note, fired)
        )
        free -= shown and not quiet
        chosen.append(replace(note, shown=shown))
    return tuple(chosen)


def _never_cut(note: CareNote) -> bool:
    return (
        note.level is Level.ASK_FIRST
        or note.code is NoteCode.PAIN_LOGGED
        or (note.level is Level.CARE and note.code in _LOAD_NOTES)
    )


def _said_already(note: CareNote, fired: Sequence[CareNote]) -> bool:
    """Does a more serious note say the same? A page repeats no wording."""
    if note.code is NoteCode.NO_RECENT_SESSION:
        return any(other.code is NoteCode.LAYOFF for other in fired)
    if note.code is NoteCode.FLAGGED_AREA:
        return any(
            other.code is NoteCode.INTENT_MEETS_FLAG and other.facts.areas == note.facts.areas
            for other in fired
        )
    return False


def _listed(areas: Sequence[Area]) -> str:
    return ", ".join(areas)
