"""Who comes or goes changes no other student's pages, only which names they must not hold."""

from functools import partial
from pathlib import Path

from msgspec.structs import replace

from recapgen.app.destination import clean_of, line_of
from recapgen.app.kept_states import knew
from recapgen.model.people import Student
from recapgen.model.problem import Code, Cost
from recapgen.privacy.forbidden import Forbidden
from recapgen.privacy.leaks import Up, leaks
from recapgen.publish.build_state import PartState
from recapgen.tools.html_reading import read_site


def looked_through(
    goal: Path,
    before: PartState,
    *,
    student: Student,
    forbidden: Forbidden,
    students: str,
    root: Path,
) -> PartState:
    """The state of the site at ``goal``, which stands, once it is searched for today's names.

    ``forbidden`` is what it must not tell, ``students`` whose names that holds. What is met is told
    with the state's problems; a name of before stays the error it is.
    """
    site, where = read_site(goal), student.where
    found = leaks(
        site,
        forbidden,
        where,
        Cost.STUDENT,
        up=Up(lambda: site, knew(before)),
        at=partial(line_of, root=root, forbidden=forbidden, near=where.file),
    )
    earlier = (p for p in before.problems if p.code is not Code.STUDENT_NAMED_BEFORE)
    clean = clean_of(forbidden, found)
    return replace(before, problems=(*earlier, *found), knew=clean, students=students)
