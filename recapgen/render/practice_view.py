"""The plan until next time: what, how many balls, how often, beside what is usual."""

from dataclasses import dataclass

from babel.lists import format_list

from recapgen.model.care import Load
from recapgen.model.lesson import DrillStep, Practice
from recapgen.model.recap import Recap
from recapgen.render.reader import Reader
from recapgen.words.amounts import number
from recapgen.words.catalogue import Words

_WEEKS_TO_TICK = 2
_MOST_WEEKS = 8
_MOST_TICKS = 7


@dataclass(frozen=True, slots=True)
class Step:
    what: str
    how_many: str


@dataclass(frozen=True, slots=True)
class PracticeView:
    """``summary`` and ``usual`` are sentences; ``ticks`` one row of circles a week."""

    summary: str
    usual: str
    steps: tuple[Step, ...]
    sessions: int
    weeks: tuple[str, ...]


def practice_view(recap: Recap, reader: Reader) -> PracticeView | None:
    """None where the notes hold no plan."""
    practice = recap.notes.practice
    if practice is None:
        return None
    words = reader.words
    sessions = min(practice.sessions_per_week or 0, _MOST_TICKS)
    balls = recap.load.balls_per_session if recap.load else practice.balls_per_session
    weeks = min(practice.weeks or _WEEKS_TO_TICK, _MOST_WEEKS) if sessions else 0
    return PracticeView(
        summary=_summary(practice, balls, words),
        usual=_usual(recap.load, words) if recap.load else "",
        steps=tuple(_step(step, words) for step in practice.steps),
        sessions=sessions,
        weeks=tuple(words.say("page.practice.week", n=week) for week in range(1, weeks + 1)),
    )


def _summary(practice: Practice, balls: int | None, words: Words) -> str:
    """The plan in one line: how often, and what each session holds."""
    how_often = [
        words.count(f"page.practice.{name}", count)
        for name, count in (
            ("sessions", practice.sessions_per_week),
            ("rounds", practice.rounds_per_week),
        )
        if count is not None
    ]
    each = [
        words.count(f"page.practice.{name}", count)
        for name, count in (("balls", balls), ("minutes", practice.minutes_per_session))
        if count is not None
    ]
    told = []
    if how_often:
        told.append(words.say("page.sentence", text=_listed(how_often, words)))
    if each:
        told.append(words.say("page.practice.each-session", what=_listed(each, words)))
    return " ".join(told)


def _usual(load: Load, words: Words) -> str:
    """The week's balls beside what this student is used to, where a log says so."""
    told = []
    if load.balls_per_week is not None:
        told.append(words.count("page.practice.balls-a-week", load.balls_per_week))
    if load.usual_week is not None:
        told.append(words.say("page.practice.usual-week", balls=number(load.usual_week, 0, words)))
    if load.biggest_session_30d is not None:
        told.append(words.count("page.practice.biggest", load.biggest_session_30d))
    return " ".join(told)


def _listed(parts: list[str], words: Words) -> str:
    return format_list(parts, locale=words.locale)


def _step(step: DrillStep, words: Words) -> Step:
    if step.balls is not None:
        return Step(step.what, words.count("page.practice.step-balls", step.balls))
    if step.times is not None:
        return Step(step.what, words.count("page.practice.step-times", step.times))
    return Step(step.what, "")
