"""How a drill looks, from the coach's library: a picture, or a short clip without sound."""

from pathlib import Path

from recapgen.clips.remembering import tried
from recapgen.model.drill import Demonstration
from recapgen.model.filming import AS_LIVED
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef
from recapgen.tools.apart import LostError, apart
from recapgen.tools.cache import Cache, digest_of_file, key_for
from recapgen.tools.media import converter, editing, picture
from recapgen.tools.media.limits import to_look_s
from recapgen.tools.media.recording import Recording, Unusable, look

LONGEST_S = 20.0
"""What is longer is cut there: it is a reminder, not a lesson."""

LONG_SIDE = 720
FPS = 30
_PICTURE, _VIDEO = "demonstration.webp", "demonstration.mp4"
_NAME_DIGITS = 16
_LOOKED_INTO = "drill looked into; 1"


def show_drill(root: Path, name: str, cache: Cache) -> Checked[Demonstration]:
    """What the file ``name`` of drills/ shows, from the cache if it is there.

    A file that cannot be shown costs just that, and is a problem of the file's own.
    """
    path, where = root / name, SourceRef(name)
    try:
        content = digest_of_file(path)
        if picture.is_picture(path):
            return Checked(_still(path, name, content, cache), ())
        key = key_for(_LOOKED_INTO, content, converter.version())
        recording = tried(cache, key, lambda: apart(look, path, seconds=to_look_s(path)))
        if isinstance(recording, Unusable):
            return _refused(where)
        entry = _moving(path, recording, content, cache)
        return Checked(_named(name, entry / _PICTURE, entry / _VIDEO), ())
    except (OSError, converter.ConversionError, LostError):
        return _refused(where)


def _still(path: Path, name: str, content: str, cache: Cache) -> Demonstration:
    key = key_for(picture.RECIPE, converter.version(), content)
    entry = cache.find_or_make(key, lambda into: picture.make_picture(path, into / _PICTURE))
    return _named(name, entry / _PICTURE, None)


def _moving(path: Path, recording: Recording, content: str, cache: Cache) -> Path:
    """The cache's folder with the clip and its still, the picture in the middle of it."""
    frames = max(1, int(min(recording.length_s, LONGEST_S) * FPS))
    shrunk = min(1.0, LONG_SIDE / max(recording.width, recording.height))
    width, height = (
        max(2, round(side * shrunk / 2) * 2) for side in (recording.width, recording.height)
    )
    middle = frames // 2
    cut = editing.FilmCut(path, recording, middle / FPS, width, height, AS_LIVED)
    plan = editing.Plan((cut,), FPS, frames, middle, width, height)
    key = key_for(editing.RECIPE, converter.version(), content, FPS, frames, width, height)

    def convert(into: Path) -> None:
        editing.make(plan, into / _VIDEO, into / _PICTURE, [])

    return cache.find_or_make(key, convert)


def _named(name: str, still: Path, video: Path | None) -> Demonstration:
    return Demonstration(name, still, video, digest_of_file(video or still)[:_NAME_DIGITS])


def _refused(where: SourceRef) -> Checked[Demonstration]:
    return Checked(None, (Problem(Code.DRILL_NOT_SHOWN, where),))
