"""``bundle``: each published site as one zip, to upload or to hand over."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from msgspec import Struct

from recapgen.app.as_published import shows_todays_files
from recapgen.app.build_context import BOOK_LANGUAGE
from recapgen.app.chosen_students import choose
from recapgen.app.consent_first import ConsentNow, consents_of, people_in
from recapgen.app.first_look import surveyed
from recapgen.app.locked_sites import pages_of
from recapgen.intake.folder import Survey
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.settings import read_coach
from recapgen.intake.text_file import read_text
from recapgen.intake.which_folder import to_type
from recapgen.model.people import Coach
from recapgen.model.problem import Checked, Code, Cost, Problem, in_order
from recapgen.model.public import FRONT_PAGE, Bundle
from recapgen.model.source import SourceRef
from recapgen.privacy.addresses import read_secret
from recapgen.privacy.forbidden import Forbidden, forbidden_in, named
from recapgen.privacy.lasting_links import LastingLinks, Memory, read_memory
from recapgen.privacy.leaks import leaks
from recapgen.publish.build_state import program
from recapgen.publish.checks import vocabulary
from recapgen.publish.emptying import is_emptying
from recapgen.publish.even_zip import write_zip
from recapgen.publish.output import Output, OutputPlaces, claim
from recapgen.publish.swap import take_down
from recapgen.tools.cache import Cache
from recapgen.tools.clock import today
from recapgen.tools.html_reading import read_site
from recapgen.tools.walking import files_below


def bundle(
    lessons: Path, only: Sequence[str], out: Path | None, day: date | None
) -> Checked[tuple[Bundle, ...]]:
    """Write the published site of each student, or of those ``only`` names, as a zip of its own.

    A site that is not agreed today, or not what the files say today, is not bundled: what is handed
    over is what a build would publish. Raises OSError.
    """
    survey = surveyed(lessons, "bundle")
    if survey.value is None:
        return Checked(None, survey.problems)
    places = OutputPlaces(out or survey.value.root.with_name(f"{survey.value.root.name}_out"))
    if not places.site.is_dir():
        return Checked(None, (_not_up(survey.value.root.name, lessons, survey.value.root),))
    claimed = claim(places.root, survey.value.root)
    if claimed.value is None:
        return Checked(None, claimed.problems)
    try:
        return _bundled(survey.value, lessons, only, claimed.value, today(day))
    finally:
        claimed.value.release()


def _bundled(
    found: Survey, asked: Path, only: Sequence[str], output: Output, day: date
) -> Checked[tuple[Bundle, ...]]:
    root, secret = found.root, read_secret(found.root).value
    if secret is None:
        return Checked(None, (_not_up(root.name, asked, root),))
    coach = read_coach(root).value or Coach("")
    memory = read_memory(root, output.links).value or Memory({})
    people = people_in(found, coach, day, KeptReadings(Cache(output.cache), program()))
    consents = consents_of(found, people, LastingLinks(secret, memory.students).address)
    wanted = [each for each in consents if each.granted.page]
    if only:
        chosen = choose(consents, only, None)
        if chosen.value is None:
            return Checked(None, chosen.problems)
        wanted = [each for each in consents if each.paths.key in chosen.value.keys]
    else:
        take_down(output.bundles, output.staging)
    output.bundles.mkdir(mode=0o700, exist_ok=True)
    bundler = _Bundler(consents, coach, asked, root, output, day)
    made: list[Bundle] = []
    problems: list[Problem] = []
    for each in wanted:
        one = bundler.bundle(each)
        made += [one.value] if one.value is not None else []
        problems += one.problems
    return Checked(tuple(made), in_order(problems))


class _Bundler(Struct, frozen=True):
    """``asked`` is the lessons folder ``root`` as the coach typed it."""

    everyone: Sequence[ConsentNow]
    coach: Coach
    asked: Path
    root: Path
    output: Output
    day: date

    def bundle(self, consent: ConsentNow) -> Checked[Bundle]:
        """The student's site as it lies there, unless something speaks against handing it over."""
        student, at = consent.student, consent.address
        if at is None or not self._is_up(consent, self.output.site / at):
            return Checked(None, (_not_up(consent.paths.key, self.asked, self.root),))
        site, forbidden = self.output.site / at, self._forbidden_for(consent)
        read = dict.fromkeys((pages_of(student, at, self.output), site))
        found = [
            problem
            for pages in read
            for problem in leaks(read_site(pages), forbidden, student.where, Cost.STUDENT)
        ]
        if found:
            return Checked(None, tuple(found))
        files = [*files_below(site)]
        zipped = self.output.bundles / f"{at}.zip"
        write_zip(zipped, [(file.relative_to(site.parent).as_posix(), file) for file in files])
        size = zipped.stat().st_size
        return Checked(Bundle(student.name, zipped, len(files), size, locked=student.locked), ())

    def _is_up(self, consent: ConsentNow, site: Path) -> bool:
        """Whether the page is agreed today, and up as the files say today."""
        return (
            consent.granted.page
            and (site / FRONT_PAGE).is_file()
            and not is_emptying(site)
            and shows_todays_files(consent, self.root, self.output, self.day)
        )

    def _forbidden_for(self, consent: ConsentNow) -> Forbidden:
        private = (lesson.private for lesson in consent.paths.dated)
        return forbidden_in(
            consent.student,
            [named(each.student, each.paths.key) for each in self.everyone],
            coach=self.coach,
            private=[read_text(self.root, file).value or "" for file in private if file],
            root=str(self.root),
            vocabulary=vocabulary(consent.student.language or self.coach.language, BOOK_LANGUAGE),
        )


def _not_up(whose: str, asked: Path, root: Path) -> Problem:
    facts = {"whose": whose, "build": f"recapgen build {to_type(root, asked)}"}
    return Problem(Code.BUNDLE_NOT_UP, SourceRef(""), facts)
