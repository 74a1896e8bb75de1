"""Lessons that are gone from the folder while their page is still up."""

import re
from pathlib import Path

from recapgen.app.consent_first import ConsentNow
from recapgen.model.problem import Code, Problem
from recapgen.privacy.addresses import lesson_page

_LESSON_PAGE = re.compile(r"(\d{4}-\d\d-\d\d)-[0-9a-z]{4}\.html")


def still_up(consent: ConsentNow, secret: bytes, site: Path) -> tuple[Problem, ...]:
    """One problem a page below ``site`` whose lesson is gone, where nothing is made anew."""
    if consent.address is None:
        return ()
    kept = {
        lesson_page(secret, consent.paths.key, lesson.key, lesson.on)
        for lesson in consent.paths.dated
    }
    up = sorted(file.name for file in (site / consent.address).glob("*.html"))
    gone = [match for page in up if page not in kept and (match := _LESSON_PAGE.fullmatch(page))]
    who = consent.student
    return tuple(
        Problem(Code.DELETED_LESSON_UP, who.where, {"day": match[1], "student": who.name})
        for match in gone
    )
