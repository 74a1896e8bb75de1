"""Before anything else is done: what is not agreed any more comes down."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from recapgen.app.telling import House
from recapgen.intake.folder import StudentPaths
from recapgen.intake.student import read_student
from recapgen.model.people import Student
from recapgen.model.problem import Problem
from recapgen.privacy.addresses import address
from recapgen.privacy.consent import Grants, grants
from recapgen.publish.clearing import clear_away
from recapgen.publish.ledger import Line
from recapgen.publish.output import Output
from recapgen.publish.swap import take_down

CASES = "cases"
_ON_PAGES = frozenset({"page", "clips", "body"})
_IN_CASES = frozenset({"cases", "case_clips"})


@dataclass(frozen=True, slots=True)
class Standing:
    """One student's folder, who it is, and what holds today.

    ``student`` is None where student.yml cannot be read at all.
    """

    paths: StudentPaths
    student: Student | None
    granted: Grants
    address: str


def where_all_stand(students: Iterable[StudentPaths], house: House) -> tuple[Standing, ...]:
    """Every student's consent as it stands today, read before any lesson is."""
    standings = []
    for paths in students:
        student = read_student(house.root, paths, house.coach).value
        granted = grants(student, house.today) if student is not None else Grants()
        standings.append(Standing(paths, student, granted, address(house.secret, paths.key)))
    return tuple(standings)


def take_back(
    standings: Iterable[Standing], lines: Mapping[str, Line], house: House, output: Output
) -> tuple[Problem, ...]:
    """Take down every site and case that shows more than is agreed; name what is not ours.

    A student.yml that cannot be read at all takes nothing back by itself: the last good site
    stays until the day on which the agreement was known to change.
    """
    keep = {"index.html", "assets", CASES}
    for standing in standings:
        line = lines.get(part_of(standing.paths.key))
        had = frozenset(line.granted) if line is not None else _ON_PAGES | _IN_CASES
        unread = standing.student is None
        if unread and line is not None and (not line.changes_on or house.today < line.changes_on):
            keep.add(standing.address)
            continue
        lost = had - in_force(standing.granted)
        if not (lost & _ON_PAGES):
            keep.add(standing.address)
        elif (output.site / standing.address).exists():
            take_down(output.site / standing.address, output.staging)
        if lost & _IN_CASES and _tells_case(line, output.site / CASES):
            take_down(output.site / CASES, output.staging)
    return clear_away(output, keep)


def in_force(granted: Grants) -> frozenset[str]:
    """The names of what is granted, as the ledger keeps them."""
    return frozenset(name for name in _ON_PAGES | _IN_CASES if getattr(granted, name))


def part_of(student_key: str) -> str:
    """The ledger's name for a student's site."""
    return f"student {student_key}"


def _tells_case(line: Line | None, cases: Path) -> bool:
    """Whether a case of this student may be up; without a line nobody knows."""
    return cases.exists() and (line is None or "cases" in line.granted)
