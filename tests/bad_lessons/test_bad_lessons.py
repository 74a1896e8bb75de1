"""Small lessons folders with one deliberate fault each, pinned to what the coach is told.

A new case is a folder under ``cases/`` and its entry in ``expectations.yml``.
"""

from pathlib import Path

import pytest
import yaml

from recapgen.intake.folder import survey
from recapgen.intake.settings import read_coach
from recapgen.model.people import Coach
from recapgen.model.problem import Problem
from recapgen.words.catalogue import words
from recapgen.words.problems import tell
from tests.whole_folder import folder_of

HERE = Path(__file__).parent
CASES = sorted(path.name for path in (HERE / "cases").iterdir())
EXPECTED: dict[str, list[dict[str, str | int]]] = yaml.safe_load(
    (HERE / "expectations.yml").read_text("utf-8")
)


def problems_in(lessons: Path) -> list[Problem]:
    """Everything that reading the folder finds, in the order of its place."""
    surveyed, problems = survey(lessons)
    assert surveyed is not None
    coach, found = read_coach(surveyed.root)
    met = [*problems, *found]
    for paths in surveyed.students:
        met.extend(folder_of(surveyed.root, paths, coach or Coach(name="")).problems)
    return sorted(
        met, key=lambda p: (p.where.file, p.where.line or 0, p.where.column or 0, p.code.slug)
    )


def as_expected(problem: Problem) -> dict[str, str | int]:
    where = problem.where
    pinned: dict[str, str | int] = {
        "code": problem.code.slug,
        "costs": str(problem.cost),
        "file": where.file,
    }
    if where.line is not None:
        pinned["line"] = where.line
    if where.column is not None:
        pinned["column"] = where.column
    return pinned


def test_every_case_has_its_expectation() -> None:
    assert sorted(EXPECTED) == CASES
    assert len(CASES) >= 30
    assert all(EXPECTED.values())


@pytest.mark.parametrize("case", CASES)
def test_the_coach_is_told(case: str) -> None:
    problems = problems_in(HERE / "cases" / case)
    assert [as_expected(problem) for problem in problems] == EXPECTED[case]
    for problem in problems:
        told = tell(problem, words("en"))
        assert told.found
        assert told.expected
        assert told.fix


@pytest.mark.parametrize("case", CASES)
def test_the_place_is_in_the_file(case: str) -> None:
    for problem in problems_in(HERE / "cases" / case):
        place = HERE / "cases" / case / problem.where.file
        if problem.where.line is None or not place.is_file():
            continue
        lines = place.read_bytes().decode("utf-8", "replace").split("\n")
        assert problem.where.line <= len(lines)
        if problem.where.column is not None:
            assert 1 <= problem.where.column <= len(lines[problem.where.line - 1]) + 1
