"""One student's stages, from paths to recaps: read, consent, clips, evidence and care."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from recapgen.app.consent_first import Standing
from recapgen.app.house import House
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
class ToldStudent:
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

    def with_problems(self, more: Iterable[Problem]) -> "ToldStudent":
        """The same with more problems."""
        return replace(self, problems=(*self.problems, *more))


Step = Callable[[str, str, int, int], None]
"""Says what is being done: its key, a name, steps done, steps in all."""


def tell_everyone(
    standings: Sequence[Standing], house: House, step: Step, stumbles: Stumbles
) -> tuple[list[ToldStudent], tuple[Problem, ...]]:
    """Every student told, one after another, with their links to agreed cases.

    One over whom we stumble is told without lessons.
    """
    students = []
    for done, standing in enumerate(standings):
        key = standing.paths.key
        step("reading", key, done, 2 * len(standings))
        try:
            students.append(tell_student(standing, house))
        except OSError:
            raise  # the machine's fault, and everybody's
        except Exception as fault:  # noqa: BLE001 - whatever it is, it costs this student alone
            students.append(_unread(standing, house, stumbles.over(key, fault)))
    known, problems = find_cases(told.recap for told in students)
    linked = []
    for told in students:
        recap, met = link_cases(told.recap, known or NO_CASES, house.coach.address)
        linked.append(_with_fixes(replace(told, recap=recap).with_problems(met), house))
    return linked, with_fixes(house.root, problems)


def _with_fixes(told: ToldStudent, house: House) -> ToldStudent:
    problems = with_fixes(house.root, told.problems)
    return replace(told, problems=problems)


def _unread(standing: Standing, house: House, problem: Problem) -> ToldStudent:
    """A student of whom no more is known than who it is."""
    student, granted = standing.student, standing.granted
    recap = StudentRecap(
        student=student,
        units=student.units or house.coach.units,
        address=address(house.secret, standing.paths.key),
        published=granted.page,
        recaps=(),
        problems=(problem,),
    )
    return ToldStudent(recap, granted, (problem,))


def tell_student(standing: Standing, house: House) -> ToldStudent:
    """Everything of one student up to the recaps."""
    paths, granted = standing.paths, standing.granted
    read = read_student_folder(house.root, paths, standing.who, house.coach, house.today)
    student = read.student
    problems = [*read.problems, *consent_problems(student, read.lessons, granted, house.today)]
    lessons = [withhold_clips(lesson, granted) for lesson in read.lessons]
    tellings = []
    for lesson, filming in zip(lessons, _begin_filming(lessons, granted, house), strict=True):
        films, nameless, found = filming.finish()
        drills, amiss = _demonstrations(lesson, house)
        telling = _telling(filming.lesson, films, paths.key, granted, house)
        tellings.append(replace(telling, demonstrations=drills, case_films=nameless))
        problems.extend((*found, *(problem for problem in amiss if problem not in problems)))
    recap = StudentRecap(
        student=student,
        units=student.units or house.coach.units,
        address=address(house.secret, paths.key),
        published=granted.page,
        recaps=recap_lessons(
            student,
            tellings,
            read.log,
            dict(house.coach.accuracy),
            house.coach.altitude_m,
            today=house.today,
        ),
        problems=tuple(problems),
        log=read.log,
        week=week_up_to(read.log, house.today),
    )
    return ToldStudent(recap, granted, tuple(problems))


def _telling(
    lesson: Lesson, films: tuple[Film, ...], student_key: str, granted: Grants, house: House
) -> PreparedLesson:
    """The lesson with its films and the names of its pages."""
    case = lesson.notes.case
    return PreparedLesson(
        lesson=lesson,
        shots=sorted_shots(lesson),
        films=films,
        page=lesson_page(house.secret, student_key, lesson.key, lesson.on),
        case_page=case_page(house.secret, case.handle) if case and granted.cases else None,
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


def _begin_filming(lessons: Sequence[Lesson], granted: Grants, house: House) -> list[_Filming]:
    """Every clip of a student's lessons is under way before the first is waited for."""
    look = partial(inspect, cache=house.cache)
    looking = [house.pool.map(look, lesson.clips) for lesson in lessons]
    return [
        _film(lesson, doubt_soft(list(looks)), granted, house)
        for lesson, looks in zip(lessons, looking, strict=True)
    ]


def _film(
    lesson: Lesson,
    inspected: Sequence[Checked[Footage]],
    granted: Grants,
    house: House,
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
    making = partial(_make, footage=footage, house=house)
    making_nameless = partial(_make_nameless, footage=footage, house=house)
    return _Filming(
        followed.lesson,
        house.pool.map(making, pairings if house.converts else ()),
        house.pool.map(making_nameless, pairings if told_to_strangers else ()),
        (
            *asked,
            *followed.problems,
            *unshown,
            *(problem for look in inspected for problem in look.problems),
        ),
    )


def _demonstrations(
    lesson: Lesson, house: House
) -> tuple[tuple[Demonstration, ...], tuple[Problem, ...]]:
    """What the drills of the lesson's plan look like; made only where films are, too."""
    practice = lesson.notes.practice
    if practice is None or not house.converts:
        return (), ()
    names = dict.fromkeys(step.show for step in practice.steps if step.show is not None)
    shown = [show_drill(house.root, name, house.cache, house.threads) for name in names]
    problems = tuple(problem for each in shown for problem in each.problems)
    return tuple(each.value for each in shown if each.value is not None), problems


def _make(pairing: Pairing, footage: dict[Path, Footage], house: House) -> Checked[Film]:
    sides = tuple(footage[choice.clip.path] for choice in pairing.choices)
    film, problems = make_film(pairing.view, sides, house.cache, house.threads)
    if film is None:
        return Checked(None, problems)
    kept = [
        make_download(side, house.cache, house.threads)
        for side in footage.values()
        if side.clip.view is pairing.view and side.clip.directions.download
    ]
    downloads = tuple(each.value for each in kept if each.value is not None)
    met = (*problems, *(problem for each in kept for problem in each.problems))
    return Checked(replace(pairing.explain(film), downloads=downloads), met)


def _make_nameless(pairing: Pairing, footage: dict[Path, Footage], house: House) -> Checked[Film]:
    """The same for the case, faces hidden; what else is amiss is told with the lesson's own."""
    sides = tuple(footage[choice.clip.path] for choice in pairing.choices)
    hidden = hide_faces(sides, house.cache)
    if hidden.value is None or not house.converts:
        return Checked(None, hidden.problems)
    film = make_film(pairing.view, hidden.value, house.cache, house.threads).value
    return Checked(pairing.explain(film) if film is not None else None, hidden.problems)
