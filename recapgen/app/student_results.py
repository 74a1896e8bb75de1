"""One student's stages, from paths to recaps: read, consent, clips, evidence and care."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import ConsentNow
from recapgen.app.stumbles import Stumbles
from recapgen.book.case_links import NO_CASES, find_cases, link_cases
from recapgen.care.load import week_up_to
from recapgen.clips.demonstration import show_drill
from recapgen.clips.download import make_download
from recapgen.clips.film import make_film
from recapgen.clips.footage import Footage, inspect
from recapgen.clips.matching import filmed, match
from recapgen.clips.nameless import hide_faces
from recapgen.clips.own_sound import doubt_soft
from recapgen.intake.pasting import with_fixes
from recapgen.intake.reading import read_student_folder
from recapgen.model.drill import Demonstration
from recapgen.model.films import Film
from recapgen.model.lesson import Lesson
from recapgen.model.problem import Checked, Code, Cost, Problem
from recapgen.model.recap import StudentRecap
from recapgen.privacy.addresses import address, case_page, lesson_page
from recapgen.privacy.consent import Grants, consent_problems, withhold_clips
from recapgen.recap.followed import with_travel
from recapgen.recap.lesson_recaps import PreparedLesson, recap_lessons, sorted_shots
from recapgen.recap.pairing import Pairing, in_blocks, pair_up


@dataclass(frozen=True, slots=True)
class StudentResult:
    """A student's recaps, what they agreed to, and every problem met on the way."""

    recap: StudentRecap
    granted: Grants
    problems: tuple[Problem, ...]

    @property
    def held_back(self) -> bool:
        """Whether a fault keeps this student's pages from being made anew."""
        return any(problem.cost in (Cost.STUDENT, Cost.RUN) for problem in self.problems)

    @property
    def may_tell_case(self) -> bool:
        """Whether a case is told; of whom we stumbled over nobody knows."""
        unread = any(problem.code is Code.FAULT_OF_OURS for problem in self.problems)
        return unread or any(recap.case_page for recap in self.recap.recaps)

    def with_problems(self, more: Iterable[Problem]) -> "StudentResult":
        """The same with more problems."""
        return replace(self, problems=(*self.problems, *more))


SayStep = Callable[[str, str, int, int], None]
"""Says what is being done: its key, a name, steps done, steps in all."""


def results_of_all(
    consents: Sequence[ConsentNow], context: BuildContext, step: SayStep, stumbles: Stumbles
) -> tuple[list[StudentResult], tuple[Problem, ...]]:
    """Every student worked out, one after another, with their links to agreed cases.

    One over whom we stumble is given without lessons.
    """
    students = []
    for done, consent in enumerate(consents):
        key = consent.paths.key
        step("reading", key, done, 2 * len(consents))
        try:
            students.append(result_of(consent, context))
        except OSError:
            raise  # the machine's fault, and everybody's
        except Exception as fault:  # noqa: BLE001 - whatever it is, it costs this student alone
            students.append(_unread(consent, context, stumbles.over(key, fault)))
    known, problems = find_cases(result.recap for result in students)
    linked = []
    for result in students:
        recap, met = link_cases(result.recap, known or NO_CASES, context.coach.address)
        linked.append(_with_fixes(replace(result, recap=recap).with_problems(met), context))
    return linked, with_fixes(context.root, problems)


def _with_fixes(result: StudentResult, context: BuildContext) -> StudentResult:
    problems = with_fixes(context.root, result.problems)
    return replace(result, problems=problems)


def _unread(consent: ConsentNow, context: BuildContext, problem: Problem) -> StudentResult:
    """A student of whom no more is known than who it is."""
    student, granted = consent.student, consent.granted
    recap = StudentRecap(
        student=student,
        units=student.units or context.coach.units,
        address=address(context.secret, consent.paths.key),
        published=granted.page,
        recaps=(),
        problems=(problem,),
    )
    return StudentResult(recap, granted, (problem,))


def result_of(consent: ConsentNow, context: BuildContext) -> StudentResult:
    """Everything of one student up to the recaps."""
    paths, granted = consent.paths, consent.granted
    read = read_student_folder(context.root, paths, consent.who, context.coach, context.today)
    student = read.student
    problems = [*read.problems, *consent_problems(student, read.lessons, granted, context.today)]
    lessons = [withhold_clips(lesson, granted) for lesson in read.lessons]
    prepared = []
    for lesson, filming in zip(lessons, _begin_filming(lessons, granted, context), strict=True):
        films, nameless, found = filming.finish()
        drills, amiss = _demonstrations(lesson, context)
        ready = _prepare(filming.lesson, films, paths.key, granted, context)
        prepared.append(replace(ready, demonstrations=drills, case_films=nameless))
        problems.extend((*found, *(problem for problem in amiss if problem not in problems)))
    recap = StudentRecap(
        student=student,
        units=student.units or context.coach.units,
        address=address(context.secret, paths.key),
        published=granted.page,
        recaps=recap_lessons(
            student,
            prepared,
            read.log,
            dict(context.coach.accuracy),
            context.coach.altitude_m,
            today=context.today,
        ),
        problems=tuple(problems),
        log=read.log,
        week=week_up_to(read.log, context.today),
    )
    return StudentResult(recap, granted, tuple(problems))


