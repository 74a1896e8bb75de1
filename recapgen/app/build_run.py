"""A build from consent to the book, of which what has not changed stays as it was."""

import os
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from functools import partial
from pathlib import Path
from time import monotonic, time

from msgspec import Struct, field
from msgspec.structs import replace

from recapgen.app.build_context import BuildContext
from recapgen.app.carried_over import (
    CalledNow,
    LinksKept,
    lead_on_from_earlier,
    linked_today,
    move_kept,
    remember_what_is_up,
    told_of_renamed,
)
from recapgen.app.chosen_students import Scope, choose
from recapgen.app.consent_first import (
    ConsentNow,
    address_in,
    consents_of,
    in_force,
    in_use,
    part_of,
    people_in,
    range_in,
    take_back,
    whose,
)
from recapgen.app.first_look import (
    not_there,
    secret_of,
    seen_today,
    settings_of,
    stops,
    surveyed,
    to_tell,
    workers,
)
from recapgen.app.gone_folders import clear_due, notice_gone, without_the_gone
from recapgen.app.hidden_films import lift_cases
from recapgen.app.kept_students import PASSING, kept_students
from recapgen.app.locked_sites import clear_unsealed, close_open_sites, damaged_locks
from recapgen.app.own_faults import OwnFaults
from recapgen.app.publishing import Everybody, Published, publish_everyone, publish_some
from recapgen.console import Console, Outcome
from recapgen.intake.folder import Survey
from recapgen.intake.kept_drills import KEPT_BELOW
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.text_file import KEPT_BEFORE
from recapgen.model.people import Coach
from recapgen.model.problem import Checked, Code, Problem, in_order
from recapgen.model.public import FRONT_PAGE, PublicChange
from recapgen.model.source import SourceRef
from recapgen.privacy.addresses import range_address, secret_mark
from recapgen.privacy.lasting_links import LastingLinks, keep_memory, read_memory
from recapgen.publish.build_state import (
    WHOLE,
    PartState,
    Seen,
    in_doubt,
    program,
    read_states,
    write_states,
)
from recapgen.publish.emptying import is_emptying
from recapgen.publish.last_run import LastRun, keep_last_run
from recapgen.publish.output import Output, claim
from recapgen.publish.public_changes import moves, what_is_up
from recapgen.publish.shards import gather, keep_shard
from recapgen.publish.strays import clear_strays
from recapgen.tools.cache import Cache
from recapgen.tools.faults import UncaughtError
from recapgen.tools.leftovers import clear_half_written, clear_temporary
from recapgen.tools.side_by_side import Crew
from recapgen.tools.stamps import Stamps

_DAY_S = 24 * 3600.0
_CACHE_KEPT_S = 60 * _DAY_S  # films nobody asked for in two months


class _Built(Struct, frozen=True):
    """``read`` are the problems that a check of the same lessons reports as well."""

    outcome: Outcome
    read: tuple[Problem, ...] = ()


def build_anew(
    lessons: Path,
    out: Path,
    day: date,
    stamps: Stamps | None,
    *,
    jobs: int | None,
    scope: Scope,
    console: Console,
) -> Outcome:
    """As ``building.build``; ``jobs`` are at work at a time, where None one a core.

    ``stamps`` are those of the lessons, taken before anything was read.
    """
    started = monotonic()
    survey = surveyed(lessons, "build")
    if survey.value is None:
        return Outcome(ran=False, problems=survey.problems)
    found = survey.value
    if not_there(found, out):
        return Outcome(ran=False, problems=(Problem(Code.LESSONS_NOT_THERE, SourceRef("")),))
    settings = settings_of(found.root, out)
    first = (*survey.problems, *settings.problems)
    if stops(settings) and not out.exists():
        return Outcome(ran=False, problems=to_tell(found.root, first))
    claimed = claim(out, found.root)
    if claimed.value is None:
        return Outcome(ran=False, problems=in_order((*survey.problems, *claimed.problems)))
    output = claimed.value
    clear_temporary()
    clear_half_written(found.root)
    try:
        built = _build_into(
            output, found, settings, day=day, jobs=jobs, scope=scope, console=console
        )
        problems = to_tell(found.root, (*first, *built.outcome.problems))
        outcome = replace(built.outcome, problems=problems, seconds=monotonic() - started)
        checked = to_tell(found.root, (*first, *built.read))
        last = None if scope.is_some else _to_keep(outcome, checked, output)
        keep_last_run(output, found.root, day, stamps, last)
    except OSError:
        raise  # the machine's fault, and no bug
    except Exception as fault:
        raise UncaughtError(output.own) from fault
    finally:
        output.release()
    return outcome


