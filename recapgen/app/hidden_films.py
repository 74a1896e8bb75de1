"""Films that are up and hide people by an older recipe: made anew, or taken down."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from recapgen.app.consent_first import CASES, Standing
from recapgen.app.house import House
from recapgen.model.problem import Code, Problem
from recapgen.publish.emptying import empty_out
from recapgen.publish.ledger import Line
from recapgen.publish.output import Output
from recapgen.publish.swap import take_down
from recapgen.tools.media import hiding

_FILM = ".mp4"


def lift_cases(lines: Mapping[str, Line], output: Output) -> None:
    """Cases with such films come down before anything is made anew, since strangers see them."""
    goal, line = output.site / CASES, lines.get(CASES)
    if any(goal.rglob(f"*{_FILM}")) and (line is None or line.hidden_by != hiding.RECIPE):
        take_down(goal, output.staging)


def lift_site(
    standing: Standing, stays: Line, house: House, output: Output
) -> tuple[Line, tuple[Problem, ...]]:
    """A student's site that cannot be made anew comes down where such films may be in it.

    ``stays`` is its line of the ledger; gives the line from now on, and the problem if any.
    """
    films = any(path.endswith(_FILM) for path in stays.made)
    if standing.address is None or not films or stays.hidden_by == hiding.RECIPE:
        return stays, ()
    if not any(_hides(lesson.notes) for lesson in standing.paths.lessons):
        return stays, ()
    language = standing.student.language or house.coach.language
    empty_out(output, standing.address, language, house.today)
    lifted = replace(stays, recipe="", made={})
    return lifted, (Problem(Code.HIDDEN_AS_OF_OLD, standing.student.where),)


def _hides(notes: Path) -> bool:
    """Whether the notes may ask for somebody to be hidden; what cannot be read may."""
    try:
        return b"blur" in notes.read_bytes().lower()
    except OSError:
        return True
