"""Lessons that are gone from the folder while their page is still up."""

import re

from recapgen.app.consent_first import ConsentNow
from recapgen.app.locked_sites import pages_of
from recapgen.model.problem import Code, Problem
from recapgen.privacy.lasting_links import LastingLinks
from recapgen.publish.output import Output

_LESSON_PAGE = re.compile(r"(\d{4}-\d\d-\d\d)-[0-9a-z]{4}\.html")


def still_up(consent: ConsentNow, links: LastingLinks, output: Output) -> tuple[Problem, ...]:
    """One problem a published page whose lesson is gone, where nothing is made anew."""
    if consent.address is None:
        return ()
    student = consent.paths.key
    kept = {links.page(student, lesson.key, lesson.on) for lesson in consent.paths.dated}
    kept |= set(links.former_pages(student))
    pages = pages_of(consent.student, consent.address, output)
    up = sorted(file.name for file in pages.glob("*.html"))
    gone = [match for page in up if page not in kept and (match := _LESSON_PAGE.fullmatch(page))]
    who = consent.student
    return tuple(
        Problem(Code.DELETED_LESSON_UP, who.where, {"day": match[1], "student": who.name})
        for match in gone
    )
