"""One folder of site/ after another: pages, staging, checks, swap."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from functools import partial
from pathlib import Path
from types import MappingProxyType

from msgspec import Struct
from msgspec.structs import replace

from recapgen.app.build_context import BOOK_LANGUAGE, COACH_FILE, BuildContext
from recapgen.app.case_pages import agreed_cases, totals_beside
from recapgen.app.consent_first import ConsentNow, in_force
from recapgen.app.destination import NOBODYS_LEAKS, OWN_LEAKS, Destination, clean_of, line_of
from recapgen.app.gone_lessons import still_up
from recapgen.app.hidden_films import lift_site
from recapgen.app.kept_states import as_it_stands, as_it_was, knew
from recapgen.app.kept_students import KeptStudents
from recapgen.app.locked_sites import SiteAt, mark_of, site_at
from recapgen.app.newcomers import looked_through
from recapgen.app.student_results import StudentResult
from recapgen.app.whose_films import strange_films
from recapgen.care.pain import next_change
from recapgen.model.as_data import as_text, from_text
from recapgen.model.page import Site, SiteKind
from recapgen.model.people import Coach
from recapgen.model.problem import Cost, Problem, speaks_against
from recapgen.model.public import CASES, FRONT_PAGE, public_path
from recapgen.model.recap import StudentRecap
from recapgen.model.source import SourceRef
from recapgen.privacy.addresses import range_address
from recapgen.privacy.consent import page_view
from recapgen.privacy.forbidden import Forbidden, Named, forbidden_in
from recapgen.privacy.leaks import Up
from recapgen.privacy.names import Vocabulary
from recapgen.publish.build_state import PartState, Seen, digest_of, made, recipe, see
from recapgen.publish.checks import SitePlace, check_site, vocabulary
from recapgen.publish.fingerprints import sign_site
from recapgen.publish.last_site import NewSite, inventory_of, read_last_site
from recapgen.publish.leading_on import leading_pages
from recapgen.publish.output import Output, open_up
from recapgen.publish.renewal import found_clean, read_already, renew, stands
from recapgen.publish.site_builder import build_site
from recapgen.publish.swap import drop, put, put_among, stage, take_down
from recapgen.recap.coming_lesson import day_after
from recapgen.render.card_site import card_site
from recapgen.render.cases_site import cases_site
from recapgen.render.range_site import range_site
from recapgen.render.student_site import student_site
from recapgen.tools.cache import key_for
from recapgen.tools.html_reading import ReadPage, read_pages
from recapgen.tools.media import hiding
from recapgen.tools.template_folder import template_folder
from recapgen.tools.walking import files_below, is_plain
from recapgen.words.catalogue import words


class SitePublisher(Struct, frozen=True):
    """Where pages go and what none of them may tell.

    ``names`` is a digest of ``everyone``, as the build state keeps it. ``coming`` are the pages of
    cases, which are made when the students' links to them are up.
    """

    context: BuildContext
    output: Output
    everyone: tuple[Named, ...]
    names: str
    coming: frozenset[str]
    known: KeptStudents

    def for_one(self, student_key: str) -> "SitePublisher":
        """The same for a helper, with no more than is needed for one student."""
        known = self.known.of_one(student_key)
        return replace(self, known=known, context=replace(self.context, pool=known.context.pool))

    def leaves(self, consent: ConsentNow, result: StudentResult, before: PartState | None) -> bool:
        """Whether the student's site is not made, or stands as it is if nobody took it away."""
        if result.held_back or not result.recap.published:
            return True
        inputs, made_with = self.known.inputs_of(consent.paths.key), self._recipe(result.recap)
        return before is not None and before.would_stand(made_with, inputs, self.context.today)

    def student(
        self, consent: ConsentNow, result: StudentResult, before: PartState | None
    ) -> tuple[PartState, tuple[Problem, ...], bool]:
        """One student's site, made and swapped in where anything in it would be new.

        Gives the site's new state, the problems met and whether it was made. A fault leaves the
        last good site up, with the line it had.
        """
        stays = as_it_stands(consent, before, self.context.today)
        if result.held_back or not result.recap.published:
            return self._left_up(consent, stays, ())
        who, costs = consent.student, Cost.STUDENT
        found = site_at(who, result.recap.address, self.context, self.output)
        if found.value is None:
            return self._left_up(consent, stays, found.problems)
        at, inputs = found.value, self.known.inputs_of(consent.paths.key)
        made_with = self._recipe(result.recap)
        if before is not None and before.stands(
            made_with, inputs, self.context.today, self.output.root
        ):
            looked = self._looked_through(result, at.pages, before)
            if not speaks_against(looked.problems):
                return looked, looked.problems, False
        result, inputs = self.known.whole(result), self._inputs(consent.paths.folder, before)
        forbidden = self._forbidden_for(result.recap)
        films = result.recap.films
        strange = strange_films(films, inputs, who, self.output, up=at.pages, costs=costs)
        problems = strange or self._publish_student(result, at, forbidden, before)
        if speaks_against(problems):
            at.follow_down(self.output)
            return self._left_up(consent, stays, problems)
        state = PartState(
            recipe=made_with,
            inputs=inputs,
            made=made((at.pages, at.goal), self.output.root),
            made_on=self.context.today,
            changes_on=_first(
                result.granted.changes_on,
                next_change(result.recap.log, self.context.today),
                day_after(result.recap.coming),
            ),
            problems=problems,
            granted=tuple(sorted(in_force(result.granted))),
            knew=clean_of(forbidden, problems),
            students=self.names,
            hidden_by=hiding.RECIPE,
        )
        return state, problems, True

    def _looked_through(self, result: StudentResult, goal: Path, before: PartState) -> PartState:
        """The line of a site that stands, which is searched again where students came or went."""
        if before.students == self.names:
            return before
        who, hidden = result.recap.student, self._forbidden_for(result.recap)
        now, root = self.names, self.context.root
        return looked_through(goal, before, student=who, forbidden=hidden, students=now, root=root)

    def held(
        self, consent: ConsentNow, before: PartState | None, problem: Problem
    ) -> tuple[PartState, tuple[Problem, ...], bool]:
        """The same, for a student at whom a fault of ours was met."""
        return self._left_up(consent, as_it_stands(consent, before, self.context.today), (problem,))

    def _left_up(
        self, consent: ConsentNow, stays: PartState, problems: tuple[Problem, ...]
    ) -> tuple[PartState, tuple[Problem, ...], bool]:
        """The site as it stands, less what must not stay, and what it shows that is gone."""
        stays, lifted = lift_site(consent, stays, self.context, self.output)
        gone = still_up(consent, self.context.links, self.output)
        return stays, (*problems, *lifted, *gone), False

    def _inputs(self, folder: Path, before: PartState | None) -> dict[str, Seen]:
        return see(student_files(folder, self.context.root), self.context.root, before)

    def _recipe(self, student: StudentRecap) -> str:
        """How a student's site is made, beside what it is made of."""
        links = repr([recap.case.links for recap in student.recaps])
        mark = mark_of(student.student, student.address, self.context.root)
        theirs = self.context.links.told(student.student.key)
        return recipe(template_folder(), links, mark, theirs)

    def _publish_student(
        self, result: StudentResult, at: SiteAt, forbidden: Forbidden, before: PartState | None
    ) -> tuple[Problem, ...]:
        recap, goal = result.recap, at.pages
        spoken = words(recap.student.language or self.context.coach.language)
        coach, cache = self.context.coach_named(spoken), self.context.cache
        inventory = key_for("inventory", recap.address)
        last = read_last_site(goal, cache.find_text(inventory))
        standing = partial(stands, last, template_folder())
        site = student_site(page_view(recap, result.granted), coach, spoken, cache, stands=standing)
        ways = self.context.links.former_pages(recap.student.key)
        site = replace(site, written=(*site.written, *leading_pages(ways, spoken.language)))
        destination = Destination(goal, forbidden, OWN_LEAKS, knew(before))
        searched = self._searched_for(recap, coach)
        new = NewSite(stage(self.output.staging), last)
        renew(site, new, template_folder())
        read = read_already(new, searched)
        problems = self._put(
            new.folder, site.kind, destination, recap.student.where, costs=Cost.STUDENT, read=read
        )
        if not speaks_against(problems):
            cache.keep_text(inventory, inventory_of(found_clean(new, problems, searched), goal))
            at.publish(spoken.language, self.context, self.output)
        return problems

    def _searched_for(self, recap: StudentRecap, coach: Coach) -> str:
        """A digest of all that a student's pages are searched for, beside the program."""
        root = str(self.context.root)
        return key_for(self.names, recap.student.name, repr(coach), root, *recap.private)

    def _forbidden_for(self, recap: StudentRecap) -> Forbidden:
        """What a student's own pages must not tell."""
        spoken = words(recap.student.language or self.context.coach.language)
        return forbidden_in(
            recap.student,
            self.everyone,
            coach=self.context.coach_named(spoken),
            private=recap.private,
            root=str(self.context.root),
            vocabulary=self._vocabulary(spoken.language),
        )

    def cases(
        self, students: Sequence[StudentResult], before: PartState | None
    ) -> tuple[tuple[Problem, ...], PartState | None]:
        """Make and swap in the past cases; without any there is no such folder.

        Gives the problems met and the cases' new state, None where there are none.
        """
        goal = self.output.site / CASES
        with_case = [result for result in students if result.may_tell_case]
        if goal.exists() and any(result.held_back for result in with_case):
            return (), before  # half-read lessons tell no cases; the last good ones stay
        with_case = [self.known.whole(result) for result in with_case]
        strange = self._strange_in_cases(with_case, goal)
        if strange:
            return strange, before
        cases = tuple(agreed_cases(with_case, self.context.coach))
        if not cases:
            take_down(goal, self.output.staging)
            return (), None
        spoken = words(self.context.coach.language)
        site = cases_site(
            cases,
            self.context.coach_named(spoken),
            spoken,
            self.context.cache,
            totals=totals_beside(students, self.context.coach),
        )
        forbidden = self._nobodys(students)
        destination = Destination(goal, forbidden, NOBODYS_LEAKS, knew(before))
        problems = self._publish(site, destination, COACH_FILE, Cost.CASE)
        if speaks_against(problems):
            return problems, before
        nothing = as_it_was(None, frozenset(), self.context.today, None)
        clean = clean_of(forbidden, problems)
        return problems, replace(nothing, knew=clean, hidden_by=hiding.RECIPE)

    def _strange_in_cases(
        self, students: Sequence[StudentResult], goal: Path
    ) -> tuple[Problem, ...]:
        found: list[Problem] = []
        for result in students:
            films = [film for recap in result.recap.recaps for film in recap.case.films]
            inputs = (
                self._inputs(self.context.root / result.recap.student.key, None) if films else {}
            )
            who = result.recap.student
            found += strange_films(films, inputs, who, self.output, up=goal, costs=Cost.CASE)
        return tuple(found)

    def card(
        self, students: Sequence[StudentResult], before: PartState | None
    ) -> tuple[PartState, tuple[Problem, ...]]:
        """Put the coach's card at the front of site/, its files beside the students' folders.

        Gives its new state and the problems met; where nothing would differ it is left as it is.
        """
        spoken = words(self.context.coach.language)
        coach, front = self.context.coach_named(spoken), public_path(CASES, FRONT_PAGE)
        with_cases = (self.output.site / front).is_file()
        private = [words for result in students for words in result.recap.private]
        facts = (repr(coach), str(with_cases), self.names, digest_of(*private))
        made_with = recipe(template_folder(), *facts)
        day, root = self.context.today, self.output.root
        if before is not None and before.stands(made_with, {}, day, root):
            return before, before.problems
        card = card_site(coach, spoken, with_cases=with_cases, signed_by=self.context.signed_by)
        new = stage(self.output.staging)
        build_site(card, new, template_folder())
        forbidden = self._nobodys(students)
        problems = check_site(
            new,
            card.kind,
            forbidden,
            where=COACH_FILE,
            costs=Cost.RUN,
            beside=frozenset({front} if with_cases else ()),
            place=self._place(""),
            up=Up(lambda: read_pages(self.output.site), frozenset()),
            at=partial(line_of, root=self.context.root, forbidden=forbidden, near=COACH_FILE.file),
        )
        state = as_it_was(None, frozenset(), day, None)
        if speaks_against(problems):
            drop(new)
            return state, problems
        open_up(new, self.output.umask)
        put_among(new, self.output.site, root)
        ours = made((self.output.site / FRONT_PAGE, self.output.site / "assets"), root)
        return replace(state, recipe=made_with, made=ours, problems=problems), problems

    def for_the_range(
        self, students: Sequence[StudentResult], before: PartState | None
    ) -> tuple[PartState, tuple[Problem, ...]]:
        """The coach's page for the range, in a folder of its own that nothing in site/ leads to."""
        spoken = words(self.context.coach.language)
        coach, at = self.context.coach_named(spoken), range_address(self.context.secret)
        private = [words for result in students for words in result.recap.private]
        made_with = recipe(template_folder(), repr(coach), self.names, digest_of(*private))
        day, root, goal = self.context.today, self.output.root, self.output.site / at
        if before is not None and before.stands(made_with, {}, day, root):
            return before, before.problems
        forbidden = self._nobodys(students)
        destination = Destination(goal, forbidden, NOBODYS_LEAKS, knew(before))
        problems = self._publish(range_site(coach, spoken), destination, COACH_FILE, Cost.RUN)
        state = as_it_was(None, frozenset(), day, None)
        if speaks_against(problems):
            return state, problems
        known = replace(state, knew=clean_of(forbidden, problems), problems=problems)
        return replace(known, recipe=made_with, made=made((goal,), root)), problems

    def _publish(
        self, site: Site, destination: Destination, where: SourceRef, costs: Cost
    ) -> tuple[Problem, ...]:
        """Build, check, and swap in or give up."""
        new = stage(self.output.staging)
        build_site(site, new, template_folder())
        return self._put(new, site.kind, destination, where, costs=costs)

    def _put(
        self,
        new: Path,
        kind: SiteKind,
        destination: Destination,
        where: SourceRef,
        *,
        costs: Cost,
        read: Mapping[str, ReadPage] = MappingProxyType({}),
    ) -> tuple[Problem, ...]:
        """Check, and swap in or give up; a leak that was up all along comes down."""
        problems = check_site(
            new,
            kind,
            destination.forbidden,
            where=where,
            costs=costs,
            place=self._place(destination.goal.name),
            up=destination.up(),
            at=partial(
                line_of, root=self.context.root, forbidden=destination.forbidden, near=where.file
            ),
            read=read,
        )
        if not speaks_against(problems):
            if destination.goal.parent == self.output.site:
                sign_site(new, destination.goal.name, self.context.secret)
            open_up(new, self.output.umask)
            put(new, destination.goal, self.output.root)
            return problems
        drop(new)
        if destination.leaked_all_along():
            take_down(destination.goal, self.output.staging)
        return problems

    def _place(self, within: str) -> SitePlace | None:
        """Where a folder of site/ will be read, if the coach has said."""
        at = self.context.coach.address
        return None if at is None else SitePlace(at, within, self.output.site, self.coming)

    def _vocabulary(self, *languages: str) -> Vocabulary:
        """What the search for names knows of all languages that a page may hold, kept: it is slow.

        A coach's own words need not be in the language of the page.
        """
        spoken = tuple(dict.fromkeys((*languages, self.context.coach.language, BOOK_LANGUAGE)))
        key = key_for("vocabulary", self.context.program, *spoken)
        text = self.context.cache.find_or_make_text(
            key, lambda: as_text(vocabulary(*spoken), Vocabulary)
        )
        return from_text(text, Vocabulary)

    def _nobodys(self, students: Sequence[StudentResult]) -> Forbidden:
        """What a page that belongs to no student must not show: any student."""
        coach = self.context.coach
        return forbidden_in(
            None,
            self.everyone,
            coach=coach,
            private=(words for result in students for words in result.recap.private),
            root=str(self.context.root),
            vocabulary=self._vocabulary(),
        )


def _first(*days: date | None) -> date | None:
    return min((day for day in days if day is not None), default=None)


def student_files(folder: Path, root: Path) -> Iterable[Path]:
    """What a student's pages depend on: the student's own files, the coach's settings, drills."""
    yield from (f for f in root.glob("[Dd]rills/*") if is_plain(f))
    yield from files_below(folder)
    yield from (f for f in root.iterdir() if is_plain(f) and not f.name.startswith("."))
