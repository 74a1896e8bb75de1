"""From told students to what is up: pages, staging, checks, swap."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path

from recapgen.app.case_pages import agreed_cases, case_paths
from recapgen.app.consent_first import CASES, Standing, in_force, part_of
from recapgen.app.gone_lessons import still_up
from recapgen.app.hidden_films import lift_site
from recapgen.app.house import House
from recapgen.app.kept_lines import as_it_stands, as_it_was, knew
from recapgen.app.newcomers import looked_through
from recapgen.app.spot import NOBODYS_LEAKS, OWN_LEAKS, Spot, clean_of, line_of
from recapgen.app.stumbles import Stumbles
from recapgen.app.telling import Step, ToldStudent, tell_everyone
from recapgen.app.whose_films import strange_films
from recapgen.book.binding import bind_book
from recapgen.book.records import lesson_record, record_text
from recapgen.care.pain import next_change
from recapgen.clips.mark_picture import make_mark
from recapgen.intake.folder import StudentPaths
from recapgen.intake.kept_drills import keep_words
from recapgen.model.book import record_path
from recapgen.model.page import Site
from recapgen.model.people import Coach
from recapgen.model.problem import Cost, Problem, Severity, in_order
from recapgen.model.public import PublicChange
from recapgen.model.recap import StudentRecap
from recapgen.model.source import SourceRef
from recapgen.privacy.consent import page_view
from recapgen.privacy.leaks import Named, Unsaid, Up, unsaid
from recapgen.publish.checks import Place, check_site, vocabulary
from recapgen.publish.kept_site import unpack_site
from recapgen.publish.ledger import Line, Seen, digest_of, made, recipe, see
from recapgen.publish.output import Output, open_up
from recapgen.publish.site_builder import build_site
from recapgen.publish.swap import drop, put, put_among, stage, take_down
from recapgen.render.book_pages.site import book_site
from recapgen.render.card_site import card_site
from recapgen.render.cases_site import cases_site
from recapgen.render.handbook_pages import FOLDER, handbook_site
from recapgen.render.student_site import student_site
from recapgen.tools.html_reading import read_pages
from recapgen.tools.media import hiding
from recapgen.tools.template_folder import template_folder
from recapgen.tools.walking import files_below, is_plain
from recapgen.words.catalogue import Words, words
from recapgen.words.problems import as_record

_COACH_FILE = SourceRef("coach.yml")
_BOOK_LANGUAGE = "en"  # the coach's own book, whatever language the pages have


def publish_everyone(
    standings: Sequence[Standing],
    house: House,
    output: Output,
    *,
    lines: Mapping[str, Line],
    met: Sequence[Problem],
    step: Step,
    changes: Callable[[], tuple[PublicChange, ...]],
    stumbles: Stumbles,
) -> tuple[tuple[Problem, ...], dict[str, Line], int]:
    """Everybody told, then everybody's pages, then what is made from all recaps.

    ``changes`` says, once all else is done, what is other in public, for the book. Gives every
    problem (``met`` among them), the ledger's new lines, and how many sites were
    made; the others stand as they were.
    """
    house, unmarked = _with_mark(house)
    everyone = tuple(Named(s.student.name, s.paths.key) for s in standings)
    students, case_problems = tell_everyone(standings, house, step, stumbles)
    coming = frozenset(case_paths(told.recap for told in students))
    press = Press(house, output, everyone, coming)
    kept: dict[str, Line] = {}
    published = []
    written = 0
    for done, (standing, told) in enumerate(zip(standings, students, strict=True)):
        step("writing", told.recap.student.name, len(standings) + done, 2 * len(standings))
        part = part_of(standing.paths.key)
        try:
            kept[part], found, was_made = press.student(standing, told, lines.get(part))
            if not told.held_back:
                _keep_drill_words(standing.paths, told.recap, house)
        except OSError:
            raise  # the machine's fault, and everybody's
        except Exception as fault:  # noqa: BLE001 - whatever it is, it costs this student alone
            stumble = stumbles.over(standing.paths.key, fault)
            kept[part], found, was_made = press.held(standing, lines.get(part), stumble)
        written += was_made
        published.append(told.with_problems(found))
    of_cases, cases = press.cases(published, lines.get(CASES))
    if cases is not None:
        kept[CASES] = cases
    problems = [*met, *unmarked, *case_problems, *of_cases, *press.card(published)]
    theirs = [problem for told in published for problem in told.problems]
    everything = in_order((*problems, *theirs))
    return in_order((*everything, *press.book(published, everything, changes()))), kept, written


def _with_mark(house: House) -> tuple[House, tuple[Problem, ...]]:
    """The coach's mark as a page shows it, where there is one."""
    if house.coach.mark is None:
        return house, ()
    made = make_mark(house.root, house.coach.mark, house.cache)
    return replace(house, coach=replace(house.coach, mark_picture=made.value)), made.problems


