"""From results to what is published: everybody's site, the cases, the card, the book."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from recapgen.app.all_students import results_of_all
from recapgen.app.book_making import make_book, part_of_book
from recapgen.app.build_context import BuildContext
from recapgen.app.case_pages import case_paths
from recapgen.app.consent_first import CARD, RANGE, ConsentNow, part_of
from recapgen.app.crew_work import worth_help
from recapgen.app.kept_students import KeptStudents
from recapgen.app.own_faults import OwnFaults
from recapgen.app.site_publisher import SitePublisher
from recapgen.app.student_results import SayStep, StudentResult
from recapgen.app.worksheets import worksheets
from recapgen.model.problem import Problem, in_order
from recapgen.model.public import CASES, PublicChange
from recapgen.privacy.forbidden import named
from recapgen.publish.build_state import PartState, digest_of
from recapgen.publish.host_headers import lay_host_files
from recapgen.publish.output import Output
from recapgen.tools.side_by_side import Crew


class Published(Struct, frozen=True):
    """What became of everybody: all ``problems``, of them those that were met in what was ``read``.

    ``states`` go into the build state; ``written`` is how many sites were made anew;
    ``public`` are the changes of published pages.
    """

    problems: tuple[Problem, ...]
    read: tuple[Problem, ...]
    states: dict[str, PartState]
    written: int
    public: tuple[PublicChange, ...]


class Everybody(Struct, frozen=True):
    """Of whom there is: all ``consents``, what is ``known``, the ``states`` of the last build."""

    consents: Sequence[ConsentNow]
    known: KeptStudents
    states: Mapping[str, PartState]
    output: Output


def publish_everyone(
    everybody: Everybody,
    crew: Crew,
    *,
    met: Sequence[Problem],
    step: SayStep,
    changes: Callable[[], tuple[PublicChange, ...]],
    own_faults: OwnFaults,
) -> Published:
    """Works out all results, then all pages, then what is made of all recaps.

    ``met`` are problems that were met before; ``changes`` says, once all else is done, what is
    other in public, for the book.
    """
    consents, states, output = everybody.consents, everybody.states, everybody.output
    students, case_problems = results_of_all(
        consents, everybody.known, crew, step=step, own_faults=own_faults
    )
    read = (*case_problems, *(problem for result in students for problem in result.problems))
    publisher, unmarked = _publisher(everybody, students)
    made = _publish_each(
        publisher, consents, students, states, crew, step=step, own_faults=own_faults
    )
    published, kept, context = made.published, made.states, publisher.context
    parts = [part_of_book(each, everybody.known, context, output) for each in published]
    of_cases, cases = publisher.cases(published, states.get(CASES))
    if cases is not None:
        kept[CASES] = cases
    kept[CARD], of_card = publisher.card(published, states.get(CARD))
    kept[RANGE], of_range = publisher.for_the_range(published, states.get(RANGE))
    lay_host_files(output)
    problems = [*met, *unmarked, *case_problems, *of_cases, *of_card, *of_range]
    theirs = [problem for result in published for problem in result.problems]
    everything = in_order((*problems, *theirs))
    public = changes()
    of_book = make_book(
        published,
        parts,
        everything,
        public,
        sheets=worksheets(published, context),
        context=context,
        output=output,
    )
    return Published(in_order((*everything, *of_book)), read, kept, made.written, public)


def publish_some(
    everybody: Everybody,
    chosen: frozenset[str],
    crew: Crew,
    *,
    met: Sequence[Problem],
    needed: Sequence[ConsentNow],
    step: SayStep,
    changes: Callable[[], tuple[PublicChange, ...]],
    own_faults: OwnFaults,
) -> Published:
    """The sites of the ``chosen`` students; everything else is left as it is.

    ``met`` are problems that were met before.
    ``needed`` are those whose recaps are searched for links to cases, the chosen among them.
    """
    known, states = everybody.known, everybody.states
    students, _ = results_of_all(needed, known, crew, step=step, own_faults=own_faults)
    publisher, _ = _publisher(everybody, students)
    those = [each for each in students if each.recap.student.key in chosen]
    consents = [each.consent for each in those]
    made = _publish_each(publisher, consents, those, states, crew, step=step, own_faults=own_faults)
    theirs = (problem for result in made.published for problem in result.problems)
    problems = in_order((*met, *theirs))
    return Published(problems, (), {**states, **made.states}, made.written, changes())


def _publisher(
    everybody: Everybody, students: Sequence[StudentResult]
) -> tuple[SitePublisher, tuple[Problem, ...]]:
    context, unmarked = _with_mark(everybody.known.context)
    everyone = tuple(named(s.student, s.paths.key) for s in everybody.consents)
    coming = frozenset(case_paths(result.recap for result in students))
    names = digest_of(*(repr(each) for each in everyone))
    known, output = everybody.known, everybody.output
    return SitePublisher(context, output, everyone, names, coming, known), unmarked


class _Made(Struct, frozen=True):
    """Students with what was met in publishing them; the new ``states``; how many were made."""

    published: list[StudentResult]
    states: dict[str, PartState]
    written: int


def _publish_each(
    publisher: SitePublisher,
    consents: Sequence[ConsentNow],
    students: Sequence[StudentResult],
    states: Mapping[str, PartState],
    crew: Crew,
    *,
    step: SayStep,
    own_faults: OwnFaults,
) -> _Made:
    kept: dict[str, PartState] = {}
    published = []
    written = 0
    by_crew = _by_crew(crew, publisher, zip(consents, students, strict=True), states)
    for done, (consent, result) in enumerate(zip(consents, students, strict=True)):
        step("writing", result.recap.student.name, len(consents) + done, 2 * len(consents))
        part = part_of(consent.paths.key)
        try:
            made_now = next(by_crew[part], None) if part in by_crew else None
            kept[part], found, was_made = made_now or publisher.student(
                consent, result, states.get(part)
            )
        except OSError:
            raise  # the machine's fault, and everybody's
        except Exception as fault:  # noqa: BLE001 - whatever it is, it costs this student alone
            fault_problem = own_faults.over(consent.paths.key, fault)
            kept[part], found, was_made = publisher.held(consent, states.get(part), fault_problem)
        written += was_made
        published.append(result.with_problems(found))
    return _Made(published, kept, written)


class _ToPublish(Struct, frozen=True):
    publisher: SitePublisher
    consent: ConsentNow
    result: StudentResult
    before: PartState | None


_StudentMade: TypeAlias = tuple[PartState, tuple[Problem, ...], bool]


def _by_crew(
    crew: Crew,
    publisher: SitePublisher,
    students: Iterable[tuple[ConsentNow, StudentResult]],
    states: Mapping[str, PartState],
) -> dict[str, Iterator[_StudentMade | None]]:
    """What the crew makes of the sites that do not stand: each part asks for its own in turn."""
    work = [
        _ToPublish(publisher.for_one(consent.paths.key), consent, result, before)
        for consent, result in students
        for before in (states.get(part_of(consent.paths.key)),)
        if not publisher.leaves(consent, result, before)
    ]
    if not worth_help(crew, [each.consent for each in work]):
        return {}
    made_by_crew = crew.each(_publish_one, work)
    return {part_of(each.consent.paths.key): made_by_crew for each in work}


def _publish_one(work: _ToPublish) -> _StudentMade:
    """The student's site, and the part of the book, which is kept for making the book."""
    publisher = work.publisher
    state, found, was_made = publisher.student(work.consent, work.result, work.before)
    result = work.result.with_problems(found)
    part_of_book(result, publisher.known, publisher.context, publisher.output)
    return state, found, was_made


def _with_mark(context: BuildContext) -> tuple[BuildContext, tuple[Problem, ...]]:
    """The coach's mark as a page shows it, where there is one."""
    if context.coach.mark is None:
        return context, ()
    from recapgen.clips.mark_picture import make_mark  # noqa: PLC0415  heavy, and few have one

    made = make_mark(context.root, context.coach.mark, context.cache)
    return replace(context, coach=replace(context.coach, mark_picture=made.value)), made.problems