def _prepare(
    lesson: Lesson,
    films: tuple[Film, ...],
    student_key: str,
    granted: Grants,
    context: BuildContext,
) -> PreparedLesson:
    """The lesson with its films and the names of its pages."""
    case = lesson.notes.case
    return PreparedLesson(
        lesson=lesson,
        shots=sorted_shots(lesson),
        films=films,
        page=lesson_page(context.secret, student_key, lesson.key, lesson.on),
        case_page=case_page(context.secret, case.handle) if case and granted.cases else None,
    )


@dataclass(frozen=True, slots=True)
class _Filming:
    """One lesson's films on their way, and those of its case; each is given when it is done.

    ``lesson`` has what its clips measured, where its number is read from them.
    """

    lesson: Lesson
    making: Iterator[Checked[Film]]
    nameless: Iterator[Checked[Film]]
    problems: tuple[Problem, ...]

    def finish(self) -> tuple[tuple[Film, ...], tuple[Film, ...], tuple[Problem, ...]]:
        """The films, those of the case, and every problem met."""
        made, nameless = list(self.making), list(self.nameless)
        films = tuple(film.value for film in made if film.value is not None)
        for_case = tuple(film.value for film in nameless if film.value is not None)
        met = (p for film in (*made, *nameless) for p in film.problems)
        return films, for_case, (*self.problems, *met)


def _begin_filming(
    lessons: Sequence[Lesson], granted: Grants, context: BuildContext
) -> list[_Filming]:
    """Every clip of a student's lessons is under way before the first is waited for."""
    look = partial(inspect, cache=context.cache)
    looking = [context.pool.map(look, lesson.clips) for lesson in lessons]
    return [
        _film(lesson, doubt_soft(list(looks)), granted, context)
        for lesson, looks in zip(lessons, looking, strict=True)
    ]


def _film(
    lesson: Lesson,
    inspected: Sequence[Checked[Footage]],
    granted: Grants,
    context: BuildContext,
) -> _Filming:
    """The lesson's pairs chosen and handed over to be made."""
    usable = [look.value for look in inspected if look.value is not None]
    matched, asked = match([filmed(footage) for footage in usable], sorted_shots(lesson))
    travels = {look.clip.path: look.travel for look in usable if look.travel is not None}
    followed = with_travel(lesson, matched, travels)
    shots = sorted_shots(followed.lesson)
    clips = in_blocks(followed.clips, shots)
    footage = {
        clip.path: replace(look, clip=clip) for clip, look in zip(clips, usable, strict=True)
    }
    declaration = lesson.notes.declaration
    pairings, unshown = pair_up(
        clips, shots, declaration.quantity if declaration is not None else None
    )
    told_to_strangers = lesson.notes.case is not None and granted.cases and granted.case_clips
    making = partial(_make, footage=footage, context=context)
    making_nameless = partial(_make_nameless, footage=footage, context=context)
    return _Filming(
        followed.lesson,
        context.pool.map(making, pairings if context.converts else ()),
        context.pool.map(making_nameless, pairings if told_to_strangers else ()),
        (
            *asked,
            *followed.problems,
            *unshown,
            *(problem for look in inspected for problem in look.problems),
        ),
    )


def _demonstrations(
    lesson: Lesson, context: BuildContext
) -> tuple[tuple[Demonstration, ...], tuple[Problem, ...]]:
    """What the drills of the lesson's plan look like; made only where films are, too."""
    practice = lesson.notes.practice
    if practice is None or not context.converts:
        return (), ()
    names = dict.fromkeys(step.show for step in practice.steps if step.show is not None)
    shown = [show_drill(context.root, name, context.cache) for name in names]
    problems = tuple(problem for each in shown for problem in each.problems)
    return tuple(each.value for each in shown if each.value is not None), problems


def _make(pairing: Pairing, footage: dict[Path, Footage], context: BuildContext) -> Checked[Film]:
    sides = tuple(footage[choice.clip.path] for choice in pairing.choices)
    film, problems = make_film(pairing.view, sides, context.cache)
    if film is None:
        return Checked(None, problems)
    kept = [
        make_download(side, context.cache)
        for side in footage.values()
        if side.clip.view is pairing.view and side.clip.directions.download
    ]
    downloads = tuple(each.value for each in kept if each.value is not None)
    met = (*problems, *(problem for each in kept for problem in each.problems))
    return Checked(replace(pairing.explain(film), downloads=downloads), met)


def _make_nameless(
    pairing: Pairing, footage: dict[Path, Footage], context: BuildContext
) -> Checked[Film]:
    """The same for the case, faces hidden; what else is amiss is told with the lesson's own."""
    sides = tuple(footage[choice.clip.path] for choice in pairing.choices)
    hidden = hide_faces(sides, context.cache)
    if hidden.value is None or not context.converts:
        return Checked(None, hidden.problems)
    film = make_film(pairing.view, hidden.value, context.cache).value
    return Checked(pairing.explain(film) if film is not None else None, hidden.problems)
