"""A student's films and demonstrations on their way; what makes them is imported for them."""

from collections.abc import Iterator, Sequence
from functools import partial

from msgspec import Struct

from recapgen.app.build_context import BuildContext
from recapgen.model.drill import Demonstration
from recapgen.model.films import Film
from recapgen.model.lesson import Lesson
from recapgen.model.problem import Checked, Problem
from recapgen.model.source import SourceRef
from recapgen.privacy.consent import Grants


class Filming(Struct, frozen=True):
    """One lesson's films on their way, and those of its case; each is given when it is done.

    ``lesson`` has what its clips measured, where its number is read from them.
    """

    lesson: Lesson
    making: Iterator[Checked[Film]]
    nameless: Iterator[Checked[Film]]
    problems: tuple[Problem, ...]
    settled: frozenset[SourceRef] = frozenset()  # clips that time brought to a shot or a block

    def finish(self) -> tuple[tuple[Film, ...], tuple[Film, ...], tuple[Problem, ...]]:
        """The films, those of the case, and every problem met."""
        made, nameless = list(self.making), list(self.nameless)
        films = tuple(film.value for film in made if film.value is not None)
        for_case = tuple(film.value for film in nameless if film.value is not None)
        met = (p for film in (*made, *nameless) for p in film.problems)
        return films, for_case, (*self.problems, *met)


def begin_filming(
    lessons: Sequence[Lesson], granted: Grants, context: BuildContext, *, alone: bool = False
) -> list[Filming]:
    """Every clip of a student's lessons is under way before the first is waited for.

    ``alone`` makes a film of each clip, instead of one for each view.
    """
    if not any(lesson.clips for lesson in lessons):
        return [Filming(lesson, iter(()), iter(()), ()) for lesson in lessons]
    from recapgen.app.film_making import film  # noqa: PLC0415  heavy, and only for clips
    from recapgen.clips.footage import inspect  # noqa: PLC0415  the same
    from recapgen.clips.own_sound import doubt_soft  # noqa: PLC0415  the same

    look = partial(inspect, cache=context.cache)
    looking = [context.pool.map(look, lesson.clips) for lesson in lessons]
    return [
        film(lesson, doubt_soft(list(looks)), granted, context, alone=alone)
        for lesson, looks in zip(lessons, looking, strict=True)
    ]


def demonstrations(
    lesson: Lesson, context: BuildContext
) -> tuple[tuple[Demonstration, ...], tuple[Problem, ...]]:
    """What the drills of the lesson's plan look like; made only where films are, too."""
    practice = lesson.notes.practice
    if practice is None or not context.converts:
        return (), ()
    names = dict.fromkeys(step.show for step in practice.steps if step.show is not None)
    if not names:
        return (), ()
    from recapgen.clips.demonstration import show_drill  # noqa: PLC0415  heavy, and only here

    shown = [show_drill(context.root, name, context.cache) for name in names]
    problems = tuple(problem for each in shown for problem in each.problems)
    return tuple(each.value for each in shown if each.value is not None), problems
