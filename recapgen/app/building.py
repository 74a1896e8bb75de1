"""``build`` and ``check``: everybody's stages, one after another."""

import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import partial
from pathlib import Path
from time import monotonic, time

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import (
    ConsentNow,
    address_in,
    consents_on,
    in_force,
    in_use,
    part_of,
    take_back,
    whose,
)
from recapgen.app.gone_folders import GoneFolders, clear_due, notice_gone, without_the_gone
from recapgen.app.hidden_films import lift_cases
from recapgen.app.new_links import new_links
from recapgen.app.stumbles import Stumbles
from recapgen.console import Console, Outcome
from recapgen.intake.folder import Survey, survey
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.settings import read_coach
from recapgen.intake.which_folder import part_of_the_lessons
from recapgen.model.people import Coach
from recapgen.model.problem import Checked, Code, Cost, Problem, in_order
from recapgen.model.public import PublicChange
from recapgen.model.source import SourceRef
from recapgen.privacy.addresses import address, make_secret, read_secret, secret_mark
from recapgen.publish.build_state import (
    PartState,
    Seen,
    in_doubt,
    made,
    program,
    read_states,
    recipe,
    see,
    write_states,
)
from recapgen.publish.emptying import is_emptying
from recapgen.publish.gone import read_gone
from recapgen.publish.output import Output, OutputPlaces, check_secret, claim, secret_lost
from recapgen.publish.public_changes import moves, what_is_up
from recapgen.publish.strays import clear_strays
from recapgen.tools.apart import interruptible
from recapgen.tools.cache import Cache
from recapgen.tools.clock import today
from recapgen.tools.faults import UncaughtError
from recapgen.tools.leftovers import clear_half_written, clear_temporary, temporary_folder
from recapgen.tools.template_folder import template_folder
from recapgen.tools.walking import files_below

_NO_SECRET = bytes(32)  # a check makes no address that anybody sees
_WHOLE = "everything"
_CACHE_KEPT_S = 60 * 24 * 3600.0  # films nobody asked for in two months


@dataclass(frozen=True, slots=True)
class Options:
    """``jobs`` is how many clips are converted at a time; None is one a core."""

    out: Path | None = None
    jobs: int | None = None
    today: date | None = None


def check(lessons: Path, day: date | None) -> Outcome:
    """Every problem of the lessons; nothing is written beside them and no clip is converted."""
    surveyed = _surveyed(lessons, "check")
    if surveyed.value is None:
        return Outcome(ran=False, problems=surveyed.problems)
    from recapgen.app.all_students import results_of_all  # noqa: PLC0415  heavy, and not always needed
    from recapgen.app.kept_students import kept_students  # noqa: PLC0415  the same

    found = surveyed.value
    settings = read_coach(found.root)
    coach = settings.value or Coach("")
    clear_temporary()
    stumbles = Stumbles(None)
    built = OutputPlaces(_beside(found.root))
    before = read_states(built.state_file).get(_WHOLE)
    seen = see(files_below(found.root), found.root, before)
    with temporary_folder() as kept, _pool(os.cpu_count() or 1) as pool:
        context = BuildContext(
            root=found.root,
            coach=coach,
            secret=read_secret(found.root).value or _NO_SECRET,
            today=today(day),
            cache=Cache(kept, behind=built.cache),
            pool=pool,
            converts=False,
            program=program(),
        )
        consents = consents_on(
            found, coach, context.today, partial(address, context.secret), context.readings
        )
        known = kept_students(context, seen)
        students, case_problems = results_of_all(consents, known, _say_nothing, stumbles)
    theirs = (problem for told in students for problem in told.problems)
    met = (*surveyed.problems, *settings.problems, *case_problems, *theirs)
    told = _to_tell(found.root, met)
    return Outcome(ran=not _stops(settings), problems=told, stumbled=stumbles.file)