def _to_keep(outcome: Outcome, checked: tuple[Problem, ...], output: Output) -> LastRun | None:
    """What the next run may answer with; None where it may come to something else."""
    passing = any(problem.code in PASSING for problem in outcome.problems)
    told_again = outcome.gone or outcome.passed_over
    if not outcome.ran or passing or told_again or outcome.fault_report is not None:
        return None
    pages = [(name, page.relative_to(output.root).as_posix()) for name, page in outcome.pages]
    return LastRun(outcome.problems, checked, tuple(pages), outcome.lessons)


def _build_into(
    output: Output,
    found: Survey,
    settings: Checked[Coach],
    *,
    day: date,
    jobs: int | None,
    scope: Scope,
    console: Console,
) -> _Built:
    """Consent goes first even where the settings or the secret let nothing be built."""
    secret, coach = secret_of(found.root, output), settings.value or Coach("")
    kept = read_memory(found.root, output.links)
    if secret.value is None or kept.problems or stops(settings):
        public = _only_take_back(found, coach, day, None if kept.problems else secret.value, output)
        problems = (*secret.problems, *kept.problems)
        return _Built(Outcome(ran=False, problems=problems, public=public))
    up = what_is_up(output.site)
    gather(scope.joined, output)
    with workers(jobs or os.cpu_count() or 1) as (pool, crew):
        context = BuildContext(
            root=found.root,
            coach=coach,
            secret=secret.value,
            today=day,
            cache=Cache(output.cache),
            pool=pool,
            converts=True,
            program=program(),
            links=LastingLinks(secret.value),
        )
        run = _Run(found, context, output, crew, scope, console, time(), up)
        built = run.with_links().go()
    problems = (*secret.problems, *built.outcome.problems)
    return replace(built, outcome=replace(built.outcome, problems=problems))


def _only_take_back(
    found: Survey, coach: Coach, day: date, secret: bytes | None, output: Output
) -> tuple[PublicChange, ...]:
    """What is not agreed, or nobody's for certain, comes down; nothing else is touched.

    Without the secret the build state says whose an address is; without both it is not known. Gives
    what came down.
    """
    up = what_is_up(output.site)
    states = read_states(output.state_file)
    people = people_in(found, coach, day, KeptReadings(Cache(output.cache), program()))
    links, range_at = None, range_in(states)
    address_of: Callable[[str], str | None] = partial(address_in, states)
    if secret is not None:
        seen = seen_today(found, states.get(WHOLE))
        linked = linked_today(found, people, states, seen, LinksKept(output.links, secret, day))
        found, links, range_at = linked.found, linked.links, range_address(secret)
        states = CalledNow(linked.remembered.renamed).states(states)
        address_of = links.address
    consents = consents_of(found, people, address_of)
    take_back(consents, states, output, coach.language, day)
    clear_strays(output, in_use(consents, range_at, links), coach.language, day)
    return moves(up, what_is_up(output.site), whose(consents, states))


