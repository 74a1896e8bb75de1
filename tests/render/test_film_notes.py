"""What the page says below a film of how its clips were filmed."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.model.films import Film, FilmSide, ImpactFrom, Strike, Unlike, UnlikeIn
from recapgen.model.lesson import View
from recapgen.model.shots import Block
from recapgen.render.film_view import film_view
from recapgen.words.catalogue import words

THEN = FilmSide("a.mov", Block.BEFORE, 3, Strike(0.8, ImpactFrom.NOTES))
NOW = FilmSide("b.mov", Block.AFTER, 14, Strike(0.9, ImpactFrom.NOTES))
PAIR = Film(View.FACE_ON, (THEN, NOW), Path("f.mp4"), Path("f.webp"), "abcd", 60, 90, 48, 1080, 960)


def notes(film: Film) -> tuple[str, ...]:
    return film_view(film, words("en")).notes


def test_of_clips_filmed_alike_nothing_is_said() -> None:
    assert notes(PAIR) == ()


@pytest.mark.parametrize(
    ("unlike", "said"),
    [
        (Unlike(UnlikeIn.SIZE, 1, 1.27), "1.3 times as big in the “after” clip"),
        (Unlike(UnlikeIn.SIZE, 1, 0.77), "1.3 times as big in the “before” clip"),
        (Unlike(UnlikeIn.ASIDE, 0, 0.08), "pointed further left: the picture is off by about 8%"),
        (Unlike(UnlikeIn.ASIDE, 0, -0.08), "further right"),
        (Unlike(UnlikeIn.HEIGHT, 0, 0.07), "or tilted further up: the picture is off by about 7%"),
        (Unlike(UnlikeIn.HEIGHT, 0, -0.07), "tilted further down"),
        (Unlike(UnlikeIn.LEAN, 0, -2.5), "tilted about 2.5° more"),
        (Unlike(UnlikeIn.RATE, 240, 30), "240 frames a second and the “after” clip has 30"),
        (Unlike(UnlikeIn.VIEW, 1, 0.3), "filmed from different sides"),
        (Unlike(UnlikeIn.SHARPNESS, 0.2, 0.05), "The “after” clip seems less sharp"),
        (Unlike(UnlikeIn.SHARPNESS, 0.05, 0.2), "The “before” clip seems less sharp"),
        (Unlike(UnlikeIn.SHAPE, 0.56, 1.78), "upright before and on its side after"),
        (Unlike(UnlikeIn.SHAPE, 1.78, 0.56), "on its side before and upright after"),
    ],
)
def test_each_difference_is_said_in_plain_words(unlike: Unlike, said: str) -> None:
    sentence, *more = notes(replace(PAIR, unlike=(unlike,)))
    assert said in sentence
    estimated = unlike.what not in {UnlikeIn.RATE, UnlikeIn.SHAPE}
    assert ("seem" in sentence) is estimated
    placed = estimated and unlike.what not in {UnlikeIn.SHARPNESS, UnlikeIn.VIEW}
    assert more == (
        ["Small differences between the two may just come from that."] if placed else []
    )


def test_a_mirrored_and_a_damaged_side_are_named() -> None:
    film = replace(PAIR, sides=(replace(THEN, mirrored=True), replace(NOW, part_only=True)))
    mirrored, damaged = notes(film)
    assert mirrored.startswith("The “before” clip is mirrored")
    assert damaged.startswith("Part of the “after” clip is damaged")
    both = replace(PAIR, sides=tuple(replace(side, mirrored=True) for side in PAIR.sides))
    assert notes(both)[0].startswith("Both clips are mirrored")
    alone = replace(PAIR, sides=(replace(NOW, part_only=True),))
    assert notes(alone) == ("Part of this clip is damaged, so you only see the rest.",)
