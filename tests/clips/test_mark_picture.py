"""The coach's mark: made small, or left out with a word."""

from pathlib import Path

import pytest
from PIL import Image

from recapgen.clips.mark_picture import LONG_SIDE, make_mark
from recapgen.model.problem import Code
from recapgen.tools.cache import Cache

pytestmark = pytest.mark.ffmpeg


@pytest.mark.parametrize(("name", "size"), [("m.png", (900, 300)), ("m.jpg", (300, 640))])
def test_a_large_mark_is_made_small_and_keeps_its_shape(
    tmp_path: Path, name: str, size: tuple[int, int]
) -> None:
    Image.new("RGB", size, "#2f5d50").save(tmp_path / name)
    made = make_mark(tmp_path, name, Cache(tmp_path / "cache"))
    assert made.problems == ()
    assert made.value is not None
    with Image.open(made.value.path) as picture:
        assert picture.format == "WEBP"
        assert picture.size == (made.value.width_px, made.value.height_px)
        assert max(picture.size) == LONG_SIDE
        assert picture.width / picture.height == pytest.approx(size[0] / size[1], rel=0.02)


def test_glass_stays_glass(tmp_path: Path) -> None:
    Image.new("RGBA", (200, 200), (0, 0, 0, 0)).save(tmp_path / "m.png")
    made = make_mark(tmp_path, "m.png", Cache(tmp_path / "cache")).value
    assert made is not None
    with Image.open(made.path) as picture:
        assert picture.convert("RGBA").getpixel((90, 90))[3] == 0  # type: ignore[index]  # RGBA


def test_a_broken_mark_costs_only_itself(tmp_path: Path) -> None:
    (tmp_path / "m.png").write_bytes(b"\x89PNG and then nothing that is one")
    made = make_mark(tmp_path, "m.png", Cache(tmp_path / "cache"))
    assert made.value is None
    assert [problem.code for problem in made.problems] == [Code.MARK_UNUSABLE]


def test_a_small_file_of_very_many_pixels_is_not_unpacked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    Image.new("L", (400, 300)).save(tmp_path / "m.png")
    monkeypatch.setattr("recapgen.tools.media.picture.MOST_PIXELS", 400 * 299)
    made = make_mark(tmp_path, "m.png", Cache(tmp_path / "cache"))
    assert made.value is None
    assert [problem.code for problem in made.problems] == [Code.MARK_UNUSABLE]


def test_a_mark_gone_bad_in_the_cache_is_told_and_not_thrown(tmp_path: Path) -> None:
    Image.new("RGB", (200, 200), "#2f5d50").save(tmp_path / "m.png")
    made = make_mark(tmp_path, "m.png", Cache(tmp_path / "cache")).value
    assert made is not None
    made.path.write_bytes(b"no picture")
    again = make_mark(tmp_path, "m.png", Cache(tmp_path / "cache"))
    assert again.value is None or again.value.path.read_bytes() != b"no picture"
