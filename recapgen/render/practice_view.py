"""The plan until next time: what, how many balls, how often, beside what is usual."""

from collections.abc import Mapping

from markupsafe import Markup
from msgspec import Struct
from msgspec.structs import replace

from recapgen.model.care import Load
from recapgen.model.drill import Demonstration
from recapgen.model.lesson import DrillStep, Practice, PracticeOrder
from recapgen.model.page import Asset
from recapgen.model.recap import Recap
from recapgen.render.coach_words import coach_words
from recapgen.render.reader import Reader
from recapgen.words.amounts import number
from recapgen.words.catalogue import Words
from recapgen.words.club_names import club_name

WEEKS_UNLESS_SAID = 2
MOST_WEEKS = 8
_MOST_TICKS = 7
_TEST_BALLS = 10
_MINUTE_S = 60
_NO_LAST_WEEK = 52
_IN_ORDER = (PracticeOrder.BLOCKED, None, PracticeOrder.VARIED)


class DrillMedia(Struct, frozen=True):
    """Where a drill is to be seen, from the page; ``video`` is empty for a picture."""

    picture: str
    video: str


class Step(Struct, frozen=True):
    """``details`` are further short facts; ``right`` and ``stop`` whole sentences."""

    what: str
    how_many: str
    details: str
    right: str
    stop: str
    words: Markup | None
    show: DrillMedia | None = None


class Stage(Struct, frozen=True):
    """Steps of one way of practising; ``heading`` is empty where the plan makes no difference."""

    heading: str
    steps: tuple[Step, ...]


class PracticeView(Struct, frozen=True):
    """``summary`` and ``usual`` are sentences; ``weeks`` has one row of circles each.

    ``test`` is how retention will be measured, in sentences; empty where it cannot be.
    """

    summary: str
    usual: str
    stages: tuple[Stage, ...]
    test: tuple[str, ...]
    sessions: int
    weeks: tuple[str, ...]


def practice_view(recap: Recap, reader: Reader) -> PracticeView | None:
    """None where the notes hold no plan."""
    practice = recap.notes.practice
    if practice is None:
        return None
    words = reader.words
    sessions = min(practice.sessions_per_week or 0, _MOST_TICKS)
    load = recap.practice.load
    balls = load.balls_per_session if load else practice.balls_per_session
    weeks = min(weeks_of(practice), MOST_WEEKS) if sessions else 0
    return PracticeView(
        summary=_summary(practice, balls, words),
        usual=_usual(load, words) if load else "",
        stages=_stages(
            practice,
            {m.name: DrillMedia(_still(m), _moving(m)) for m in recap.practice.demonstrations},
            words,
        ),
        test=_test(recap, practice, words),
        sessions=sessions,
        weeks=tuple(words.say("page.practice.week", n=week) for week in range(1, weeks + 1)),
    )


def weeks_of(practice: Practice) -> int:
    return practice.weeks or WEEKS_UNLESS_SAID


def drill_assets(recap: Recap) -> tuple[Asset, ...]:
    """The files of the drills that are shown, under names that say nothing."""
    return tuple(
        Asset(path, source)
        for made in recap.practice.demonstrations
        for path, source in ((_still(made), made.picture), (_moving(made), made.video))
        if source is not None
    )


def _still(made: Demonstration) -> str:
    return f"drills/{made.fingerprint}.webp"


def _moving(made: Demonstration) -> str:
    return f"drills/{made.fingerprint}.mp4" if made.video is not None else ""


def step_in_words(step: DrillStep, words: Words) -> str:
    """A step on one line, for where there is no room for more."""
    told = _step(step, words)
    return words.listed((told.what.rstrip(".。"), told.how_many, told.details))


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
        told.append(words.say("page.sentence", text=words.enumerated(how_often)))
    if each:
        told.append(words.say("page.practice.each-session", what=words.enumerated(each)))
    return words.together(told)


