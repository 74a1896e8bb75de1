"""The result of one student's stages, whole and in brief."""

from collections.abc import Callable, Iterable

from msgspec import Struct
from msgspec.structs import replace

from recapgen.app.consent_first import ConsentNow
from recapgen.model.evidence import Comparison, Sample
from recapgen.model.lesson import Notes, Practice
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.recap import LessonEvidence, LessonPractice, Recap, StudentRecap
from recapgen.privacy.consent import Grants

SayStep = Callable[[str, str, int, int], None]
"""Says what is being done: its key, a name, steps done, steps in all."""


class StudentResult(Struct, frozen=True):
    """The student's recaps, consent applied; ``problems`` are everything met on the way.

    ``store_key`` is the key under which the whole result is kept, None where it is not.
    """

    consent: ConsentNow
    recap: StudentRecap
    problems: tuple[Problem, ...]
    store_key: str | None = None

    @property
    def granted(self) -> Grants:
        return self.consent.granted

    @property
    def held_back(self) -> bool:
        """Whether a fault keeps this student's pages from being made anew."""
        return any(problem.cost in (Cost.STUDENT, Cost.RUN) for problem in self.problems)

    @property
    def may_tell_case(self) -> bool:
        """Whether a case is published; true where a fault of ours left that unknown."""
        return self.unread or any(recap.case.page for recap in self.recap.recaps)

    @property
    def unread(self) -> bool:
        """Whether a fault of ours was met, and no more is known than who it is."""
        return any(problem.code is Code.FAULT_OF_OURS for problem in self.problems)

    def with_problems(self, more: Iterable[Problem]) -> "StudentResult":
        """The same with more problems."""
        return replace(self, problems=(*self.problems, *more))


def in_brief(student: StudentRecap) -> StudentRecap:
    """``student`` as the front of the book, its page of intents, cases and links need it.

    Without shots, films, plans and other numbers, so that many students take little memory.
    """
    last = student.recaps[-1:]
    return replace(
        student,
        recaps=tuple(_brief(recap, newest=recap in last) for recap in student.recaps),
        questions=tuple(replace(question, films=()) for question in student.questions),
        problems=(),
    )


def _brief(recap: Recap, *, newest: bool) -> Recap:
    notes = recap.notes
    return replace(
        recap,
        notes=Notes(
            where=notes.where,
            words="",
            intent=notes.intent,
            short_name=notes.short_name,
            club=notes.club,
            case=notes.case,
            see_also=notes.see_also,
            usual_miss=notes.usual_miss,
            next_on=notes.next_on,
            next_at=notes.next_at,
            practice=_how_long(notes.practice) if newest else None,
        ),
        number=replace(recap.number, comparison=_counted(recap.number.comparison)),
        films=(),
        practice=LessonPractice(),
        care=recap.care if newest else (),
        evidence=LessonEvidence(),
        case=replace(recap.case, films=()),
    )


def _how_long(plan: Practice | None) -> Practice | None:
    """What is needed of a plan to say when it ends."""
    return None if plan is None else Practice(weeks=plan.weeks)


def _counted(told: Comparison | None) -> Comparison | None:
    """What pooling of intents needs of a comparison: shift and interval, without the shots."""
    if told is None:
        return None
    return replace(
        told,
        before=_without_shots(told.before),
        after=_without_shots(told.after),
        inside=None,
        mishits=None,
        guards=(),
        spread=None,
        dispersion=None,
    )


def _without_shots(sample: Sample) -> Sample:
    return replace(sample, numbers=(), values=(), mishit=())
