"""Before anything else is done: what is not agreed any more comes down."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from recapgen.app.house import House
from recapgen.intake.folder import StudentPaths
from recapgen.intake.student import read_student
from recapgen.model.people import Student
from recapgen.model.problem import Problem
from recapgen.privacy.addresses import address
from recapgen.privacy.consent import Grants, grants
from recapgen.publish.clearing import clear_away
from recapgen.publish.ledger import Line
from recapgen.publish.output import Output

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
    standings: Iterable[Standing], lines: Mapping[str, Line], output: Output
) -> tuple[Problem, ...]:
    """Take down every site and case that shows more than is agreed; name what is not ours.

    Where student.yml cannot be read nobody knows whether it takes something back, so the
    site comes down too. A folder that is gone takes its cases with it.
    """
    keep = {"index.html", "assets", CASES}
    granted_now: dict[str, frozenset[str]] = {}
    for standing in standings:
        part = part_of(standing.paths.key)
        granted_now[part] = in_force(standing.granted)
        had = lines[part].granted if part in lines else _ON_PAGES | _IN_CASES
        if granted_now[part] >= _ON_PAGES & frozenset(had):
            keep.add(standing.address)
    if not lines:
        keep.discard(CASES)  # a lost ledger: nobody knows whose they are
    for part, line in lines.items():
        if _IN_CASES & frozenset(line.granted) - granted_now.get(part, frozenset()):
            keep.discard(CASES)
    return clear_away(output, keep)


def in_force(granted: Grants) -> frozenset[str]:
    """The names of what is granted, as the ledger keeps them."""
    return frozenset(name for name in _ON_PAGES | _IN_CASES if getattr(granted, name))


def part_of(student_key: str) -> str:
    """The ledger's name for a student's site."""
    return f"student {student_key}"