def _usual(load: Load, words: Words) -> str:
    """The week's balls beside what this student is used to, where a log says so."""
    told = []
    if load.balls_per_week is not None:
        told.append(words.count("page.practice.balls-a-week", load.balls_per_week))
    if load.usual_week is not None:
        told.append(words.say("page.practice.usual-week", balls=number(load.usual_week, 0, words)))
    elif load.usual_week_open:
        told.append(words.say("page.practice.usual-week-open"))
    if load.biggest_session_30d is not None:
        told.append(words.count("page.practice.biggest", load.biggest_session_30d))
    return words.together(told)


def _stages(practice: Practice, shown: Mapping[str, DrillMedia], words: Words) -> tuple[Stage, ...]:
    """Blocked steps first, varied ones last, whatever the order they were written in."""
    if all(step.way is None for step in practice.steps):
        steps = tuple(_with_show(step, shown, words) for step in practice.steps)
        return (Stage("", steps),) if steps else ()
    stages = []
    for way in _IN_ORDER:
        steps = tuple(_with_show(step, shown, words) for step in practice.steps if step.way is way)
        if steps:
            heading = words.say(f"page.practice.way.{way or 'also'}")
            stages.append(Stage(heading, steps))
    return tuple(stages)


def _with_show(step: DrillStep, shown: Mapping[str, DrillMedia], words: Words) -> Step:
    return replace(_step(step, words), show=shown.get(step.show or ""))


def _step(step: DrillStep, words: Words) -> Step:
    return Step(
        what=step.what,
        how_many=_how_many(step, words),
        details=" · ".join(_details(step, words)),
        right=_sentence("right", step.right_when, words),
        stop=_sentence("stop", step.stop_when, words),
        words=coach_words(step.words),
    )


def _sentence(key: str, text: str | None, words: Words) -> str:
    return words.say(f"page.practice.{key}", text=text.rstrip(".。")) if text else ""


def _how_many(step: DrillStep, words: Words) -> str:
    if step.balls is not None:
        told = words.count("page.practice.step-balls", step.balls)
    elif step.times is not None:
        told = words.count("page.practice.step-times", step.times)
    else:
        return words.count("page.practice.step-sets", step.sets) if step.sets else ""
    sets = step.sets or 1
    return told if sets == 1 else words.say("page.practice.step-sets-of", sets=sets, what=told)


def _details(step: DrillStep, words: Words) -> list[str]:
    told = []
    if step.club is not None:
        told.append(club_name(step.club, words))
    if step.speed_percent is not None:
        told.append(words.say("page.practice.speed", share=step.speed_percent))
    if step.rest_s is not None:
        minutes, seconds = divmod(step.rest_s, _MINUTE_S)
        rest = (
            words.count("page.practice.seconds", step.rest_s)
            if seconds or not minutes
            else words.count("page.practice.minutes", minutes)
        )
        told.append(words.say("page.practice.rest", time=rest))
    if step.weeks is not None:
        first, last = step.weeks
        if last >= _NO_LAST_WEEK:
            told.append(words.say("page.practice.from-week", first=first))
        elif first == last:
            told.append(words.say("page.practice.in-week", first=first))
        else:
            told.append(words.say("page.practice.in-weeks", first=first, last=last))
    return told


def _test(recap: Recap, practice: Practice, words: Words) -> tuple[str, ...]:
    """The first balls of the next lesson, which is where what stuck is read."""
    test = practice.test
    if test is not None:
        step = _step(test, words)
        own = words.say("page.sentence", text=step_in_words(test, words))
        return (*(part for part in (own, step.right, step.stop) if part), _record(words))
    if recap.notes.declaration is None:
        return ()
    balls = words.count("page.practice.balls", _TEST_BALLS)
    club = recap.notes.club
    key = "with-club" if club else "any-club"
    named = club_name(club, words) if club else ""
    return words.say(f"page.practice.test.{key}", balls=balls, club=named), _record(words)


def _record(words: Words) -> str:
    return words.say("page.practice.test.record")
