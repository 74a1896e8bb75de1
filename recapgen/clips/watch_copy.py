"""A small copy of a clip that any browser can play, picture for picture."""

from pathlib import Path

from recapgen.clips.footage import LONGEST_UNTRIMMED_S, inspect
from recapgen.model.films import ImpactFrom
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Code
from recapgen.model.worksheet import SheetClip, WatchCopy
from recapgen.tools.cache import Cache, key_for
from recapgen.tools.media import converter, small_copy
from recapgen.tools.media.editing import frames_in
from recapgen.tools.media.recording import Recording

MOST_COPIED = 3600
"""Pictures: a minute at 60 a second. More make a page slow, and a swing has fewer."""

_VIDEO = "copy.mp4"
_STILL = "still.webp"
_NAME_DIGITS = 16


def sheet_clip(clip: ClipFile, cache: Cache) -> SheetClip:
    """``clip`` ready for its lesson's worksheet: a copy, else a still, else why there is neither.

    What is asked about the clip is told elsewhere.
    """
    looked = inspect(clip, cache)
    footage = looked.value
    if footage is None:
        return SheetClip(clip, why=next(problem.code for problem in looked.problems))
    guess_s = None if footage.strike.found_in is ImpactFrom.NOTES else footage.strike.at_s
    copy = _copy(clip.path, footage.content, footage.recording, cache)
    if copy is not None:
        return SheetClip(clip, copy=copy, guess_s=guess_s)
    still = _still(clip.path, footage.content, footage.recording, cache)
    return SheetClip(clip, still=still, why=Code.CLIP_NOT_CONVERTED, guess_s=guess_s)


def _copy(path: Path, content: str, recording: Recording, cache: Cache) -> WatchCopy | None:
    """None where not every picture can be decoded, so that its places would be other ones."""
    if recording.length_s > LONGEST_UNTRIMMED_S or len(recording.times_s) > MOST_COPIED:
        return None
    width, height = small_copy.size_of(recording)
    fps = small_copy.rate_of(recording)
    key = key_for(small_copy.RECIPE, converter.version(), content, width, height, fps)

    def convert(into: Path) -> None:
        small_copy.make(path, recording, (width, height), fps, into / _VIDEO)
        written = frames_in(into / _VIDEO)
        if written != len(recording.times_s):
            told = f"{written} of {len(recording.times_s)} pictures were written"
            raise converter.ConversionError(told)

    try:
        entry = cache.find_or_make(key, convert)
    except converter.ConversionError:
        return None
    name = f"{key[:_NAME_DIGITS]}.mp4"
    return WatchCopy(entry / _VIDEO, name, width, height, fps, recording.times_s)


def _still(path: Path, content: str, recording: Recording, cache: Cache) -> Path | None:
    key = key_for(small_copy.RECIPE, "still", converter.version(), content)

    def convert(into: Path) -> None:
        small_copy.make_still(path, recording, small_copy.size_of(recording), into / _STILL)
        if not (into / _STILL).is_file():
            raise converter.ConversionError("no picture was written")

    try:
        return cache.find_or_make(key, convert) / _STILL
    except converter.ConversionError:
        return None
