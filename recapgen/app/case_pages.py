"""The cases of all students: which there are, and where they will be read."""

from collections.abc import Iterable, Sequence

from recapgen.app.student_results import StudentResult
from recapgen.book.cases import case_of, totals_of
from recapgen.model.case import Case, IntentTotals
from recapgen.model.people import Coach
from recapgen.model.public import CASES, FRONT_PAGE, public_path
from recapgen.model.recap import StudentRecap


def case_paths(students: Iterable[StudentRecap]) -> Iterable[str]:
    """Below site/: what the cases of all lessons will be made as."""
    pages = [recap.case.page for student in students for recap in student.recaps]
    if any(pages):
        yield public_path(CASES, FRONT_PAGE)
    yield from (public_path(CASES, page) for page in pages if page is not None)


def agreed_cases(students: Iterable[StudentResult], coach: Coach) -> Iterable[Case]:
    """Every agreed case once: a name used twice belongs to its first lesson."""
    pages = set()
    for result in students:
        for recap in result.recap.recaps:
            page = recap.case.page
            if page is not None and page not in pages:
                pages.add(page)
                yield case_of(
                    result.recap,
                    recap,
                    page,
                    result.granted.case_clips,
                    with_age=result.granted.body,
                    with_shots=result.granted.case_shots,
                    misses=coach.misses,
                )


def totals_beside(students: Sequence[StudentResult], coach: Coach) -> tuple[IntentTotals, ...]:
    """How all lessons with the intents of the agreed cases ended; results may be in brief."""
    everybody = [result.recap for result in students]
    told = [recap for student in everybody for recap in student.recaps if recap.case.page]
    return totals_of(everybody, told, coach.intents)
