"""The lines above the pages while the lessons are watched."""

from collections.abc import Mapping
from datetime import datetime

from recapgen.model.problem import Problem
from recapgen.words.amounts import clock
from recapgen.words.catalogue import Words
from recapgen.words.problems import tell

FRAME_LABELS = ("site", "coach_book", "students", "open", "alone", "page", "problem", "ended")


def frame_labels(words: Words) -> Mapping[str, str]:
    """What the frame shows at all times."""
    return {name: words.say(f"watch.frame.{name}") for name in FRAME_LABELS}


def told_at(at: datetime, words: Words, *, built: bool, before: bool) -> str:
    """What the last build came to; ``before`` says whether an earlier one left pages to show."""
    key = "built" if built else "not-built" if before else "nothing-yet"
    return words.say(f"watch.{key}", time=clock(at.time(), words))


def problem_lines(problem: Problem, words: Words) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Its place and what is said of it, and the lines of the first way to mend it."""
    told = tell(problem, words)
    said = (
        words.say("watch.place", place=problem.where, code=problem.code.slug),
        words.say("console.found", text=told.found),
        words.say("console.expected", text=told.expected),
        words.say("console.fix", text=told.fix),
    )
    pastes = told.pastes[0] if told.pastes else ()
    return said, tuple(line for part in pastes for line in (part.place, *part.lines))
