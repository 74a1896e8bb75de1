"""Drills shown from the coach's library: upright, silent, small, and with nothing private left."""

from pathlib import Path

import av
import pytest
from PIL import Image

from recapgen.clips.demonstration import LONG_SIDE, show_drill
from recapgen.model.problem import Code, Cost
from recapgen.tools.cache import Cache
from recapgen.tools.media import picture
from tests.clips.phone_clips import SECRETS

pytestmark = pytest.mark.ffmpeg

TURNED_TO_THE_RIGHT = 6  # what a phone writes when it was held upright


def photo(path: Path, size: tuple[int, int] = (1600, 1200)) -> None:
    """Left half blue, right half red, as the sensor saw it; the phone was held upright."""
    image = Image.new("RGB", size, "red")
    image.paste("blue", (0, 0, size[0] // 2, size[1]))
    told = Image.Exif()
    told[0x0112] = TURNED_TO_THE_RIGHT
    told[0x010F] = "Invented Instruments"
    image.save(path, exif=told)


def test_a_picture_stands_upright_and_tells_nothing(tmp_path: Path, cache: Cache) -> None:
    photo(tmp_path / "wall.jpg")
    shown, problems = show_drill(tmp_path, "wall.jpg", cache)
    assert problems == ()
    assert shown is not None
    assert shown.video is None
    with Image.open(shown.picture) as made:
        assert made.size == (picture.LONG_SIDE * 3 // 4, picture.LONG_SIDE)
        red, _, blue = made.convert("RGB").getpixel((10, 10))  # type: ignore[misc]  # three bands
        assert blue > 200 > red
        assert dict(made.getexif()) == {}
    assert b"Invented" not in shown.picture.read_bytes()


@pytest.mark.parametrize("ending", ["png", "webp"])
def test_other_pictures_and_small_ones_stay_as_small(
    tmp_path: Path, cache: Cache, ending: str
) -> None:
    Image.new("RGB", (120, 80), "green").save(tmp_path / f"a.{ending}")
    shown, _ = show_drill(tmp_path, f"a.{ending}", cache)
    assert shown is not None
    with Image.open(shown.picture) as made:
        assert made.size == (120, 80)


@pytest.mark.parametrize("name", ["telltale.mov", "rotated.mov", "hevc.mov", "hlg.mov"])
def test_a_clip_loses_its_sound_and_all_it_tells(recordings: Path, cache: Cache, name: str) -> None:
    shown, problems = show_drill(recordings, name, cache)
    assert problems == ()
    assert shown is not None
    assert shown.video is not None
    with av.open(str(shown.video)) as container:
        assert [stream.type for stream in container.streams] == ["video"]
        assert max(container.streams.video[0].width, container.streams.video[0].height) <= LONG_SIDE
    with Image.open(shown.picture) as still:
        assert max(still.size) <= LONG_SIDE
    for secret in (*SECRETS.values(), "PLANTED-HANDLER"):
        assert secret.encode() not in shown.video.read_bytes()


def test_the_same_file_is_made_once(tmp_path: Path, cache: Cache) -> None:
    photo(tmp_path / "a.jpg", (60, 40))
    photo(tmp_path / "b.jpg", (60, 40))
    first, second = (show_drill(tmp_path, name, cache).value for name in ("a.jpg", "b.jpg"))
    assert first is not None
    assert second is not None
    assert first.picture == second.picture
    assert first.fingerprint == second.fingerprint


@pytest.mark.parametrize("content", [b"", b"\xff\xd8\xff not a picture", b"GIF89a", b"words"])
def test_what_cannot_be_shown_costs_only_itself(
    tmp_path: Path, cache: Cache, content: bytes
) -> None:
    (tmp_path / "wall.jpg").write_bytes(content)
    shown, problems = show_drill(tmp_path, "wall.jpg", cache)
    assert shown is None
    (problem,) = problems
    assert (problem.code, problem.cost) == (Code.DRILL_NOT_SHOWN, Cost.NOTHING)
    assert problem.where.file == "wall.jpg"
    assert not problem.facts


def test_a_file_that_is_gone_says_so_without_its_path(tmp_path: Path, cache: Cache) -> None:
    (problem,) = show_drill(tmp_path, "gone.jpg", cache).problems
    assert (problem.code, dict(problem.facts)) == (Code.DRILL_NOT_SHOWN, {})
