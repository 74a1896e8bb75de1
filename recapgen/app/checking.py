"""``check``: works out the results of all students, and publishes nothing."""

import os
from datetime import date
from pathlib import Path

from msgspec.structs import replace

from recapgen.app.all_students import results_of_all
from recapgen.app.build_context import BuildContext
from recapgen.app.carried_over import LinksKept, linked_today
from recapgen.app.consent_first import consents_of, people_in
from recapgen.app.first_look import stops, surveyed, to_tell, workers
from recapgen.app.kept_students import kept_students
from recapgen.app.locked_sites import damaged_locks
from recapgen.app.own_faults import OwnFaults
from recapgen.console import Outcome
from recapgen.intake.kept_readings import KeptReadings
from recapgen.model.people import Coach
from recapgen.privacy.addresses import read_secret
from recapgen.privacy.lasting_links import LastingLinks, read_memory
from recapgen.publish.build_state import WHOLE, program, read_states, see_all
from recapgen.publish.output import OutputPlaces
from recapgen.tools.cache import Cache
from recapgen.tools.leftovers import clear_temporary, temporary_folder

_NO_SECRET = bytes(32)  # a check makes no address that anybody sees


def check_anew(lessons: Path, day: date, built: OutputPlaces) -> Outcome:
    """Every problem of the lessons; what a build kept in ``built`` is used, nothing written."""
    survey = surveyed(lessons, "check")
    if survey.value is None:
        return Outcome(ran=False, problems=survey.problems)
    found = survey.value
    clear_temporary()
    own_faults = OwnFaults(None)
    states = read_states(built.state_file)
    seen = see_all(found.root, states.get(WHOLE))
    with temporary_folder() as kept, workers(os.cpu_count() or 1) as (pool, crew):
        cache = Cache(kept, behind=built.cache)
        settings = KeptReadings(cache, program()).read_coach(found.root)
        coach = settings.value or Coach("")
        secret = read_secret(found.root).value
        context = BuildContext(
            root=found.root,
            coach=coach,
            secret=secret or _NO_SECRET,
            today=day,
            cache=cache,
            pool=pool,
            converts=False,
            program=program(),
            links=LastingLinks(_NO_SECRET),
        )
        people = people_in(found, coach, day, context.readings)
        known_links = LinksKept(built.links, context.secret, day)
        linked = linked_today(found, people, states, seen, known_links)
        context = replace(context, links=linked.links)
        consents = consents_of(linked.found, people, linked.links.address)
        known = kept_students(context, seen)
        students, case_problems = results_of_all(
            consents, known, crew, step=_say_nothing, own_faults=own_faults
        )
    theirs = (problem for result in students for problem in result.problems)
    unread = read_memory(found.root, built.links).problems
    locks = damaged_locks(consents, found.root, secret)
    met = (*survey.problems, *settings.problems, *unread, *case_problems, *locks, *theirs)
    problems = to_tell(found.root, met)
    return Outcome(
        ran=not stops(settings),
        problems=problems,
        passed_over=tuple(sorted(found.passed_over)),
        fault_report=own_faults.file,
    )


def _say_nothing(key: str, name: str, done: int, total: int) -> None:
    """A check is quick and says only what it found."""
