"""Problems told to the coach: found, expected, fix."""

from dataclasses import dataclass

from recapgen.model.problem import Code, Problem
from recapgen.words.catalogue import Words
from recapgen.words.shots import tell_rule

_OF_A_RULE = frozenset({Code.SHOTS_ROW_IMPOSSIBLE, Code.SHOTS_ROW_DOUBTFUL})


@dataclass(frozen=True, slots=True)
class Told:
    found: str
    expected: str
    fix: str


def tell(problem: Problem, words: Words) -> Told:
    """The three sentences of a problem, kept under ``problem.<name>``."""
    key = f"problem.{problem.code.slug}"
    facts = {**problem.facts}
    if problem.code in _OF_A_RULE:
        facts["rule"] = _rule(facts["rule"], words)
    return Told(*(words.say(f"{key}.{part}", **facts) for part in ("found", "expected", "fix")))


def _rule(named: str, words: Words) -> str:
    """Of "smash over ceiling" or "impossible apex: 300 m" the sentence."""
    name, colon, reading = named.partition(": ")
    told = tell_rule(name.replace(" ", "-"), words).removesuffix(".")
    return f"{told}{colon}{reading}"


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
