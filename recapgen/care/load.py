"""The plan in numbers, beside what this student is used to. Unknown stays unknown, never zero."""

from collections.abc import Sequence
from datetime import date, timedelta
from statistics import median

from recapgen.care import bounds
from recapgen.model.care import Load, NoteCode, WeekSoFar
from recapgen.model.lesson import DrillStep, Practice
from recapgen.model.practice_log import LogEntry, PracticeLog

WEEKS_IN_A_USUAL_WEEK = 4
DAYS = 7
WEEKS_LOOKED_BACK = 8  # an older habit is no habit
FEWEST_KNOWN_WEEKS = 3  # of these; with fewer a usual week is not known yet


def weigh(
    practice: Practice | None, log: PracticeLog, on: date, earlier_lessons: Sequence[date]
) -> Load | None:
    """The load of a plan given on ``on``, or None where neither plan nor log says anything.

    Only what was logged before ``on`` counts: a plan is not compared with itself.
    Weeks are the seven-day stretches that end the day before; a week is known where at
    least one ball count was logged and no session is without one.
    """
    past = [e for e in log.entries if e.on < on]
    plan = practice or Practice()
    balls = balls_per_session(plan)
    load = Load(
        balls_per_session=balls,
        sessions_per_week=plan.sessions_per_week,
        balls_per_week=_times(balls, plan.sessions_per_week),
        minutes_per_session=plan.minutes_per_session,
        rounds_per_week=plan.rounds_per_week,
        biggest_session_30d=_biggest(past, on),
        usual_week=_usual_week(past, on),
        days_since_last=_days_since_last(past, on, earlier_lessons),
    )
    return load if practice is not None or past else None


def balls_per_session(practice: Practice) -> int | None:
    """The plan's stated balls, or the sum over the steps of its fullest week if that is more.

    Unknown where neither is said.
    """
    counted = [step for step in practice.steps if step.balls_in_all is not None]
    starts = {1, *(step.weeks[0] for step in counted if step.weeks is not None)}
    weeks = [sum(s.balls_in_all or 0 for s in counted if _due(s, week)) for week in starts]
    told = [practice.balls_per_session, max(weeks) if counted else None]
    return max((balls for balls in told if balls is not None), default=None)


def week_up_to(log: PracticeLog, today: date) -> WeekSoFar | None:
    """The seven days that end today beside the time before; None where no ball was counted."""
    days = [e for e in log.entries if e.balls is not None and 0 <= days_before(e, today) < DAYS]
    if not days:
        return None
    week_began = today - timedelta(days=DAYS - 1)
    before = [e for e in log.entries if e.on < week_began]
    balls, biggest = sum(e.balls or 0 for e in days), max(e.balls or 0 for e in days)
    usual, biggest_before = _usual_week(before, week_began), _biggest(before, week_began)
    steps = (
        (
            NoteCode.SESSION_STEP,
            biggest_before is not None and steps_up_session(biggest, biggest_before),
        ),
        (NoteCode.WEEK_STEP, usual is not None and steps_up_week(balls, usual)),
        (NoteCode.WEEK_VOLUME, balls > bounds.WEEK_BALLS),
    )
    raised = tuple(code for code, up in steps if up)
    return WeekSoFar(balls, usual, biggest, biggest_before, raised)


def steps_up_session(balls: int, biggest: int) -> bool:
    """Is a session a clear step above the biggest before? In tenths, to meet a bound exactly."""
    return (
        balls * 10 > biggest * bounds.SESSION_STEP_NOTE_TENTHS
        and balls - biggest >= bounds.SESSION_STEP_BALLS
    )


def steps_up_week(balls: int, usual: float) -> bool:
    return balls * 10 > usual * bounds.WEEK_STEP_TENTHS and balls - usual >= bounds.WEEK_STEP_BALLS


def _due(step: DrillStep, week: int) -> bool:
    return step.weeks is None or step.weeks[0] <= week <= step.weeks[1]


def is_session(entry: LogEntry) -> bool:
    """Is this line a practice session, with or without a count of its balls?

    A line that records only a round, of pain, or of a day without balls is not one.
    """
    if entry.balls is not None:
        return entry.balls > 0
    return not entry.rounds and bool(entry.minutes or entry.effort)


def days_before(entry: LogEntry, on: date) -> int:
    return (on - entry.on).days


def counted_lately(log: PracticeLog, on: date) -> bool:
    """Was any count of balls, nought too, logged in the weeks that a habit is read from?"""
    return any(
        e.balls is not None and 0 < days_before(e, on) <= WEEKS_LOOKED_BACK * DAYS
        for e in log.entries
    )


def _times(balls: int | None, sessions: int | None) -> int | None:
    return None if balls is None or sessions is None else balls * sessions


def _biggest(past: Sequence[LogEntry], on: date) -> int | None:
    recent = [e.balls for e in past if e.balls and days_before(e, on) <= bounds.LAST_MONTH_DAYS]
    return max(recent, default=None)


def _usual_week(past: Sequence[LogEntry], on: date) -> float | None:
    balls: dict[int, int] = {}
    uncounted: set[int] = set()
    for entry in past:
        week = (days_before(entry, on) - 1) // DAYS
        if entry.balls is not None:
            balls[week] = balls.get(week, 0) + entry.balls
        elif is_session(entry):
            uncounted.add(week)
    known = [w for w in sorted(balls) if w < WEEKS_LOOKED_BACK and w not in uncounted]
    if len(known) < FEWEST_KNOWN_WEEKS:
        return None
    return float(median(balls[w] for w in known[:WEEKS_IN_A_USUAL_WEEK]))


def _days_since_last(past: Sequence[LogEntry], on: date, earlier: Sequence[date]) -> int | None:
    """Lessons shorten a break, but only a log can show one: without lines it is unknown."""
    played = [e.on for e in past if is_session(e) or e.rounds or e.score is not None]
    if not played:
        return None
    return (on - max(*played, *(day for day in earlier if day < on), date.min)).days
