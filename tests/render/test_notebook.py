"""The chart that a notebook gets: the pages' specification, with frames of its own."""

import re
from xml.etree import ElementTree as ET

import pandas as pd
import pytest
import vl_convert

from recapgen import frames
from recapgen.render.charts.notebook import COLOURS, NamedBlock, then_above_now
from recapgen.render.charts.specification import specification
from tests.end_to_end.small_lessons import ROOT

BEFORE, AFTER = (6.3, 5.8, 7.1, 6.0, 6.6), (0.8, 1.2, 0.3, -0.4)


def hit(lesson: str = "2027-04-11") -> pd.DataFrame:
    """Rows as ``frames.shots`` gives them, the third ball before a mishit."""
    rows = [
        {
            "student": "anna",
            "lesson": lesson,
            "number": "club path",
            "unit": "deg",
            "block": block,
            "value": value,
            "mishit": value == BEFORE[2],
        }
        for block, values in (("before", BEFORE), ("after", AFTER))
        for value in values
    ]
    return pd.DataFrame(rows)


def test_every_shot_is_drawn_by_the_specification_of_the_pages() -> None:
    chart = frames.chart(hit())
    told = chart.to_dict()  # raises where it is not valid
    names = [layer["mark"]["type"] for layer in told["layer"]]
    assert names == ["rule", "point", "point", "text"]
    pages = {
        layer["mark"]["type"]: layer["encoding"] for layer in specification().to_dict()["layer"]
    }
    assert all(layer["encoding"] == pages[layer["mark"]["type"]] for layer in told["layer"][::3])
    svg = vl_convert.vegalite_to_svg(told)
    assert "var(" not in svg
    assert "inherit" not in svg
    texts = [e.text for e in ET.fromstring(svg).iter() if e.tag.endswith("text")]  # noqa: S314 (ours)
    assert {"before", "after", "club path, deg"} <= set(texts)
    assert svg.count("M5,0A5,5") == len(BEFORE) + len(AFTER)


def test_the_pages_are_not_changed_by_a_notebook() -> None:
    before = specification().to_dict()
    frames.chart(hit()).properties(title="mine")
    assert specification().to_dict() == before


def test_a_chart_is_of_one_lesson() -> None:
    with pytest.raises(ValueError, match="one lesson"):
        frames.chart(pd.concat([hit(), hit("2027-05-01")]))
    with pytest.raises(ValueError, match="one lesson"):
        frames.chart(hit().head(0))
    with pytest.raises(ValueError, match="no shot"):
        then_above_now(NamedBlock("before", (), ()), NamedBlock("after", (), ()), "deg")


def test_a_block_that_nothing_was_hit_in_is_an_empty_row() -> None:
    chart = frames.chart(hit().query("block == 'before'"))
    assert len(chart.layer) == 4


def test_the_colours_are_those_of_a_light_page() -> None:
    styles = (ROOT / "site_template" / "book" / "book.css").read_text(encoding="utf-8")
    for name, colour in COLOURS.items():
        told = name.removeprefix("var(").removesuffix(")")
        first = re.search(rf"{told}: (#[0-9a-f]+);", styles)
        assert first is not None
        assert first[1] == colour
