"""What hides a face in a case: it leaves no picture of the drawn truth, and is no slab."""

import numpy as np
import numpy.typing as npt
import pytest

from recapgen.clips.covering import face_covers
from recapgen.clips.following import marked
from recapgen.model.filming import Box, Covered, Directions
from recapgen.tools.media.recording import Recording, look
from sample_making.draw_swing import SwingArtist
from sample_making.film_clips import HEIGHT, WIDTH, ClipPlan
from sample_making.make_samples import SAMPLE_LESSONS, clip_plans

pytestmark = pytest.mark.ffmpeg

Floats = npt.NDArray[np.float64]

PLANS = {plan.file.rpartition("/")[2]: plan for plan in clip_plans()}
MOVE_FAR = ("MOV_0009.mov", "MOV_0010.mp4")  # each by .8 of the face and more


def covered(plan: ClipPlan, around: float) -> tuple[Box, tuple[Covered, ...], Floats]:
    """The box as a coach marks it ``around`` the face, the covers, and the truth at each."""
    path = SAMPLE_LESSONS / plan.file
    recording = look(path)
    assert isinstance(recording, Recording)
    artist = SwingArtist(plan.scene, (WIDTH, HEIGHT))
    at_s = recording.nearest_picture_s(plan.impact_s + artist.golfer.tempo.moment("start"))
    left, top, right, bottom = artist.face_place(at_s - plan.impact_s)
    wide, high = right - left, bottom - top
    box = Box(
        left - around * wide,
        top - around * high,
        (1 + 2 * around) * wide,
        (1 + 2 * around) * high,
    )
    face = marked(path, recording, box, at_s, Directions())
    covers = face_covers(face, max(0.0, plan.impact_s - 1.8), plan.impact_s + 1.2)
    truth = [artist.face_place(cover.from_s - plan.impact_s) for cover in covers]
    return box, covers, np.array(truth)


def sticks_out(covers: tuple[Covered, ...], truth: Floats) -> float:
    """How far the face leaves what covers it at most, in shares of the picture; below 0: never."""
    boxes = [cover.box for cover in covers]
    edges = np.array([(b.x, b.y, b.x + b.width, b.y + b.height) for b in boxes])
    return float(np.maximum(edges[:, :2] - truth[:, :2], truth[:, 2:] - edges[:, 2:]).max())


def area(covers: tuple[Covered, ...]) -> float:
    return float(np.mean([cover.box.width * cover.box.height for cover in covers]))


def one_for_all(box: Box, truth: Floats) -> float:
    """The area of one box around everywhere the marked one goes, half its size to spare."""
    wide, high = np.ptp(truth[:, :2], axis=0) + 2 * np.array((box.width, box.height))
    return float(wide * high)


@pytest.mark.parametrize("name", MOVE_FAR)
def test_a_face_that_moves_far_is_covered_by_less_than_half_of_one_box(name: str) -> None:
    """Measured: .41 of it, marked as tightly as can be."""
    box, covers, truth = covered(PLANS[name], 0.0)
    assert len(covers) > 100
    assert sticks_out(covers, truth) < 0
    assert area(covers) <= 0.45 * one_for_all(box, truth)


@pytest.mark.campaign
@pytest.mark.parametrize("around", [0.0, 0.1, 0.2])
@pytest.mark.parametrize("plan", PLANS.values(), ids=list(PLANS))
def test_no_drawn_face_leaves_its_cover_in_any_picture(plan: ClipPlan, around: float) -> None:
    """However tightly it is marked; where it cannot be followed, nothing is shown."""
    box, covers, truth = covered(plan, around)
    if covers:
        assert sticks_out(covers, truth) < 0
        assert area(covers) < one_for_all(box, truth)
