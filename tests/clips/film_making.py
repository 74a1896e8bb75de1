"""Films made from clips as a build makes them, and their pictures read back."""

from pathlib import Path
from typing import cast

import av
import numpy as np

from recapgen.clips.film import make_film
from recapgen.clips.footage import Footage, inspect
from recapgen.model.films import Film
from recapgen.model.lesson import ClipFile, View
from recapgen.tools.cache import Cache
from tests.clips.phone_clips import Picture

RED, GREEN, BLUE = 0, 1, 2


def footage(clip: ClipFile, cache: Cache) -> Footage:
    looked = inspect(clip, cache)
    assert looked.value is not None, looked.problems
    return looked.value


def filmed(cache: Cache, *clips: ClipFile) -> Film:
    made = make_film(View.FACE_ON, tuple(footage(c, cache) for c in clips), cache)
    assert made.value is not None, made.problems
    assert made.problems == ()
    return made.value


def pictures(path: Path) -> list[Picture]:
    with av.open(str(path)) as container:
        return [
            cast("Picture", f.to_ndarray(format="rgb24"))
            for f in container.decode(container.streams.video[0])
        ]


def assert_upright(shown: Picture) -> None:
    height, width = shown.shape[:2]
    corners = {
        RED: shown[height // 20, width // 10],
        GREEN: shown[height // 20, -width // 10],
        BLUE: shown[-height // 20, width // 10],
    }
    for colour, found in corners.items():
        assert int(np.argmax(found)) == colour, corners
        assert int(found.max()) - int(np.sort(found)[1]) > 90, corners
