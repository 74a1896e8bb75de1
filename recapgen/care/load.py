"""The plan in numbers, beside what this student is used to. Unknown stays unknown, never zero."""

from collections.abc import Sequence
from datetime import date
from statistics import median

from recapgen.care.bounds import LAST_MONTH_DAYS
from recapgen.model.care import Load
from recapgen.model.lesson import Practice
from recapgen.model.practice_log import LogEntry, PracticeLog

WEEKS_IN_A_USUAL_WEEK = 4
WEEKS_LOOKED_BACK = 12  # an older habit is no habit


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
    """The plan's stated balls, else the sum over its steps, else unknown."""
    if practice.balls_per_session is not None:
        return practice.balls_per_session
    counted = [step.balls for step in practice.steps if step.balls is not None]
    return sum(counted) if counted else None


def is_session(entry: LogEntry) -> bool:
    """Is this line a practice session, with or without a count of its balls?

    A line that tells only of a round, of pain, or of a day without balls is not one.
    """
    if entry.balls is not None:
        return entry.balls > 0
    return not entry.rounds and bool(entry.minutes or entry.effort)


def days_before(entry: LogEntry, on: date) -> int:
    return (on - entry.on).days


def _times(balls: int | None, sessions: int | None) -> int | None:
    return None if balls is None or sessions is None else balls * sessions


def _biggest(past: Sequence[LogEntry], on: date) -> int | None:
    recent = [e.balls for e in past if e.balls and days_before(e, on) <= LAST_MONTH_DAYS]
    return max(recent, default=None)


def _usual_week(past: Sequence[LogEntry], on: date) -> float | None:
    balls: dict[int, int] = {}
    uncounted: set[int] = set()
    for entry in past:
        week = (days_before(entry, on) - 1) // 7
        if entry.balls is not None:
            balls[week] = balls.get(week, 0) + entry.balls
        elif is_session(entry):
            uncounted.add(week)
    known = [w for w in sorted(balls) if w < WEEKS_LOOKED_BACK and w not in uncounted]
    latest = [balls[w] for w in known[:WEEKS_IN_A_USUAL_WEEK]]
    return float(median(latest)) if latest else None


def _days_since_last(past: Sequence[LogEntry], on: date, earlier: Sequence[date]) -> int | None:
    """Lessons shorten a break, but only a log can show one: without lines it is unknown."""
    played = [e.on for e in past if is_session(e) or e.rounds or e.score is not None]
    if not played:
        return None
    return (on - max(*played, *(day for day in earlier if day < on), date.min)).days
