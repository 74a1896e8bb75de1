"""Worksheets of a folder of lessons laid out for a browser, and what they come to read back."""

from datetime import date
from pathlib import Path

from msgspec import Struct

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import consents_of, people_in
from recapgen.app.student_results import StudentResult
from recapgen.app.worksheets import worksheets
from recapgen.intake.folder import survey
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.settings import read_coach
from recapgen.model.lesson import Lesson
from recapgen.model.people import Coach
from recapgen.model.recap import StudentRecap
from recapgen.model.worksheet import Worksheet
from recapgen.privacy.lasting_links import LastingLinks
from recapgen.publish.site_builder import build_site
from recapgen.render.worksheet_site import lies_beside, worksheet_site
from recapgen.tools.cache import Cache
from recapgen.tools.side_by_side import Threads
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.whole_folder import folder_of

TODAY = date(2027, 6, 20)


class Sheets(Struct, frozen=True):
    """Worksheets as files, by "student/lesson"."""

    lessons: Path
    folder: Path
    coach: Coach
    pages: dict[str, Worksheet]

    def at(self, lesson: str) -> str:
        return (self.folder / self.pages[lesson].page).as_uri()


def lay_out_sheets(lessons: Path, into: Path, kept: Cache) -> Sheets:
    """A worksheet for every lesson: none of them counts as finished."""
    found, coach = survey(lessons).value, read_coach(lessons).value
    assert found is not None
    assert coach is not None
    people = people_in(found, coach, TODAY, KeptReadings(kept, "tests"))
    everyone = consents_of(found, people, lambda key: key)
    results = [
        StudentResult(each, StudentRecap(each.student, coach.units, "", True, (), ()), ())
        for each in everyone
    ]
    links = LastingLinks(b"")
    context = BuildContext(lessons, coach, b"", TODAY, kept, Threads(2), True, "tests", links)
    made = worksheets(results, context)
    into.mkdir(exist_ok=True)
    build_site(worksheet_site(made, coach, words("en")), into, template_folder())
    for path, clip in lies_beside(made).items():
        source = clip.copy.video if clip.copy is not None else clip.still
        assert source is not None
        (into / path).parent.mkdir(exist_ok=True)
        (into / path).write_bytes(source.read_bytes())
    return Sheets(lessons, into, coach, {f"{s.student.key}/{s.key}": s for s in made})


def read_again(sheets: Sheets, lesson: str, notes: bytes) -> Lesson:
    """The lesson with ``notes`` in its folder, its student's folder without a problem."""
    student, key = lesson.split("/")
    (sheets.lessons / student / key / "notes.md").write_bytes(notes)
    found = survey(sheets.lessons).value
    assert found is not None
    paths = next(each for each in found.students if each.key == student)
    read = folder_of(sheets.lessons, paths, sheets.coach)
    assert read.problems == (), notes.decode()
    return next(each for each in read.lessons if each.key == key)
