"""A case's film can't be matched with the student's own by name, length, size or bytes."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.clips.film import FOR_STRANGERS, make_film
from recapgen.clips.footage import inspect
from recapgen.clips.nameless import hide_faces
from recapgen.model.filming import Directions
from recapgen.model.films import Film
from recapgen.model.lesson import ClipFile
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache
from tests.clips.test_same_view import filmed, phone

pytestmark = pytest.mark.ffmpeg

LINE = SourceRef("mia/2031-02-03/notes.md", 9, 3)


def files_of(film: Film) -> list[Path]:
    return [film.video, film.poster, *film.stills]


@pytest.mark.parametrize("pair", [False, True])
def test_a_film_for_strangers_is_another_film(pair: bool, tmp_path: Path, cache: Cache) -> None:
    clips = [filmed(tmp_path, cache, f"{name}.mp4", phone()).clip for name in ("one", "two")]
    shown = [replace(clip, directions=Directions(face_shown=True)) for clip in clips]
    sides = tuple(
        look for clip in shown[: 1 + pair] if (look := inspect(clip, cache).value) is not None
    )
    hidden = hide_faces(sides, cache).value
    assert hidden == sides  # the face may be shown, and nothing else differs
    own = make_film(None, sides, cache).value
    told = make_film(None, hidden, cache, FOR_STRANGERS).value
    assert own is not None
    assert told is not None
    assert told.frames < own.frames
    assert told.width < own.width
    assert told.height < own.height
    assert told.fingerprint != own.fingerprint
    bytes_of_own = {file.read_bytes() for file in files_of(own)}
    sizes_of_own = {len(each) for each in bytes_of_own}
    for file in files_of(told):
        assert file.read_bytes() not in bytes_of_own
        assert file.stat().st_size not in sizes_of_own


def test_a_clip_cut_close_to_impact_differs_as_well(tmp_path: Path, cache: Cache) -> None:
    clip = filmed(tmp_path, cache, "close.mp4", phone()).clip
    close = ClipFile(clip.path, LINE, None, None, None, 0.05, LINE)
    look = inspect(close, cache).value
    assert look is not None
    own, told = (make_film(None, (look,), cache, *more).value for more in ((), (FOR_STRANGERS,)))
    assert own is not None
    assert told is not None
    assert told.frames < own.frames
    assert told.impact_frame < own.impact_frame
