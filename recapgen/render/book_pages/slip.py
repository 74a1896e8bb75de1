"""The slip that a coach hands to a locked student: the address, and the words that open it."""

from io import BytesIO

import segno
from markupsafe import Markup

from recapgen.model.page import Page
from recapgen.model.people import Coach
from recapgen.model.public import public_address
from recapgen.model.recap import StudentRecap
from recapgen.render.environment import fill
from recapgen.words import catalogue

_QUIET_MODULES = 4  # around the square, as ISO/IEC 18004 asks


def slip_path(student_page: str) -> str:
    """The slip's page, beside the student's own in the book."""
    return f"slip-{student_page.removeprefix('student-')}"


def slip_page(
    student: StudentRecap, passphrase: str, coach: Coach, path: str, section: str
) -> Page:
    """One page to print, in the student's language; the square only where the address is known."""
    who = student.student
    words = catalogue.words(who.language or coach.language)
    link = public_address(coach.address, student.address) if coach.address else ""
    return Page(
        path=path,
        title=who.name,
        body=fill(
            "book/pages/slip.html.jinja",
            words,
            book=catalogue.words("en").say,
            language=words.language,
            name=who.name,
            opened_by=passphrase.split("-"),
            link=link,
            square=_square(link) if link else None,
            told=who.agreed.cases,
        ),
        section=section,
    )


def _square(link: str) -> Markup:
    drawn = BytesIO()
    segno.make(link, micro=False, error="m").save(
        drawn, kind="svg", xmldecl=False, svgns=False, border=_QUIET_MODULES,
        light="#fff", dark="#000", omitsize=True, svgclass=None, lineclass=None,
    )  # fmt: skip
    return Markup(drawn.getvalue().decode("ascii"))  # noqa: S704 - drawn by segno alone