@dataclass(frozen=True, slots=True)
class Press:
    """Where pages go and what none of them may tell.

    ``coming`` are the pages of cases, which are made when the students' links to them are up.
    """

    house: House
    output: Output
    everyone: tuple[Named, ...]
    coming: frozenset[str]

    def student(
        self, standing: Standing, told: ToldStudent, before: Line | None
    ) -> tuple[Line, tuple[Problem, ...], bool]:
        """One student's site, made and swapped in where anything in it would be new.

        Gives the ledger's line, the problems met and whether it was made. A fault leaves the
        last good site up, with the line it had.
        """
        stays = as_it_stands(standing, before, self.house.today)
        if told.held_back or not told.recap.published:
            return self._left_up(standing, stays, ())
        inputs = self._inputs(standing.paths.folder, before)
        made_with = recipe(template_folder(), _links(told.recap))
        goal = self.output.site / told.recap.address
        if before is not None and before.stands(
            made_with, inputs, self.house.today, self.output.root
        ):
            looked = self._looked_through(told, goal, before)
            if not _speaks_against(looked.problems):
                return looked, looked.problems, False
        unsaid_here = self._unsaid_of(told.recap)
        films = (film for recap in told.recap.recaps for film in recap.films)
        who, costs = told.recap.student, Cost.STUDENT
        strange = strange_films(films, inputs, who, self.output, up=goal, costs=costs)
        problems = strange or self._publish_student(told, goal, unsaid_here, before)
        if _speaks_against(problems):
            return self._left_up(standing, stays, problems)
        line = Line(
            recipe=made_with,
            inputs=inputs,
            made=made((goal,), self.output.root),
            made_on=self.house.today,
            changes_on=_first(
                told.granted.changes_on, next_change(told.recap.log, self.house.today)
            ),
            problems=problems,
            granted=tuple(sorted(in_force(told.granted))),
            knew=clean_of(unsaid_here, problems),
            students=self._students(),
            hidden_by=hiding.RECIPE,
        )
        return line, problems, True

    def _looked_through(self, told: ToldStudent, goal: Path, before: Line) -> Line:
        """The line of a site that stands, which is searched again where students came or went."""
        if before.students == self._students():
            return before
        who, hidden = told.recap.student, self._unsaid_of(told.recap)
        now, root = self._students(), self.house.root
        return looked_through(goal, before, student=who, told=hidden, students=now, root=root)

    def _students(self) -> str:
        """Whose names are looked for, as the ledger keeps it."""
        return digest_of(*(repr(each) for each in self.everyone))

    def held(
        self, standing: Standing, before: Line | None, problem: Problem
    ) -> tuple[Line, tuple[Problem, ...], bool]:
        """The same, for a student over whom we stumbled."""
        return self._left_up(standing, as_it_stands(standing, before, self.house.today), (problem,))

    def _left_up(
        self, standing: Standing, stays: Line, problems: tuple[Problem, ...]
    ) -> tuple[Line, tuple[Problem, ...], bool]:
        """The site as it stands, less what must not stay, and what it shows that is gone."""
        stays, lifted = lift_site(standing, stays, self.house, self.output)
        gone = still_up(standing, self.house.secret, self.output.site)
        return stays, (*problems, *lifted, *gone), False

    def _inputs(self, folder: Path, before: Line | None) -> dict[str, Seen]:
        return see(_student_files(folder, self.house.root), self.house.root, before)

    def _publish_student(
        self, told: ToldStudent, goal: Path, unsaid_here: Unsaid, before: Line | None
    ) -> tuple[Problem, ...]:
        recap = told.recap
        spoken = words(recap.student.language or self.house.coach.language)
        coach = _named(self.house.coach, spoken)
        site = student_site(page_view(recap, told.granted), coach, spoken, self.house.cache)
        spot = Spot(goal, unsaid_here, OWN_LEAKS, knew(before))
        return self._publish(site, spot, recap.student.where, Cost.STUDENT)

    def _unsaid_of(self, recap: StudentRecap) -> Unsaid:
        """What a student's own pages must not tell."""
        spoken = words(recap.student.language or self.house.coach.language)
        return unsaid(
            recap.student,
            self.everyone,
            coach=_named(self.house.coach, spoken),
            private=(r.private for r in recap.recaps if r.private),
            root=str(self.house.root),
            vocabulary=vocabulary(spoken.language, self.house.coach.language, _BOOK_LANGUAGE),
        )

    def cases(
        self, students: Sequence[ToldStudent], before: Line | None
    ) -> tuple[tuple[Problem, ...], Line | None]:
        """Make and swap in the past cases; without any there is no such folder.

        Gives the problems and what the ledger keeps of them.
        """
        goal = self.output.site / CASES
        with_case = [told for told in students if told.may_tell_case]
        if goal.exists() and any(told.held_back for told in with_case):
            return (), before  # half-read lessons tell no cases; the last good ones stay
        strange = self._strange_in_cases(with_case, goal)
        if strange:
            return strange, before
        cases = tuple(agreed_cases(with_case))
        if not cases:
            take_down(goal, self.output.staging)
            return (), None
        spoken = words(self.house.coach.language)
        site = cases_site(cases, _named(self.house.coach, spoken), spoken, self.house.cache)
        told = self._nobodys(students)
        spot = Spot(goal, told, NOBODYS_LEAKS, knew(before))
        problems = self._publish(site, spot, _COACH_FILE, Cost.CASE)
        if _speaks_against(problems):
            return problems, before
        nothing = as_it_was(None, frozenset(), self.house.today, None)
        clean = clean_of(told, problems)
        return problems, replace(nothing, knew=clean, hidden_by=hiding.RECIPE)

    def _strange_in_cases(self, students: Sequence[ToldStudent], goal: Path) -> tuple[Problem, ...]:
        found: list[Problem] = []
        for told in students:
            films = [film for recap in told.recap.recaps for film in recap.case_films]
            inputs = self._inputs(self.house.root / told.recap.student.key, None) if films else {}
            who = told.recap.student
            found += strange_films(films, inputs, who, self.output, up=goal, costs=Cost.CASE)
        return tuple(found)

    def card(self, students: Sequence[ToldStudent]) -> tuple[Problem, ...]:
        """Put the coach's card at the front of site/, its files beside the students' folders."""
        spoken = words(self.house.coach.language)
        front = f"{CASES}/index.html"
        with_cases = (self.output.site / front).is_file()
        card = card_site(_named(self.house.coach, spoken), spoken, with_cases=with_cases)
        new = stage(self.output.staging)
        build_site(card, new, template_folder())
        told = self._nobodys(students)
        problems = check_site(
            new,
            card.kind,
            told,
            where=_COACH_FILE,
            costs=Cost.RUN,
            beside=frozenset({front} if with_cases else ()),
            place=self._place(""),
            up=Up(lambda: read_pages(self.output.site), frozenset()),
            at=partial(line_of, root=self.house.root, told=told, near=_COACH_FILE.file),
        )
        if _speaks_against(problems):
            drop(new)
        else:
            open_up(new, self.output.umask)
            put_among(new, self.output.site, self.output.root)
        return problems

    def book(
        self,
        students: Sequence[ToldStudent],
        problems: Sequence[Problem],
        public: tuple[PublicChange, ...],
    ) -> tuple[Problem, ...]:
        """Bind the coach's book, with every lesson's data beside its pages."""
        say = words(_BOOK_LANGUAGE)
        coach = _named(self.house.coach, say)
        recaps = tuple(told.recap for told in students)
        up = frozenset(_files_in(self.output.site))
        book = bind_book(
            recaps, problems, self.house.today, up=up, intents=coach.intents, public=public
        )
        site = book_site(book, coach, say, self.house.cache)
        new = stage(self.output.staging)
        template = template_folder()
        build_site(site, new, template)
        for told in students:
            for recap in told.recap.recaps:
                within = f"{told.recap.student.key}/{recap.key}/"
                met = [
                    as_record(p, say)
                    for p in told.problems
                    if p.where.file.startswith(f"{within}/")
                ]
                record = lesson_record(told.recap, recap, coach.units, met)
                path = new / record_path(told.recap.student.key, recap.key)
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_text(record_text(record), encoding="utf-8")
        unpack_site(handbook_site(say, coach.accent), new / FOLDER, template, self.house.cache)
        beside = frozenset(f"../site/{path}" for path in up)
        found = check_site(new, site.kind, None, where=_COACH_FILE, costs=Cost.RUN, beside=beside)
        if _speaks_against(found):
            drop(new)
        else:
            put(new, self.output.book, self.output.root)
        return found

    def _publish(
        self, site: Site, spot: Spot, where: SourceRef, costs: Cost
    ) -> tuple[Problem, ...]:
        """Build, check, and swap in or give up; a leak that was up all along comes down."""
        new = stage(self.output.staging)
        build_site(site, new, template_folder())
        problems = check_site(
            new,
            site.kind,
            spot.told,
            where=where,
            costs=costs,
            place=self._place(spot.goal.name),
            up=spot.up(),
            at=partial(line_of, root=self.house.root, told=spot.told, near=where.file),
        )
        if not _speaks_against(problems):
            open_up(new, self.output.umask)
            put(new, spot.goal, self.output.root)
            return problems
        drop(new)
        if spot.leaked_all_along():
            take_down(spot.goal, self.output.staging)
        return problems

    def _place(self, within: str) -> Place | None:
        """Where a folder of site/ will be read, if the coach has said."""
        published_at = self.house.coach.address
        if published_at is None:
            return None
        return Place(published_at, within, self.output.site, self.coming)

    def _nobodys(self, students: Sequence[ToldStudent]) -> Unsaid:
        """What a page of nobody in particular must not tell: everybody."""
        coach = self.house.coach
        return unsaid(
            None,
            self.everyone,
            coach=coach,
            private=(r.private for told in students for r in told.recap.recaps if r.private),
            root=str(self.house.root),
            vocabulary=vocabulary(coach.language, _BOOK_LANGUAGE),
        )


