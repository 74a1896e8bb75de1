"""The results of all students, in brief; kept ones are taken where nothing has changed."""

from collections.abc import Sequence

from msgspec.structs import replace

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import ConsentNow
from recapgen.app.crew_work import tell_by_crew
from recapgen.app.first_look import pasted
from recapgen.app.kept_students import KeptStudents
from recapgen.app.own_faults import OwnFaults
from recapgen.app.student_results import SayStep, StudentResult
from recapgen.book.case_links import NO_CASES, find_cases, link_cases
from recapgen.model.problem import Problem
from recapgen.model.recap import StudentRecap
from recapgen.tools.side_by_side import Crew


def results_of_all(
    consents: Sequence[ConsentNow],
    kept: KeptStudents,
    crew: Crew,
    *,
    step: SayStep,
    own_faults: OwnFaults,
) -> tuple[list[StudentResult], tuple[Problem, ...]]:
    """Every student in brief, with links to agreed cases; many are worked out by the ``crew``.

    One at whom a fault of ours is met has no lessons.
    """
    context = kept.context
    briefs = {consent.paths.key: _brief(kept, consent) for consent in consents}
    to_tell = [consent for consent in consents if briefs[consent.paths.key] is None]
    by_crew = tell_by_crew(crew, to_tell, kept)
    students = []
    for done, consent in enumerate(consents):
        key = consent.paths.key
        step("reading", key, done, 2 * len(consents))
        try:
            students.append(briefs[key] or next(by_crew, None) or kept.tell(consent))
        except OSError:
            raise  # the machine's fault, and everybody's
        except Exception as fault:  # noqa: BLE001 - whatever it is, it costs this student alone
            students.append(_unread(consent, context, own_faults.over(key, fault)))
    known, problems = find_cases(result.recap for result in students)
    linked = []
    for result in students:
        recap, met = link_cases(result.recap, known or NO_CASES, context.coach.address)
        problems_met = pasted(context.root, (*result.problems, *met))
        linked.append(replace(result, recap=recap, problems=problems_met))
    return linked, pasted(context.root, problems)


def _brief(kept: KeptStudents, consent: ConsentNow) -> StudentResult | None:
    try:
        return kept.brief(consent)
    except OSError:
        raise
    except Exception:  # noqa: BLE001 - what is amiss shows when it is told
        return None


def _unread(consent: ConsentNow, context: BuildContext, problem: Problem) -> StudentResult:
    """A student of whom no more is known than who it is."""
    student = consent.student
    recap = StudentRecap(
        student=student,
        units=student.units or context.coach.units,
        address=context.links.address(consent.paths.key),
        published=consent.granted.page,
        recaps=(),
        problems=(problem,),
    )
    return StudentResult(consent, recap, (problem,))
