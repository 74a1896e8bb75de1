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


def as_record(problem: Problem, words: Words) -> dict[str, str | int | None]:
    """A problem as data, in the order of ``check --json``."""
    told = tell(problem, words)
    return {
        "code": problem.code.slug,
        "severity": problem.severity.value,
        "file": problem.where.file,
        "line": problem.where.line,
        "column": problem.where.column,
        "found": told.found,
        "expected": told.expected,
        "fix": told.fix,
    }
