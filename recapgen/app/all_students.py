"""The results of all students, in brief; kept ones are taken where nothing has changed."""

from collections.abc import Sequence
from dataclasses import replace

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import ConsentNow
from recapgen.app.first_look import pasted
from recapgen.app.kept_students import KeptStudents
from recapgen.app.own_faults import OwnFaults
from recapgen.app.student_results import SayStep, StudentResult
from recapgen.book.case_links import NO_CASES, find_cases, link_cases
from recapgen.model.problem import Problem
from recapgen.model.recap import StudentRecap
from recapgen.privacy.addresses import address


def results_of_all(
    consents: Sequence[ConsentNow], kept: KeptStudents, step: SayStep, own_faults: OwnFaults
) -> tuple[list[StudentResult], tuple[Problem, ...]]:
    """Every student in brief, one after another, with their links to agreed cases.

    One at whom a fault of ours is met has no lessons.
    """
    context = kept.context
    students = []
    for done, consent in enumerate(consents):
        key = consent.paths.key
        step("reading", key, done, 2 * len(consents))
        try:
            students.append(kept.brief(consent) or kept.tell(consent))
        except OSError:
            raise  # the machine's fault, and everybody's
        except Exception as fault:  # noqa: BLE001 - whatever it is, it costs this student alone
            students.append(_unread(consent, context, own_faults.over(key, fault)))
    known, problems = find_cases(told.recap for told in students)
    linked = []
    for told in students:
        recap, met = link_cases(told.recap, known or NO_CASES, context.coach.address)
        problems_met = pasted(context.root, (*told.problems, *met))
        linked.append(replace(told, recap=recap, problems=problems_met))
    return linked, pasted(context.root, problems)


def _unread(consent: ConsentNow, context: BuildContext, problem: Problem) -> StudentResult:
    """A student of whom no more is known than who it is."""
    student = consent.student
    recap = StudentRecap(
        student=student,
        units=student.units or context.coach.units,
        address=address(context.secret, consent.paths.key),
        published=consent.granted.page,
        recaps=(),
        problems=(problem,),
    )
    return StudentResult(consent, recap, (problem,))
