"""A framed patch on the page: drawn where it was marked, told in its own widths."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.model.filming import Box
from recapgen.model.films import Film, FilmSide, ImpactFrom, Strike, Travel
from recapgen.model.lesson import View
from recapgen.model.shots import Block
from recapgen.render.film_view import film_view
from recapgen.words.catalogue import words

FRAME = Box(0.25, 0.1, 0.1, 0.05)
THEN = FilmSide("a.mov", Block.BEFORE, 3, Strike(0.8, ImpactFrom.NOTES), patch=FRAME)
FILM = Film(View.FACE_ON, (THEN,), Path("f.mp4"), Path("f.webp"), "abcd", 60, 90, 48, 540, 960)


@pytest.mark.parametrize(
    ("travel", "said"),
    [
        (
            Travel(0.82, 0.21, 0.874, steady=True),
            ("0.8 times its own width to the right", "up by 0.2 times its own width"),
        ),
        (
            Travel(-0.82, -0.21, 0.874, steady=True),
            ("0.8 times its own width to the left", "0.2 times its own width downwards"),
        ),
        (
            Travel(0.04, -0.04, 0.874, steady=True),
            ("hardly at all sideways", "hardly at all up or down"),
        ),
    ],
)
def test_the_travel_is_told_as_an_estimate(travel: Travel, said: tuple[str, str]) -> None:
    (note,) = film_view(replace(FILM, sides=(replace(THEN, travel=travel),)), words("en")).notes
    for part in (*said, "We estimated", "match 0.87"):
        assert part in note


def test_what_cannot_be_followed_has_no_number() -> None:
    lost = replace(THEN, travel=Travel(0.82, 0.21, 0.3, steady=False))
    (note,) = film_view(replace(FILM, sides=(lost,)), words("en")).notes
    assert note == "Before: we can't see the framed patch clearly enough to follow it."


def test_the_frame_is_drawn_where_it_was_marked() -> None:
    assert film_view(FILM, words("en")).marks == ("M135.0 96.0h54.0v48.0h-54.0z",)
