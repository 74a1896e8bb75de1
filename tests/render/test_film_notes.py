"""What the page says below a film of how its clips were filmed."""

from dataclasses import replace
from pathlib import Path

import pytest

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
        (Unlike(UnlikeIn.SIZE, 1, 1.27), "about 1.3 times as large now"),
        (Unlike(UnlikeIn.SIZE, 1, 0.77), "about 1.3 times as large then"),
        (Unlike(UnlikeIn.ASIDE, 0, 0.08), "further to the left now, by about 8%"),
        (Unlike(UnlikeIn.ASIDE, 0, -0.08), "further to the right now"),
        (Unlike(UnlikeIn.HEIGHT, 0, 0.07), "points higher now, by about 7%"),
        (Unlike(UnlikeIn.HEIGHT, 0, -0.07), "points lower now"),
        (Unlike(UnlikeIn.LEAN, 0, -2.5), "leaned by about 2.5°"),
        (Unlike(UnlikeIn.RATE, 240, 30), "filmed at 240 pictures a second, now at 30"),
        (Unlike(UnlikeIn.VIEW, 1, 0.3), "filmed from different sides"),
        (Unlike(UnlikeIn.SHARPNESS, 0.2, 0.05), "now is less sharp than then"),
        (Unlike(UnlikeIn.SHARPNESS, 0.05, 0.2), "then is less sharp than now"),
        (Unlike(UnlikeIn.SHAPE, 0.56, 1.78), "filmed upright, now lying"),
        (Unlike(UnlikeIn.SHAPE, 1.78, 0.56), "filmed lying, now upright"),
    ],
)
def test_each_difference_is_said_in_plain_words(unlike: Unlike, said: str) -> None:
    sentence, *more = notes(replace(PAIR, unlike=(unlike,)))
    assert said in sentence
    estimated = unlike.what not in {UnlikeIn.RATE, UnlikeIn.SHAPE}
    assert sentence.startswith("Estimate:") is estimated
    placed = estimated and unlike.what not in {UnlikeIn.SHARPNESS, UnlikeIn.VIEW}
    assert more == (["Small differences between the two may come from that."] if placed else [])


def test_a_mirrored_and_a_damaged_side_are_named() -> None:
    film = replace(PAIR, sides=(replace(THEN, mirrored=True), replace(NOW, part_only=True)))
    assert [note.split()[0].strip(":") for note in notes(film)] == ["Then", "Now"]
    both = replace(PAIR, sides=tuple(replace(side, mirrored=True) for side in PAIR.sides))
    assert notes(both)[0].startswith("Both clips are mirrored")
    alone = replace(PAIR, sides=(replace(NOW, part_only=True),))
    assert notes(alone) == ("The recording is damaged, so only its whole part is shown.",)