class _Run(Struct, frozen=True):
    """One build, from consent to the book.

    ``up`` is what was published before; ``renamed`` has each renamed folder's old path by its new.
    """

    found: Survey
    context: BuildContext
    output: Output
    crew: Crew
    scope: Scope
    console: Console
    started_s: float  # by the system clock
    up: Mapping[str, str]
    consents: tuple[ConsentNow, ...] = ()
    states: Mapping[str, PartState] = field(default_factory=dict)
    renamed: Mapping[str, str] = field(default_factory=dict)
    inputs: Mapping[str, Seen] = field(default_factory=dict)

    def with_links(self) -> "_Run":
        """The same, with everybody's links, which are kept before anything goes by them."""
        found, context, output = self.found, self.context, self.output
        states = read_states(output.state_file)
        inputs = seen_today(found, states.get(WHOLE))
        people = people_in(found, context.coach, context.today, context.readings)
        known = LinksKept(output.links, context.secret, context.today)
        linked = linked_today(found, people, states, inputs, known)
        move_kept(
            linked.remembered.renamed,
            (found.root / KEPT_BELOW, found.root / KEPT_BEFORE, output.stills),
        )
        keep_memory(found.root, output.links, linked.remembered.memory)
        return replace(
            self,
            found=linked.found,
            context=replace(context, links=linked.links),
            consents=consents_of(linked.found, people, linked.links.address),
            states=CalledNow(linked.remembered.renamed).states(states),
            renamed=linked.remembered.renamed,
            inputs=inputs,
        )

    def go(self) -> _Built:
        """Take back what is not agreed any more; then tell everybody and publish what is new."""
        called = CalledNow(self.renamed)
        states, consents, inputs = self.states, self.consents, self.inputs
        names = whose(consents, states)

        def changes() -> tuple[PublicChange, ...]:
            return moves(self.up, what_is_up(self.output.site), names)

        language, day = self.context.coach.language, self.context.today
        take_back(consents, states, self.output, language, day)
        links = self.context.links
        belong = in_use(consents, range_address(self.context.secret), links)
        strange = clear_strays(self.output, belong, language, day)
        lift_cases(states, self.output)
        locks = tuple(close_open_sites(consents, self.context, self.output))
        clear_unsealed(consents, self.output)
        before = states.get(WHOLE)
        if self.scope.is_some:
            known_of = kept_students(self.context, inputs)
            everybody = Everybody(consents, known_of, states, self.output)
            return self._some(everybody, changes, met=locks)
        known = before.inputs if before is not None else {}
        moved = told_of_renamed(consents, self.renamed, self.context)
        gone = notice_gone(
            self.found.students,
            states,
            known,
            context=self.context,
            output=self.output,
            clock_s=self.started_s,
            called_now=called.path,
        )
        states = self._widest_consent(consents, states)
        own_faults = OwnFaults(self.output.own)
        with self.console.working():
            published = publish_everyone(
                Everybody(consents, kept_students(self.context, inputs), states, self.output),
                self.crew,
                met=(*strange, *moved, *locks),
                step=self.console.step,
                changes=changes,
                own_faults=own_faults,
            )
        lead_on_from_earlier(consents, self.context, self.output)
        remember_what_is_up(consents, published.problems, self.context, self.output)
        states = without_the_gone(published.states, gone, consents)
        states[WHOLE] = _of_everything(inputs, published, day)
        write_states(self.output.state_file, states)
        clear_due(gone, self.context, self.output, self.started_s)
        self._tidy()
        outcome = replace(
            self._outcome(consents, published),
            public=published.public,
            gone=gone.told(),
            fault_report=own_faults.file,
        )
        damaged = damaged_locks(consents, self.found.root, self.context.secret)
        return _Built(outcome, (*published.read, *damaged))

    def _some(
        self,
        everybody: Everybody,
        changes: Callable[[], tuple[PublicChange, ...]],
        *,
        met: Sequence[Problem],
    ) -> _Built:
        """The sites of some, where consent has been looked at for all; no cases, card or book."""
        chosen = choose(everybody.consents, self.scope.only, self.scope.shard)
        if chosen.value is None:
            return _Built(Outcome(ran=False, problems=chosen.problems, public=changes()))
        widest = self._widest_consent(everybody.consents, everybody.states)
        own_faults = OwnFaults(self.output.own)
        with self.console.working():
            published = publish_some(
                replace(everybody, states=widest),
                chosen.value.keys,
                self.crew,
                met=met,
                needed=chosen.value.needed,
                step=self.console.step,
                changes=changes,
                own_faults=own_faults,
            )
        write_states(self.output.state_file, published.states)
        if self.scope.shard is not None:
            mark = secret_mark(self.context.secret)
            keep_shard(self.output, self.found.root, str(self.scope.shard), mark)
        theirs = [each for each in everybody.consents if each.paths.key in chosen.value.keys]
        outcome = self._outcome(theirs, published)
        return _Built(replace(outcome, public=published.public, fault_report=own_faults.file))

    def _tidy(self) -> None:
        """Once a day, since there may be many entries."""
        tidied = self.output.own / "tidied"
        if not tidied.exists() or time() - tidied.stat().st_mtime > _DAY_S:
            self.context.cache.clear_unused(time() - _CACHE_KEPT_S)
            tidied.touch()

    def _widest_consent(
        self, consents: Sequence[ConsentNow], states: Mapping[str, PartState]
    ) -> dict[str, PartState]:
        """The lines, kept before any swap with all that may be up when this run is killed."""
        widest = dict(states)
        for consent in consents:
            part = part_of(consent.paths.key)
            granted = in_force(consent.granted)
            if part in widest and not granted <= frozenset(widest[part].granted):
                widest[part] = in_doubt(widest[part], granted)
        if widest != states:
            write_states(self.output.state_file, widest)
        return widest

    def _outcome(self, consents: Sequence[ConsentNow], published: Published) -> Outcome:
        site = self.output.site
        up = [
            (s, site / s.address / FRONT_PAGE)
            for s in consents
            if s.address is not None and _shown(site / s.address)
        ]
        return Outcome(
            ran=True,
            problems=published.problems,
            lessons=sum(len(s.paths.lessons) for s, _ in up),
            written=published.written,
            kept=len(up) - published.written,
            site=site / FRONT_PAGE,
            book=self.output.book / FRONT_PAGE,
            pages=tuple((s.student.name, page) for s, page in up),
            passed_over=tuple(sorted(self.found.passed_over)),
        )


def _shown(site: Path) -> bool:
    return (site / FRONT_PAGE).is_file() and not is_emptying(site)


def _of_everything(inputs: Mapping[str, Seen], published: Published, day: date) -> PartState:
    """What the next run is to know of all that was read."""
    return PartState(
        recipe="", inputs=inputs, made={}, made_on=day, changes_on=None, problems=published.problems
    )
