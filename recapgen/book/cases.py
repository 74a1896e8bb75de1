"""A recap becomes a case for strangers: what names the student or the day is taken out."""

from collections.abc import Iterable
from datetime import date

from msgspec.structs import replace

from recapgen.book.lesson_endings import Joined, endings_of_intents, intent_of, names_of
from recapgen.model.book import intent_key
from recapgen.model.case import Case, IntentTotals
from recapgen.model.evidence import Comparison, Retention
from recapgen.model.films import Film
from recapgen.model.recap import Recap, StudentRecap
from recapgen.model.source import SourceRef

FEWEST_STUDENTS = 5


def case_of(
    student: StudentRecap,
    recap: Recap,
    page: str,
    with_clips: bool,
    *,
    with_age: bool = False,
    with_shots: bool = True,
    misses: Joined = (),
) -> Case:
    """``recap``, which has a ``case``, as a nameless page ``page`` of site/cases/.

    Folder and file names, exact days and words meant for the student alone stay behind; the
    films made for cases go along only ``with_clips``, without the names of their files, the age
    band only ``with_age``, what the shots say only ``with_shots``. Of what the student came with
    only the short name of ``misses`` goes along: the words of the notes were written for the book.
    Raises ValueError for a recap without a case: a bug of the caller.
    """
    if recap.case.note is None:
        raise ValueError(f"the lesson {recap.key} has no case to tell")
    return Case(
        page=page,
        title=recap.case.note.title,
        story=recap.case.note.story,
        intent=recap.notes.intent,
        feels_like=recap.notes.feels_like,
        club=recap.notes.club,
        hand=student.student.hand,
        month=_month(recap.on),
        comparison=_nameless_comparison(recap.number.comparison) if with_shots else None,
        retention=_nameless_retention(recap.number.retention) if with_shots else None,
        films=tuple(_nameless_film(film) for film in recap.case.films) if with_clips else (),
        units=student.units,
        miss=names_of(misses).get(intent_key(recap.notes.usual_miss or "")),
        age_band=student.student.age_band if with_age else None,
    )


def totals_of(
    students: Iterable[StudentRecap], told: Iterable[Recap], intents: Joined = ()
) -> tuple[IntentTotals, ...]:
    """Totals over the lessons of all ``students`` for the intents of ``told``, which are cases.

    Each under the words of its first case, which are public. No intent that fewer than five
    students tried has any: fewer might be told apart.
    """
    students = tuple(students)
    names = names_of(intents)
    public: dict[str, str] = {}
    for recap in told:
        typed = intent_of(recap)
        if typed and recap.notes.intent:
            public.setdefault(intent_key(names.get(intent_key(typed), typed)), recap.notes.intent)
    if not public:
        return ()
    return tuple(
        IntentTotals(
            intent=public[intent_key(each.name)],
            lessons=each.lessons,
            students=each.students,
            verdicts=each.verdicts,
            afterwards=each.afterwards,
            hidden=each.hidden,
            unnumbered=each.unnumbered,
        )
        for each in endings_of_intents(students, intents)
        if each.students >= FEWEST_STUDENTS and intent_key(each.name) in public
    )


def _month(day: date) -> date:
    return day.replace(day=1)


def _nameless_comparison(comparison: Comparison | None) -> Comparison | None:
    """Guards remember where in the notes they stand, seals the day, mishits a device's words."""
    if comparison is None:
        return None
    guards = tuple(
        replace(result, guard=replace(result.guard, where=SourceRef("")))
        for result in comparison.guards
    )
    return replace(
        comparison,
        guards=guards,
        mishit_kinds=(),
        sealed_at=None,
        sealed_before_at=(),
        first_after_at=None,
    )


def _nameless_retention(retention: Retention | None) -> Retention | None:
    if retention is None:
        return None
    return replace(
        retention,
        from_lesson=_month(retention.from_lesson),
        to_lesson=_month(retention.to_lesson),
    )


def _nameless_film(film: Film) -> Film:
    return replace(
        film, downloads=(), sides=tuple(replace(side, source_name="") for side in film.sides)
    )
