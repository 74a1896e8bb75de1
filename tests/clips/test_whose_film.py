"""What is kept of a clip is found again by that clip alone, and says of which it was made."""

from collections.abc import Callable

import pytest
from msgspec.structs import replace

from recapgen.clips.download import make_download
from recapgen.clips.film import make_film
from recapgen.clips.footage import inspect
from recapgen.model.lesson import ClipFile, View
from recapgen.tools.cache import Cache, sha256_of_file

pytestmark = pytest.mark.ffmpeg

Clip = Callable[[str, float | None], ClipFile]


def test_another_clip_of_the_same_shape_gives_another_film(clip: Clip, cache: Cache) -> None:
    one = inspect(clip("slow.mp4", 0.6), cache).value
    assert one is not None
    other = replace(one, content="0" * 32)
    films = [make_film(View.FACE_ON, (side,), cache).value for side in (one, other)]
    kept = [make_download(side, cache).value for side in (one, other)]
    assert (
        len({film.video for film in films if film})
        == len({each.file for each in kept if each})
        == 2
    )
    digest = sha256_of_file(one.clip.path)
    assert {film.made_of for film in films if film} == {(digest,)}
    assert {each.made_of for each in kept if each} == {(digest,)}
