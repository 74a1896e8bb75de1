"""``one-page``: a published lesson as a single file."""

from datetime import date
from pathlib import Path

from msgspec import Struct

from recapgen.app.as_published import shows_todays_files
from recapgen.app.consent_first import consents_of, people_in
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.settings import read_coach
from recapgen.intake.which_folder import LessonGiven, lesson_given, to_type
from recapgen.model.people import Coach
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef
from recapgen.privacy.addresses import read_secret
from recapgen.privacy.lasting_links import LastingLinks, Memory, read_memory
from recapgen.publish.build_state import program
from recapgen.publish.one_page import one_page
from recapgen.publish.output import Output, claim
from recapgen.tools.atomic import write_text
from recapgen.tools.cache import Cache
from recapgen.tools.clock import today


class OnePage(Struct, frozen=True):
    """A lesson's single file; ``left_out`` is how many clips its student has not agreed to."""

    file: Path
    size_bytes: int
    left_out: int


def one_lesson(lesson: Path, out: Path | None, day: date | None) -> Checked[OnePage]:
    """Write the page of the folder ``lesson`` as one file below ``one_page`` in the output.

    Refused where the student has not agreed to a page, or does not any more, and where the site
    shows no page of the lesson as its files stand today: it was held back, or is still to be built.
    """
    given = lesson_given(lesson, "one-page")
    if given.value is None:
        return Checked(None, given.problems)
    root = given.value.found.root
    output_root = out or root.with_name(f"{root.name}_out")
    if not (output_root / "site").is_dir():
        return Checked(None, (_not_up(given.value, lesson),))
    claimed = claim(output_root, root)
    if claimed.value is None:
        return Checked(None, claimed.problems)
    try:
        return _packed(given.value, lesson, claimed.value, today(day))
    finally:
        claimed.value.release()


def _packed(given: LessonGiven, asked: Path, output: Output, day: date) -> Checked[OnePage]:
    root, secret = given.found.root, read_secret(given.found.root).value
    if secret is None:
        return Checked(None, (_not_up(given, asked),))
    coach = read_coach(root).value or Coach("")
    memory = read_memory(root, output.links).value or Memory({})
    links = LastingLinks(secret, memory.students)
    people = people_in(given.found, coach, day, KeptReadings(Cache(output.cache), program()))
    consents = consents_of(given.found, people, links.address)
    consent = next(each for each in consents if each.paths.key == given.student.key)
    if not consent.granted.page:
        facts = {"student": consent.student.name}
        return Checked(None, (Problem(Code.ONE_PAGE_NOT_AGREED, consent.student.where, facts),))
    if consent.student.locked:
        facts = {"student": consent.student.name}
        return Checked(None, (Problem(Code.ONE_PAGE_LOCKED, consent.student.where, facts),))
    site = output.site / links.address(given.student.key)
    name = links.page(given.student.key, given.lesson.key, given.lesson.on)
    if not (site / name).is_file() or not shows_todays_files(consent, root, output, day):
        return Checked(None, (_not_up(given, asked),))
    file = output.one_pages / name
    file.parent.mkdir(exist_ok=True)
    write_text(file, one_page(site, name))
    left_out = 0 if consent.granted.clips else len(given.lesson.clips)
    return Checked(OnePage(file, file.stat().st_size, left_out), ())


def _not_up(given: LessonGiven, asked: Path) -> Problem:
    facts = {
        "lesson": f"{given.student.key}/{given.lesson.key}",
        "build": f"recapgen build {to_type(given.found.root, asked)}",
        "line": f"recapgen one-page {to_type(given.lesson.folder, asked)}",
    }
    return Problem(Code.ONE_PAGE_NOT_UP, SourceRef(""), facts)
