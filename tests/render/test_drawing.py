"""Pictures as SVG: one image that is fit to stand inside a page."""

import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from recapgen.render.charts.chart_parts import TEXT_PX, Picture
from recapgen.render.charts.drawing import draw
from recapgen.render.charts.flight_chart import seen_from_the_side
from recapgen.render.charts.specification import Filling, MarkKind, filled, filling, specification
from recapgen.render.charts.tidy import tidy
from recapgen.tools.cache import Cache
from tests.end_to_end.small_lessons import ROOT
from tests.render.pictures_fixture import PICTURES, READER, flown, strip
from tests.render.recaps_fixture import path_comparison


@pytest.fixture(params=sorted(PICTURES))
def picture(request: pytest.FixtureRequest) -> Picture:
    return PICTURES[request.param]()


def flight() -> Picture:
    return seen_from_the_side(flown(48.0), READER)


KINDS = {**PICTURES, "flight": flight}


@pytest.mark.parametrize("name", sorted(KINDS))
def test_golden_svg(name: str, golden: Callable[[str, str], None]) -> None:
    svg = draw(KINDS[name](), f"shots-{name}", "A title", "A description")
    golden(f"{name}.svg", svg.replace("><", ">\n<") + "\n")


def test_text_is_large_enough_on_a_320_px_phone(picture: Picture) -> None:
    root = ET.fromstring(draw(picture, "c", "t", "d"))  # noqa: S314 (our own)
    assert float(root.attrib["viewBox"].split()[2]) <= 288
    sizes = {
        element.attrib["font-size"] for element in root.iter() if "font-size" in element.attrib
    }
    assert sizes == {f"{TEXT_PX:g}px"}
    assert TEXT_PX >= 12


def test_the_image_speaks_once_and_carries_nothing_else(picture: Picture) -> None:
    svg = draw(picture, "one", 'Then & "now"', "<desc>")
    root = ET.fromstring(svg)  # noqa: S314 (our own)
    assert root.attrib["role"] == "img"
    assert root.attrib["aria-labelledby"] == "one-t one-d"
    assert [root[0].text, root[1].text] == ['Then & "now"', "<desc>"]
    inner = svg[svg.index("</desc>") :]
    for banned in ("role=", "aria-", "style=", "class=", "http", "href", "<script"):
        assert banned not in inner
    assert all(i.startswith("one-") for i in re.findall(r'id="([^"]+)"', svg))
    colours = set(re.findall(r'(?:fill|stroke)="([^"]+)"', inner))
    assert all(c == "none" or c.startswith(("var(--", "url(#one-")) for c in colours)


def test_two_pictures_on_a_page_share_no_id() -> None:
    picture = strip(path_comparison())
    first, second = (set(re.findall(r'id="([^"]+)"', draw(picture, u, "t", "d"))) for u in "ab")
    assert first
    assert not first & second


def test_what_was_drawn_before_is_found_again_by_what_went_into_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = Cache(tmp_path)
    first = draw(PICTURES["window"](), "c", "t", "d", kept)
    assert first == draw(PICTURES["window"](), "c", "t", "d")
    asked: list[Filling] = []

    def converted(put_in: Filling) -> str:
        asked.append(put_in)
        return "<svg/>"

    monkeypatch.setattr("recapgen.render.charts.drawing._converted", converted)
    assert draw(PICTURES["window"](), "c", "t", "d", kept) == first
    assert draw(PICTURES["window"](), "other", "t", "d", kept) == first.replace("c-", "other-")
    assert not asked
    with pytest.raises(KeyError):  # drawn anew: an empty picture has no size
        draw(PICTURES["zero"](), "c", "t", "d", kept)
    assert len(asked) == 1


def test_a_kept_drawing_that_is_broken_is_drawn_anew(tmp_path: Path) -> None:
    kept = Cache(tmp_path)
    first = draw(PICTURES["share"](), "c", "t", "d", kept)
    (entry,) = tmp_path.iterdir()
    entry.write_bytes(entry.read_bytes().replace(b"rect", b"path", 1))
    assert draw(PICTURES["share"](), "c", "t", "d", kept) == first


def test_a_picture_that_is_kept_needs_no_library_to_be_drawn(tmp_path: Path) -> None:
    draw(PICTURES["share"](), "c", "t", "d", Cache(tmp_path))
    code = (
        "import sys\nfrom pathlib import Path\n"
        "from recapgen.render.charts.drawing import draw\nfrom recapgen.tools.cache import Cache\n"
        "from tests.render.pictures_fixture import PICTURES\n"
        "draw(PICTURES['share'](), 'c', 't', 'd', Cache(Path(sys.argv[1])))\n"
        "assert not {'altair', 'vl_convert'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code, str(tmp_path)], check=True, cwd=ROOT)


def test_every_picture_is_drawn_by_the_one_specification_made_once() -> None:
    draw(PICTURES["window"](), "c", "t", "d")
    made = specification()
    again = [draw(PICTURES[name](), "c", "t", "d") for name in ("share", "finish", "share")]
    assert again[0] == again[2]
    assert specification() is made
    assert specification.cache_info().misses == 1


def test_the_specification_is_valid_and_leaves_out_what_a_picture_has_none_of() -> None:
    whole = specification().to_dict()  # raises where it is not valid
    assert [layer["data"]["name"] for layer in whole["layer"]] == [mark.value for mark in MarkKind]
    bars = filled(filling(PICTURES["share"]()))
    assert [source["name"] for source in bars["data"]] == ["bars", "labels"]
    assert len(bars["marks"]) == 2


def test_altair_is_loaded_only_when_something_is_drawn() -> None:
    code = (
        "import sys, recapgen.render.student_site\n"
        "assert not {'altair', 'pandas', 'vl_convert'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_a_long_line_told_in_steps_ends_where_it_would_in_full() -> None:
    points = [(x / 7, 90 - (x % 13) * 3.14159) for x in range(200)]
    drawn = "M" + "L".join(f"{x},{y}" for x, y in points)
    svg = tidy(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="{drawn}"/></svg>',
        "a",
        "A title",
        "A description",
    )
    told = re.search(r'd="M([^"l]+)l([^"]+)"', svg)
    assert told is not None
    start = tuple(map(float, told[1].split(",")))
    steps = [tuple(map(float, step.split(","))) for step in told[2].split(" ")]
    assert len(steps) == len(points) - 1
    at = np.cumsum(np.array([start, *steps]), axis=0)
    assert np.abs(at - np.array(points)).max() <= 0.05 + 1e-9
