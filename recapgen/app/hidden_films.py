"""Films that are up and hide people by an older recipe: made anew, or taken down."""

from collections.abc import Mapping
from pathlib import Path

from msgspec.structs import replace

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import ConsentNow
from recapgen.model.problem import Code, Problem
from recapgen.model.public import CASES
from recapgen.publish.build_state import PartState
from recapgen.publish.emptying import empty_out
from recapgen.publish.output import Output
from recapgen.publish.swap import take_down
from recapgen.tools.media import hiding

_FILM = ".mp4"


def lift_cases(states: Mapping[str, PartState], output: Output) -> None:
    """Cases with such films come down before anything is made anew, since strangers see them."""
    goal, state = output.site / CASES, states.get(CASES)
    if any(goal.rglob(f"*{_FILM}")) and (state is None or state.hidden_by != hiding.RECIPE):
        take_down(goal, output.staging)


def lift_site(
    consent: ConsentNow, stays: PartState, context: BuildContext, output: Output
) -> tuple[PartState, tuple[Problem, ...]]:
    """A student's site that cannot be made anew comes down where such films may be in it.

    ``stays`` is its state; gives the state from now on, and the problem if any.
    """
    films = any(path.endswith(_FILM) for path in stays.made)
    if consent.address is None or not films or stays.hidden_by == hiding.RECIPE:
        return stays, ()
    if not any(_hides(lesson.notes) for lesson in consent.paths.dated):
        return stays, ()
    language = consent.student.language or context.coach.language
    empty_out(output, consent.address, language, context.today)
    lifted = replace(stays, recipe="", made={})
    return lifted, (Problem(Code.HIDDEN_AS_OF_OLD, consent.student.where),)


def _hides(notes: Path) -> bool:
    """Whether the notes may ask for somebody to be hidden; what cannot be read may."""
    try:
        return b"blur" in notes.read_bytes().lower()
    except OSError:
        return True
