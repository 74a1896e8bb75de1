"""Before anything else is done: what is not agreed any more comes down."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from recapgen.intake.folder import StudentPaths, Survey
from recapgen.intake.student import read_student
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Checked, Code
from recapgen.privacy.consent import Grants, grants
from recapgen.publish.emptying import empty_out
from recapgen.publish.ledger import Line
from recapgen.publish.output import Output
from recapgen.publish.swap import take_down

CASES = "cases"
_STUDENT = "student "
_ON_PAGES = frozenset({"page", "clips", "body"})
_IN_CASES = frozenset({"cases", "case_clips"})


@dataclass(frozen=True, slots=True)
class Standing:
    """One student's folder, who it is, and what holds today.

    ``who`` is student.yml as it was read, once for the whole run. ``address`` is None where
    neither a secret nor the ledger tells it.
    """

    paths: StudentPaths
    who: Checked[Student]
    granted: Grants
    address: str | None

    @property
    def student(self) -> Student:
        """Who it is; no more than the folder's name where student.yml cannot be read."""
        return self.who.value or Student(self.paths.key, self.paths.key)


def _granted_to(paths: StudentPaths, student: Student, today: date) -> Grants:
    """What may be shown of ``student`` today.

    Nothing, where the folder's name is also another's on some computer: nobody knows whose
    page their address shows.
    """
    mixed_up = any(problem.code is Code.STUDENT_TWICE for problem in paths.problems)
    return Grants() if mixed_up else grants(student, today)


def where_all_stand(
    found: Survey, coach: Coach, today: date, address_of: Callable[[str], str | None]
) -> tuple[Standing, ...]:
    """Every student's consent as it stands today, read before any lesson is."""
    standings = []
    for paths in found.students:
        who = read_student(found.root, paths, coach)
        granted = _granted_to(paths, who.value or Student(paths.key, paths.key), today)
        standings.append(Standing(paths, who, granted, address_of(paths.key)))
    return tuple(standings)


def take_back(
    standings: Iterable[Standing],
    lines: Mapping[str, Line],
    output: Output,
    language: str,
    today: date,
) -> None:
    """Take down every site and case that shows more than is agreed.

    Where student.yml cannot be read nobody knows whether it takes something back: nothing
    counts as agreed. A folder that is gone takes its cases with it. ``language`` is the coach's.
    """
    granted_now: dict[str, frozenset[str]] = {}
    for standing in standings:
        part = part_of(standing.paths.key)
        granted_now[part] = in_force(standing.granted)
        had = frozenset(lines[part].granted) if part in lines else _ON_PAGES
        if standing.address is not None and _ON_PAGES & had - granted_now[part]:
            empty_out(output, standing.address, standing.student.language or language, today)
    told = {part for part, line in lines.items() if _IN_CASES & frozenset(line.granted)}
    more = any(
        _IN_CASES & frozenset(lines[part].granted) - granted_now.get(part, frozenset())
        for part in told
    )
    if more or not lines:  # without a ledger nobody knows whose the cases are
        take_down(output.site / CASES, output.staging)


def in_use(standings: Iterable[Standing]) -> set[str]:
    """The names in site/ that belong there: the card's, the cases' and agreed addresses."""
    agreed = {s.address for s in standings if s.granted.page and s.address is not None}
    return {"index.html", "assets", CASES, *agreed}


def address_in(lines: Mapping[str, Line], student_key: str) -> str | None:
    """Where the ledger says a student's site lies, whatever became of the secret."""
    line = lines.get(part_of(student_key))
    if line is None:
        return None
    return next((path.split("/")[1] for path in line.made if path.startswith("site/")), None)


def whose(standings: Iterable[Standing], lines: Mapping[str, Line]) -> dict[str, str]:
    """Address -> the student's name; where the folder is gone, what the ledger called it."""
    keys = (key_of(part) for part in lines if is_student(part))
    told = {at: key for key in keys if (at := address_in(lines, key)) is not None}
    return told | {s.address: s.student.name for s in standings if s.address is not None}


def in_force(granted: Grants) -> frozenset[str]:
    """The names of what is granted, as the ledger keeps them."""
    return frozenset(name for name in _ON_PAGES | _IN_CASES if getattr(granted, name))


def is_student(part: str) -> bool:
    """Whether a part of the ledger is a student's site."""
    return part.startswith(_STUDENT)


def key_of(part: str) -> str:
    """Whose site a student's part of the ledger is."""
    return part.removeprefix(_STUDENT)


def part_of(student_key: str) -> str:
    """The ledger's name for a student's site."""
    return f"{_STUDENT}{student_key}"
