"""Problems told to the coach: found, expected, fix."""

from dataclasses import dataclass

from recapgen.model.problem import Problem
from recapgen.words.catalogue import Words


@dataclass(frozen=True, slots=True)
class Told:
    found: str
    expected: str
    fix: str


def tell(problem: Problem, words: Words) -> Told:
    """The three sentences of a problem, kept under ``problem.<name>``."""
    key = f"problem.{problem.code.slug}"
    return Told(
        *(words.say(f"{key}.{part}", **problem.facts) for part in ("found", "expected", "fix"))
    )
