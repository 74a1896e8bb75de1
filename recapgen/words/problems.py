"""Sentences of problems, for the coach: found, expected, fix."""

from typing import Any

from msgspec import Struct

from recapgen.model.fix import Edit, Fix
from recapgen.model.problem import Problem
from recapgen.model.row_rules import RowRule
from recapgen.words.catalogue import Words
from recapgen.words.shot_sentences import tell_rule


class Paste(Struct, frozen=True):
    """Where lines go, and the lines as they are to stand there, never wrapped or shortened."""

    place: str
    lines: tuple[str, ...]


class ProblemText(Struct, frozen=True):
    """``pastes`` are the ways to mend it in lines, each of one place or more."""

    found: str
    expected: str
    fix: str
    pastes: tuple[tuple[Paste, ...], ...] = ()


def tell(problem: Problem, words: Words) -> ProblemText:
    """The three sentences of a problem, kept under ``problem.<name>``."""
    key = f"problem.{problem.code.slug}"
    facts = {**problem.facts}
    if problem.rule is not None:
        facts["rule"] = _rule(problem.rule, facts.get("reading", ""), words)
    return ProblemText(
        found=words.say(f"{key}.found", **facts),
        expected=words.say(f"{key}.expected", **facts),
        fix=words.say(f"{key}.fix", **facts),
        pastes=tuple(tuple(_paste(edit, words) for edit in fix.edits) for fix in problem.fixes),
    )


def _paste(edit: Edit, words: Words) -> Paste:
    return Paste(words.say(f"paste.{_way(edit)}", **_place(edit)), edit.lines)


def _way(edit: Edit) -> str:
    """How an editor would go about it."""
    if edit.last_line < edit.first_line:
        return "begin" if edit.first_line == 1 else "add"
    if not edit.lines:
        return "delete" if edit.first_line == edit.last_line else "delete-lines"
    return "replace" if edit.first_line == edit.last_line else "replace-lines"


def _place(edit: Edit) -> dict[str, object]:
    return {
        "file": edit.file,
        "line": edit.first_line,
        "last": edit.last_line,
        "above": edit.first_line - 1,
    }


def _rule(rule: RowRule, reading: str, words: Words) -> str:
    """The rule as part of a sentence, with the reading that broke it ("…: 316 mph")."""
    told = tell_rule(rule, words).removesuffix(".")
    return f"{told}: {reading}" if reading else told


def as_record(problem: Problem, words: Words) -> dict[str, Any]:
    """A problem as data, in the order of ``check --json``."""
    told = tell(problem, words)
    return {
        "code": problem.code.slug,
        "severity": problem.severity.value,
        "file": problem.where.file,
        "sheet": problem.where.sheet or None,
        "line": problem.where.line,
        "column": problem.where.column,
        "found": told.found,
        "expected": told.expected,
        "fix": told.fix,
        "fixes": [_record(fix) for fix in problem.fixes],
    }


def _record(fix: Fix) -> dict[str, Any]:
    edits = [
        {
            "file": edit.file,
            "first_line": edit.first_line,
            "last_line": edit.last_line,
            "lines": list(edit.lines),
        }
        for edit in fix.edits
    ]
    return {"sure": fix.sureness.value, "edits": edits}