def build(lessons: Path, options: Options, console: Console) -> Outcome:
    """Every student's site, the cases, the card and the book."""
    started = monotonic()
    surveyed = _surveyed(lessons, "build")
    if surveyed.value is None:
        return Outcome(ran=False, problems=surveyed.problems)
    found = surveyed.value
    out = options.out or _beside(found.root)
    settings = read_coach(found.root)
    if _stops(settings) and not out.exists():
        met = (*surveyed.problems, *settings.problems)
        return Outcome(ran=False, problems=_to_tell(found.root, met))
    if _not_there(found, out):
        return Outcome(ran=False, problems=(Problem(Code.LESSONS_NOT_THERE, SourceRef("")),))
    claimed = claim(out, found.root)
    if claimed.value is None:
        return Outcome(ran=False, problems=in_order((*surveyed.problems, *claimed.problems)))
    output = claimed.value
    clear_temporary()
    clear_half_written(found.root)
    try:
        outcome = _build_into(output, found, settings, options, console)
    except OSError:
        raise  # the machine's fault, and no bug
    except Exception as fault:
        raise UncaughtError(output.own) from fault
    finally:
        output.release()
    met = (*surveyed.problems, *settings.problems, *outcome.problems)
    return replace(outcome, problems=_to_tell(found.root, met), seconds=monotonic() - started)


def _beside(root: Path) -> Path:
    """Where a build goes that was told of no other place."""
    return root.with_name(f"{root.name}_out")


def _surveyed(lessons: Path, command: str) -> Checked[Survey]:
    """Everybody's paths; a student's or a lesson's folder alone is refused."""
    part = part_of_the_lessons(lessons, command)
    return survey(lessons) if part is None else Checked(None, (part,))


def _build_into(
    output: Output, found: Survey, settings: Checked[Coach], options: Options, console: Console
) -> Outcome:
    """Consent goes first even where the settings or the secret let nothing be built."""
    secret = _secret(found.root, output)
    coach, day = settings.value or Coach(""), today(options.today)
    if secret.value is None or _stops(settings):
        public = _only_take_back(found, coach, day, secret.value, output)
        return Outcome(ran=False, problems=secret.problems, public=public)
    with _pool(options.jobs or os.cpu_count() or 1) as pool:
        context = BuildContext(
            root=found.root,
            coach=coach,
            secret=secret.value,
            today=day,
            cache=Cache(output.cache),
            pool=pool,
            converts=True,
            program=program(),
        )
        outcome = _Run(found, context, output, console, time()).go()
    return replace(outcome, problems=(*secret.problems, *outcome.problems))


