"""One clip looked into: is it whole, what is in it, and when was the strike."""

import json
import re
from dataclasses import dataclass
from pathlib import Path

import cattrs

from recapgen.clips.strike import find_strike
from recapgen.model.films import ImpactFrom, Strike
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Checked, Code, Problem
from recapgen.tools.cache import Cache, digest_of_file, key_for
from recapgen.tools.media import converter
from recapgen.tools.media.recording import Flaw, Recording, Unusable, look
from recapgen.tools.media.senses import glimpse, hear

LONGEST_UNTRIMMED_S = 60.0
_LOOKED_INTO = "looked into; 1"
_LISTENED_TO = "listened to and watched; 1"
_GLIMPSE_LONG_SIDE = 96
_GLIMPSES_APART_S = 1 / 70  # one per picture at 60 a second, every fourth at 240

_REFUSED = {
    Flaw.EMPTY: Code.CLIP_EMPTY,
    Flaw.PICTURE: Code.CLIP_IS_PICTURE,
    Flaw.NOT_VIDEO: Code.CLIP_NOT_VIDEO,
    Flaw.CUT_OFF: Code.CLIP_CUT_OFF,
    Flaw.SOUND_ONLY: Code.CLIP_SOUND_ONLY,
    Flaw.FEW_PICTURES: Code.CLIP_FEW_PICTURES,
    Flaw.UNDECODABLE: Code.CLIP_UNDECODABLE,
}


@dataclass(frozen=True, slots=True)
class Footage:
    """A clip that can be shown; ``content`` is the digest of its file."""

    clip: ClipFile
    content: str
    recording: Recording
    strike: Strike


def inspect(clip: ClipFile, cache: Cache) -> Checked[Footage]:
    """Look into a clip and find its strike; a clip that cannot be shown is a problem.

    The notes' word on the strike goes before everything. A strike that is only a guess
    still gives footage, with the line that would settle it.
    """
    try:
        content = digest_of_file(clip.path)
        recording = _recording(clip, content, cache)
    except OSError as unread:
        return _refused(clip, Code.CLIP_UNREADABLE, reason=unread.strerror or type(unread).__name__)
    if isinstance(recording, Unusable):
        return _refused(clip, _REFUSED[recording.flaw], detail=recording.detail)
    if misplaced := _misplaced(clip, recording.length_s):
        return Checked(None, (misplaced,))
    strike = _strike(clip, content, recording, cache)
    guessed = strike.found_in is ImpactFrom.GUESS
    return Checked(
        Footage(clip, content, recording, strike),
        (_ask_for_strike(clip, strike),) if guessed else (),
    )


def _misplaced(clip: ClipFile, length_s: float) -> Problem | None:
    """A strike outside the recording, or a recording too long to look for one."""
    name = clip.path.name
    if clip.impact_s is None:
        if length_s <= LONGEST_UNTRIMMED_S:
            return None
        facts = {"length": f"{length_s:.0f}", "longest": f"{LONGEST_UNTRIMMED_S:.0f}"}
        return Problem(Code.CLIP_TOO_LONG, clip.where, {"file": name, **facts})
    if 0 <= clip.impact_s <= length_s:
        return None
    facts = {"impact": f"{clip.impact_s:.2f}", "length": f"{length_s:.2f}"}
    return Problem(Code.CLIP_STRIKE_OUTSIDE, clip.impact_where, {"file": name, **facts})


def _refused(clip: ClipFile, code: Code, **facts: str) -> Checked[Footage]:
    return Checked(None, (Problem(code, clip.where, {"file": clip.path.name, **facts}),))


def _ask_for_strike(clip: ClipFile, strike: Strike) -> Problem:
    """The problem holds the very words to add, with the guess as the time."""
    listed = clip.where.file == clip.impact_where.file and clip.where.line is not None
    impact = f"impact: {strike.at_s:.3f}"
    line = impact if listed else f"- {{file: {_as_yaml(clip.path.name)}, {impact}}}"
    facts = {"file": clip.path.name, "guess": f"{strike.at_s:.2f}", "line": line}
    code = Code.CLIP_STRIKE_GUESSED if listed else Code.CLIP_STRIKE_GUESSED_UNLISTED
    return Problem(code, clip.impact_where, facts)


def _as_yaml(name: str) -> str:
    plain = re.fullmatch(r"[A-Za-z][\w .()-]*", name)
    return name if plain else json.dumps(name, ensure_ascii=False)


def _recording(clip: ClipFile, content: str, cache: Cache) -> Recording | Unusable:
    """Only what is usable is remembered: refusals are quick to find again."""
    key = key_for(_LOOKED_INTO, content, converter.version())
    if found := cache.find(key):
        return cattrs.structure(json.loads((found / "recording.json").read_bytes()), Recording)
    seen = look(clip.path)
    if isinstance(seen, Recording):
        told = json.dumps(cattrs.unstructure(seen))
        cache.find_or_make(key, lambda into: _write(into / "recording.json", told))
    return seen


def _strike(clip: ClipFile, content: str, recording: Recording, cache: Cache) -> Strike:
    if clip.impact_s is not None:
        return Strike(clip.impact_s, ImpactFrom.NOTES)
    key = key_for(_LISTENED_TO, content, converter.version())
    if not (found := cache.find(key)):
        sound = hear(clip.path, recording) if recording.has_sound else None
        seen = glimpse(clip.path, recording, _GLIMPSE_LONG_SIDE, _GLIMPSES_APART_S)
        told = json.dumps(cattrs.unstructure(find_strike(sound, seen)))
        found = cache.find_or_make(key, lambda into: _write(into / "strike.json", told))
    return cattrs.structure(json.loads((found / "strike.json").read_bytes()), Strike)


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8")
