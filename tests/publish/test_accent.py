"""The coach's colour stays readable, by day and by night."""

import re

from hypothesis import given
from hypothesis import strategies as st

from recapgen.publish.accent import accent_css, contrast

DAY, NIGHT = (0xF4, 0xEE, 0xE0), (0x2A, 0x2D, 0x2A)
colours = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")


def rgb(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def test_contrast_is_that_of_the_guidelines() -> None:
    assert contrast((0, 0, 0), (255, 255, 255)) == 21.0
    assert round(contrast((0x76, 0x76, 0x76), (255, 255, 255)), 2) == 4.54


@given(colours)
def test_any_colour_becomes_readable(accent: str) -> None:
    day, night = re.findall(r"--spot: (#[0-9a-f]{6})", accent_css(accent))
    assert contrast(rgb(day), DAY) >= 4.5
    assert contrast(rgb(night), NIGHT) >= 4.5


def test_a_readable_colour_is_left_as_it_is() -> None:
    assert "--spot: #9c4221" in accent_css("#9C4221")


def test_without_a_colour_no_rule_is_set() -> None:
    assert "{" not in accent_css(None)
