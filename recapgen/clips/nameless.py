"""The clips of a case: nobody in them is to be known by the face."""

from msgspec.structs import astuple, replace

from recapgen.clips.covering import face_covers
from recapgen.clips.film import AFTER_STRIKE_S, BEFORE_STRIKE_S
from recapgen.clips.following import marked
from recapgen.clips.footage import Footage
from recapgen.clips.remembering import remembered
from recapgen.model.filming import Covered
from recapgen.model.problem import Checked, Code, Problem
from recapgen.tools.apart import LostError, apart
from recapgen.tools.cache import Cache, key_for
from recapgen.tools.media import converter
from recapgen.tools.media.limits import to_watch_s

_FACE_COVERED = "face covered; 1"


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
        covered = _covered(side, cache)
    except LostError:
        covered = ()
    if covered:
        return Checked(replace(side, covered=covered), ())
    code = Code.CASE_FACE_OPEN if asked.face is None else Code.CASE_FACE_LOST
    return Checked(None, (Problem(code, clip.where, {"file": clip.path.name}),))


def _covered(side: Footage, cache: Cache) -> tuple[Covered, ...]:
    """What hides the face in all that a film can show; nothing where that is not known."""
    asked = side.clip.directions
    if asked.face is None:
        return ()
    if asked.face_stays:
        return (Covered(0.0, asked.face),)
    face = marked(side.clip.path, side.recording, asked.face, side.starts_s, asked)
    between_s = _film_s(side)
    told = (*astuple(face.box), face.at_s, face.slow, face.mirrored, *between_s)
    key = key_for(_FACE_COVERED, side.content, converter.version(), *told)

    def follow() -> tuple[Covered, ...]:
        return apart(face_covers, face, *between_s, seconds=to_watch_s(side.recording))

    return remembered(cache, key, follow, tuple[Covered, ...])


def _film_s(side: Footage) -> tuple[float, float]:
    """From when to when of the clip a film can show at most."""
    pace, (first_s, last_s) = side.clip.directions.pace, side.shown_s
    struck_s = pace.life_s(side.strike.at_s)
    return (
        max(first_s, pace.clip_s(struck_s - BEFORE_STRIKE_S)),
        min(last_s, pace.clip_s(struck_s + AFTER_STRIKE_S)),
    )