def _to_tell(root: Path, problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """In order, with the lines to paste."""
    met = in_order(problems)
    if not any(problem.offers for problem in met):
        return met
    from recapgen.intake.pasting import with_fixes  # noqa: PLC0415  heavy, and not always needed

    return in_order(with_fixes(root, met))


def _not_there(found: Survey, out: Path) -> bool:
    """Nothing at all where something was built from: a drive that is not mounted, not a wish."""
    root = found.root
    anything = found.students or (root / ".recapgen").exists() or any(root.glob("[Cc]oach.y*ml"))
    return not anything and (out / "site").is_dir()


def _only_take_back(
    found: Survey, coach: Coach, day: date, secret: bytes | None, output: Output
) -> tuple[PublicChange, ...]:
    """What is not agreed, or nobody's for certain, comes down; nothing else is touched.

    Without the secret the ledger tells whose an address is; without both, nobody does. Gives
    what came down.
    """
    up = what_is_up(output.site)
    states = read_states(output.state_file)
    address_of = partial(address_in, states) if secret is None else partial(address, secret)
    consents = consents_on(
        found, coach, day, address_of, KeptReadings(Cache(output.cache), program())
    )
    take_back(consents, states, output, coach.language, day)
    clear_strays(output, in_use(consents), coach.language, day)
    return moves(up, what_is_up(output.site), whose(consents, states))


def _stops(settings: Checked[Coach]) -> bool:
    """Whether coach.yml is in such doubt that nothing can be built from it."""
    return settings.value is None or any(p.cost is Cost.RUN for p in settings.problems)


@dataclass(frozen=True, slots=True)
class _Run:
    """One build, from consent to the book."""

    found: Survey
    context: BuildContext
    output: Output
    console: Console
    started_s: float  # by the system clock

    def go(self) -> Outcome:
        """Take back what is not agreed any more; where anything is new, tell and publish."""
        up = what_is_up(self.output.site)
        states = read_states(self.output.state_file)
        consents = consents_on(
            self.found,
            self.context.coach,
            self.context.today,
            partial(address, self.context.secret),
            self.context.readings,
        )
        names = whose(consents, states)

        def changes() -> tuple[PublicChange, ...]:
            return moves(up, what_is_up(self.output.site), names)

        language, day = self.context.coach.language, self.context.today
        take_back(consents, states, self.output, language, day)
        strange = clear_strays(self.output, in_use(consents), language, day)
        lift_cases(states, self.output)
        before = states.get(_WHOLE)
        inputs = see(files_below(self.found.root), self.found.root, before)
        made_with = recipe(template_folder())
        if before is not None and before.stands(
            made_with, inputs, self.context.today, self.output.root
        ):
            outcome = self._outcome(consents, before.problems, written=0)
            gone = GoneFolders(read_gone(self.output.gone), day)
            return replace(outcome, public=changes(), gone=gone.told())
        known = before.inputs if before is not None else {}
        moved = new_links(consents, states, known, inputs, self.context)
        met = (*strange, *moved)
        gone = notice_gone(
            self.found.students,
            states,
            known,
            context=self.context,
            output=self.output,
            clock_s=self.started_s,
        )
        states = self._widest_consent(consents, states)
        stumbles = Stumbles(self.output.own)
        with self.console.working():
            problems, states, written = self._publish(
                consents, inputs, met=met, states=states, changes=changes, stumbles=stumbles
            )
        states = without_the_gone(states, gone, consents)
        states[_WHOLE] = PartState(
            recipe=made_with if stumbles.file is None else "",  # the next run tries again
            inputs=inputs,
            made=made((self.output.site, self.output.book), self.output.root),
            made_on=self.context.today,
            changes_on=_day_after(self.context.today),  # the book speaks of today
            problems=problems,
        )
        write_states(self.output.state_file, states)
        clear_due(gone, self.context, self.output, self.started_s)
        self.context.cache.clear_unused(time() - _CACHE_KEPT_S)
        outcome = self._outcome(consents, problems, written)
        return replace(outcome, public=changes(), gone=gone.told(), stumbled=stumbles.file)

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

    def _publish(
        self,
        consents: Sequence[ConsentNow],
        inputs: Mapping[str, Seen],
        *,
        met: Sequence[Problem],
        states: Mapping[str, PartState],
        changes: Callable[[], tuple[PublicChange, ...]],
        stumbles: Stumbles,
    ) -> tuple[tuple[Problem, ...], dict[str, PartState], int]:
        """All stages after consent; imported late, since a run with nothing new needs none."""
        from recapgen.app.kept_students import kept_students  # noqa: PLC0415  see above
        from recapgen.app.publishing import publish_everyone  # noqa: PLC0415  the same

        return publish_everyone(
            consents,
            kept_students(self.context, inputs),
            self.output,
            states=states,
            met=met,
            step=self.console.step,
            changes=changes,
            stumbles=stumbles,
        )

    def _outcome(
        self, consents: Sequence[ConsentNow], problems: tuple[Problem, ...], written: int
    ) -> Outcome:
        site = self.output.site
        up = [
            (s, site / s.address / "index.html")
            for s in consents
            if s.address is not None and _shown(site / s.address)
        ]
        return Outcome(
            ran=True,
            problems=problems,
            lessons=sum(len(s.paths.lessons) for s, _ in up),
            written=written,
            kept=len(up) - written,
            site=site / "index.html",
            book=self.output.book / "index.html",
            pages=tuple((s.student.name, page) for s, page in up),
        )


def _shown(site: Path) -> bool:
    return (site / "index.html").is_file() and not is_emptying(site)


def _day_after(day: date) -> date | None:
    return day + timedelta(days=1) if day < date.max else None


def _secret(root: Path, output: Output) -> Checked[bytes]:
    secret = read_secret(root)
    if secret.value is None and not secret.problems:
        lost = secret_lost(output)
        secret = Checked(None, lost) if lost else make_secret(root)
    if secret.value is None:
        return secret
    changed = check_secret(output, secret_mark(secret.value))
    return Checked(None, changed) if changed else secret


@contextmanager
def _pool(jobs: int) -> Iterator[ThreadPoolExecutor]:
    """Workers; what has not begun when the run ends is never begun."""
    pool = ThreadPoolExecutor(jobs)
    try:
        with interruptible():
            yield pool
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _say_nothing(key: str, name: str, done: int, total: int) -> None:
    """A check is quick and says only what it found."""
