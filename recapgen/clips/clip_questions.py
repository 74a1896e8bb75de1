"""Problems and questions about a clip: why it cannot be shown, and when its strike was."""

from collections.abc import Sequence

from recapgen.model.clip_line import is_listed, said_of
from recapgen.model.fix import one_of
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Code, Problem
from recapgen.tools.media.recording import Flaw

_GUESSED = (Code.CLIP_IMPACT_GUESSED, Code.CLIP_IMPACT_GUESSED_UNLISTED)
_SEVERAL = (Code.CLIP_IMPACTS_SEVERAL, Code.CLIP_IMPACTS_SEVERAL_UNLISTED)
_SLOWED = (Code.CLIP_LOOKS_SLOWED, Code.CLIP_LOOKS_SLOWED_UNLISTED)


def refusal_of(flaw: Flaw) -> Code:  # noqa: PLR0911  one answer a case
    """The problem that a file with ``flaw`` is."""
    match flaw:
        case Flaw.EMPTY:
            return Code.CLIP_EMPTY
        case Flaw.PICTURE:
            return Code.CLIP_IS_PICTURE
        case Flaw.NOT_VIDEO:
            return Code.CLIP_NOT_VIDEO
        case Flaw.CUT_OFF:
            return Code.CLIP_CUT_OFF
        case Flaw.SOUND_ONLY:
            return Code.CLIP_SOUND_ONLY
        case Flaw.FEW_PICTURES:
            return Code.CLIP_FEW_PICTURES
        case Flaw.UNDECODABLE:
            return Code.CLIP_UNDECODABLE
        case Flaw.PROTECTED:
            return Code.CLIP_PROTECTED
        case Flaw.TOO_LARGE:
            return Code.CLIP_TOO_LARGE


def seconds_shown(at_s: float) -> str:
    """Seconds of a clip, rounded as sentences show them."""
    return f"{at_s:.2f}"


def seconds_written(at_s: float) -> str:
    """Seconds of a clip as they are offered for its line: to a picture, at 240 a second."""
    return f"{at_s:.3f}"


def which_impact(clip: ClipFile, struck_s: float, impacts_s: Sequence[float]) -> Problem:
    """Asks whether a guess is right, or which of ``impacts_s`` is meant where there are several."""
    if not impacts_s:
        return ask_whether(clip, struck_s)
    heard = [seconds_written(at_s) for at_s in impacts_s]
    return ask_for(clip, _SEVERAL, "impact", heard, heard=", ".join(heard))


def ask_whether(clip: ClipFile, struck_s: float) -> Problem:
    """Asks whether ``struck_s``, which is only a guess, is the strike."""
    told = {"guess": seconds_shown(struck_s)}
    return ask_for(clip, _GUESSED, "impact", (seconds_written(struck_s),), **told)


def ask_how_slow(clip: ClipFile, factor: int) -> Problem:
    """Asks whether the clip plays ``factor`` times slower than life."""
    return ask_for(clip, _SLOWED, "slow", (str(factor),), factor=str(factor))


def ask_for(
    clip: ClipFile, codes: tuple[Code, Code], key: str, values: Sequence[str], **facts: str
) -> Problem:
    """A problem that offers each of ``values`` for ``key`` on the clip's line.

    ``codes`` are for a clip that has a line of its own, and for one that would get one.
    """
    code = codes[0] if is_listed(clip) else codes[1]
    facts = {"file": clip.path.name, **facts}
    return Problem(
        code, clip.impact_where, facts, offers=one_of(said_of(clip, key, v) for v in values)
    )
