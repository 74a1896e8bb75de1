"""A framed patch in a real clip: followed for the page, and hidden from strangers as a face."""

from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
from msgspec.structs import replace
from scipy.ndimage import gaussian_filter

from recapgen.clips.film import make_film
from recapgen.clips.footage import Footage, inspect
from recapgen.clips.nameless import hide_faces
from recapgen.model.filming import Box, Directions
from recapgen.model.films import Film
from recapgen.model.lesson import ClipFile, View
from recapgen.model.problem import Code, Cost
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache
from recapgen.words.catalogue import words
from recapgen.words.problems import tell
from tests.clips.film_making import pictures
from tests.clips.phone_clips import ffmpeg

pytestmark = pytest.mark.ffmpeg

LINE = SourceRef("mia/2031-02-03/notes.md", 9, 3)
WIDTH, HEIGHT, COUNT = 270, 480, 72
FACE = 60  # across and down, in pixels
START, STRUCK = (100, 120), 0.8
SHARP = 60  # a step between neighbours; nothing of the kind may be left of a face


def face_at(n: int) -> tuple[float, float]:
    """Column and row: most of a width to the right by the strike, on and up from there."""
    at = n / COUNT
    return START[0] + 60 * at, START[1] - 25 * at**2


@pytest.fixture(scope="module")
def swing(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A speckled face before a wall, at 60 pictures a second."""
    return _write(tmp_path_factory.mktemp("faces") / "swing.mp4", lost_from=COUNT)


@pytest.fixture(scope="module")
def lost(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same, with the face behind a bag from the middle on."""
    return _write(tmp_path_factory.mktemp("faces") / "lost.mp4", lost_from=30)


def _write(path: Path, lost_from: int) -> Path:
    dice = np.random.default_rng(4)
    wall = 110 + 120 * gaussian_filter(dice.normal(size=(HEIGHT, WIDTH)), 5)
    face = np.clip(128 + 300 * gaussian_filter(dice.normal(size=(FACE, FACE)), 1.5), 20, 235)
    shown = []
    for n in range(COUNT):
        picture = wall.copy()
        column, row = (round(place) for place in face_at(n))
        if n < lost_from:
            picture[row : row + FACE, column : column + FACE] = face
        shown.append(np.clip(picture + dice.normal(0, 2, picture.shape), 0, 255).astype(np.uint8))
    ffmpeg(
        *("-f", "rawvideo", "-pix_fmt", "gray", "-s", f"{WIDTH}x{HEIGHT}", "-r", "60", "-i", "-"),
        *("-c:v", "libx264", "-preset", "ultrafast", "-crf", "12", "-pix_fmt", "yuv420p"),
        str(path),
        fed=np.array(shown).tobytes(),
    )
    return path


def shares(column: float, row: float, width: float, height: float) -> Box:
    return Box(column / WIDTH, row / HEIGHT, width / WIDTH, height / HEIGHT)


MARKED = shares(*START, FACE, FACE)
ALL_ALONG = shares(80, 70, 140, 140)


def looked(path: Path, cache: Cache, asked: Directions) -> Footage:
    clip = ClipFile(path, LINE, None, None, None, STRUCK, LINE, directions=asked)
    found = inspect(clip, cache).value
    assert found is not None
    return found


def filmed(side: Footage, cache: Cache) -> Film:
    made = make_film(View.FACE_ON, (side,), cache).value
    assert made is not None
    return made


def steps_in_the_face(film: Film) -> Iterator[float]:
    """The sharpest step between neighbours in the face's own place, of every frame."""
    for k, shown in enumerate(pictures(film.video)):
        n = min(max(0, round(STRUCK * 60) + k - film.impact_frame), COUNT - 1)
        column, row = (round(place) for place in face_at(n))
        grey = shown.mean(axis=2)[row + 3 : row + FACE - 3, column + 3 : column + FACE - 3]
        yield max(np.abs(np.diff(grey, axis=axis)).max() for axis in (0, 1))


def test_the_travel_to_the_strike_is_told_in_the_patchs_own_widths(
    swing: Path, cache: Cache
) -> None:
    side = looked(swing, cache, Directions(follow=MARKED))
    travel = filmed(side, cache).sides[0].travel
    assert travel is not None
    assert travel.steady
    end, start = face_at(round(STRUCK * 60)), face_at(round(side.starts_s * 60))
    assert travel.across == pytest.approx((end[0] - start[0]) / FACE, abs=0.1)
    assert travel.up == pytest.approx((start[1] - end[1]) / FACE, abs=0.1)
    mirrored = Directions(follow=shares(WIDTH - START[0] - FACE, START[1], FACE, FACE), mirror=True)
    other_way = looked(swing, cache, mirrored).travel
    assert other_way is not None
    assert other_way.across == pytest.approx(-travel.across, abs=0.05)


def test_where_the_phone_moves_the_travel_is_nobodys(swing: Path, cache: Cache) -> None:
    shaken = swing.with_name("shaken.mp4")
    pan = f"crop=230:{HEIGHT}:n/2:0"
    ffmpeg("-i", str(swing), "-vf", pan, "-c:v", "libx264", "-crf", "12", str(shaken))
    framed = Box(START[0] / 230, START[1] / HEIGHT, FACE / 230, FACE / HEIGHT)
    travel = looked(shaken, cache, Directions(follow=framed)).travel
    assert travel is not None
    assert travel.score > 0.6
    assert not travel.steady


def test_a_patch_that_is_lost_is_not_steady(lost: Path, cache: Cache) -> None:
    travel = looked(lost, cache, Directions(follow=MARKED)).travel
    assert travel is not None
    assert not travel.steady


@pytest.mark.parametrize(
    "asked", [Directions(face=MARKED), Directions(face=ALL_ALONG, face_stays=True)]
)
def test_in_a_case_no_frame_has_any_detail_of_the_face(
    asked: Directions, swing: Path, cache: Cache
) -> None:
    original = swing.read_bytes()
    side = looked(swing, cache, asked)
    hidden = hide_faces((side,), cache)
    assert hidden.problems == ()
    assert hidden.value is not None
    assert max(steps_in_the_face(filmed(hidden.value[0], cache))) < SHARP / 2
    assert min(steps_in_the_face(filmed(side, cache))) > SHARP  # the student's own
    assert swing.read_bytes() == original


def test_a_face_that_may_be_shown_is_left_alone(swing: Path, cache: Cache) -> None:
    side = looked(swing, cache, Directions(face_shown=True))
    assert hide_faces((side,), cache).value == (side,)


def test_without_a_word_on_the_face_a_clip_is_not_for_strangers(swing: Path, cache: Cache) -> None:
    shown = looked(swing, cache, Directions(face_shown=True))
    hidden = hide_faces((shown, looked(swing, cache, Directions())), cache)
    assert hidden.value is None
    (problem,) = hidden.problems
    assert (problem.code, problem.cost) == (Code.CASE_FACE_OPEN, Cost.CLIP)
    assert "face: [x, y" in tell(problem, words("en")).fix
    assert not problem.offers  # a box is for the coach to see, and none stands for another


def test_a_face_that_cannot_be_followed_is_not_for_strangers(lost: Path, cache: Cache) -> None:
    side = looked(lost, cache, Directions(face=MARKED))
    listed = replace(side, clip=replace(side.clip, impact_where=replace(LINE, column=40)))
    hidden = hide_faces((listed,), cache)
    assert hidden.value is None
    (problem,) = hidden.problems
    assert problem.code is Code.CASE_FACE_LOST
    assert "all along" in tell(problem, words("en")).fix


def test_in_a_long_recording_nothing_is_followed_but_a_box_for_all_of_it_holds(
    clip: Callable[[str, float | None], ClipFile], cache: Cache
) -> None:
    """Its first still is a minute away from its strike."""
    endless = clip("endless.mp4", 40.0)
    asked = Directions(follow=MARKED, face=MARKED)
    side = inspect(replace(endless, directions=asked), cache).value
    assert side is not None
    assert side.travel is not None
    assert not side.travel.steady
    assert [p.code for p in hide_faces((side,), cache).problems] == [Code.CASE_FACE_LOST]
    stays = replace(endless, directions=Directions(face=ALL_ALONG, face_stays=True))
    kept = inspect(stays, cache).value
    assert kept is not None
    (hidden,) = hide_faces((kept,), cache).value or ()
    assert [cover.box for cover in hidden.covered] == [ALL_ALONG]
