"""Whose a film is: one made of any clip but the student's own is not published."""

from collections.abc import Iterable, Mapping
from pathlib import Path

from recapgen.model.films import Film
from recapgen.model.people import Student
from recapgen.model.problem import Code, Cost, Problem
from recapgen.publish.build_state import Seen
from recapgen.publish.output import Output
from recapgen.publish.swap import take_down
from recapgen.render.film_view import film_assets


def strange_films(
    films: Iterable[Film],
    inputs: Mapping[str, Seen],
    student: Student,
    output: Output,
    *,
    up: Path,
    costs: Cost,
) -> tuple[Problem, ...]:
    """Each film that was not made of the student's own files, as they were just read.

    ``inputs`` are those files. A site that is ``up`` with such a
    film comes down: the person in it is not known.
    """
    own = {seen.digest for seen in inputs.values()}
    problems = []
    for film in films:
        made_of = (film.made_of, *(kept.made_of for kept in film.downloads))
        if all(each and own.issuperset(each) for each in made_of):
            continue
        if any((up / asset.path).exists() for asset in film_assets((film,))):
            take_down(up, output.staging)
        named = ", ".join(side.source_name for side in film.sides)
        facts = {"files": named, "student": student.name, "cache": str(output.cache)}
        problems.append(Problem(Code.FILM_OF_ANOTHER, student.where, facts, costs))
    return tuple(problems)
