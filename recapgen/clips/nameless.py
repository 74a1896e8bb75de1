"""The clips of a case: nobody in them is to be known by the face."""

from dataclasses import replace

from recapgen.clips.film import AFTER_STRIKE_S, BEFORE_STRIKE_S
from recapgen.clips.footage import Footage, face_in
from recapgen.model.problem import Checked, Code, Problem
from recapgen.tools.apart import LostError
from recapgen.tools.cache import Cache


def hide_faces(sides: tuple[Footage, ...], cache: Cache) -> Checked[tuple[Footage, ...]]:
    """The sides with every face made unrecognisable; None where one of them cannot be.

    A clip whose line says nothing of the face is not shown to strangers, nor is one in which it
    cannot be followed. The recordings stay as they are: only what is shown of them changes.
    """
    hidden = [_hide_face(side, cache) for side in sides]
    problems = tuple(problem for side in hidden for problem in side.problems)
    done = tuple(side.value for side in hidden if side.value is not None)
    return Checked(done if len(done) == len(sides) else None, problems)


def _hide_face(side: Footage, cache: Cache) -> Checked[Footage]:
    clip, asked = side.clip, side.clip.directions
    if asked.face_shown:
        return Checked(side, ())
    try:
        box = face_in(side, _film_s(side), cache)
    except LostError:
        box = None
    if box is not None:
        directions = replace(asked, blur=(*asked.blur, box))
        return Checked(replace(side, clip=replace(clip, directions=directions)), ())
    code = Code.CASE_FACE_OPEN if asked.face is None else Code.CASE_FACE_LOST
    return Checked(None, (Problem(code, clip.where, {"file": clip.path.name}),))


def _film_s(side: Footage) -> tuple[float, float]:
    """From when to when of the clip a film can show at most."""
    pace, (first_s, last_s) = side.clip.directions.pace, side.shown_s
    struck_s = pace.life_s(side.strike.at_s)
    return (
        max(first_s, pace.clip_s(struck_s - BEFORE_STRIKE_S)),
        min(last_s, pace.clip_s(struck_s + AFTER_STRIKE_S)),
    )