def _named(coach: Coach, spoken: Words) -> Coach:
    """The coach, called so on the page where there is no coach.yml with a name yet."""
    return coach if coach.name else replace(coach, name=spoken.say("page.coach.unnamed"))


def _first(*days: date | None) -> date | None:
    return min((day for day in days if day is not None), default=None)


def _speaks_against(problems: Iterable[Problem]) -> bool:
    return any(problem.severity is Severity.ERROR for problem in problems)


def _keep_drill_words(paths: StudentPaths, student: StudentRecap, house: House) -> None:
    """From now on these lessons tell their drills in these words."""
    plans = {recap.key: recap.notes.practice for recap in student.recaps}
    for lesson in paths.lessons:
        keep_words(house.root, lesson, plans.get(lesson.key), house.coach.drills)


def _student_files(folder: Path, root: Path) -> Iterable[Path]:
    """What a student's pages depend on: the student's own files, the coach's settings, drills."""
    yield from (f for f in root.glob("[Dd]rills/*") if is_plain(f))
    yield from files_below(folder)
    yield from (f for f in root.iterdir() if is_plain(f) and not f.name.startswith("."))


def _links(student: StudentRecap) -> str:
    return repr([recap.see_also for recap in student.recaps])


def _files_in(folder: Path) -> Iterable[str]:
    return (f.relative_to(folder).as_posix() for f in folder.rglob("*") if f.is_file())
