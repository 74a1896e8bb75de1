"""The drawn golfer keeps a body together, meets the ball, and shows the habit that is meant."""

import numpy as np
import pytest

from sample_making.camera import DOWN_THE_LINE, FACE_ON, Camera
from sample_making.casting import GUNNAR, JONAS, LENE, MIRA, PIA
from sample_making.draw_swing import Scene, SwingArtist
from sample_making.golfer import Body, Club, Golfer
from sample_making.swing_poses import STYLES

_IRON = Club(0.86, 0.20, "iron")
_SCENES = (MIRA, JONAS, PIA, GUNNAR, LENE)


def _moments(step_s: float = 1 / 60) -> list[float]:
    return [float(t) for t in np.arange(-1.6, 0.9, step_s)]


def _lengths(body: Body) -> list[float]:
    bones = (
        (body.lead_shoulder, body.lead_elbow),
        (body.lead_elbow, body.hands),
        (body.trail_shoulder, body.trail_elbow),
        (body.trail_elbow, body.hands),
        (body.lead_hip, body.lead_knee),
        (body.lead_knee, body.lead_ankle),
        (body.trail_hip, body.trail_knee),
        (body.trail_knee, body.trail_ankle),
    )
    return [float(np.linalg.norm(b - a)) for a, b in bones]


@pytest.mark.parametrize("style", sorted(STYLES))
def test_bones_keep_their_length(style: str) -> None:
    golfer = Golfer(STYLES[style], _IRON)
    lengths = np.array([_lengths(golfer.at(t)) for t in _moments()])
    assert np.ptp(lengths, axis=0).max() < 0.004


@pytest.mark.parametrize("style", sorted(STYLES))
def test_nothing_jumps_between_two_pictures(style: str) -> None:
    """Metres a second: hands as hands do, the rest well behind them."""
    golfer = Golfer(STYLES[style], _IRON)
    bodies = [golfer.at(t) for t in _moments(1 / 240)]
    for name, fastest in (("hands", 13.0), ("head", 3.0), ("lead_knee", 4.0), ("neck", 3.0)):
        places = np.array([getattr(body, name) for body in bodies])
        assert np.linalg.norm(np.diff(places, axis=0), axis=1).max() * 240 < fastest, name


@pytest.mark.parametrize("scene", _SCENES, ids=lambda scene: scene.place)
@pytest.mark.parametrize("style", sorted(STYLES))
def test_the_club_meets_the_ball(style: str, scene: Scene) -> None:
    golfer = Golfer(STYLES[style], scene.club)
    struck = golfer.at(0.0).club_head - golfer.ball
    assert np.linalg.norm(struck) < 0.03
    waiting = golfer.at(golfer.tempo.moment("address")).club_head - golfer.ball
    assert waiting[0] < 0
    assert np.linalg.norm(waiting) < 0.10


@pytest.mark.parametrize("style", sorted(STYLES))
def test_the_club_never_goes_underground(style: str) -> None:
    golfer = Golfer(STYLES[style], _IRON)
    assert min(float(golfer.at(t).club_head[2]) for t in _moments(1 / 240)) > -0.02


def _at(style: str, seconds: float) -> Body:
    return Golfer(STYLES[style], _IRON).at(seconds)


def test_standing_up_goes_to_the_ball_and_rises() -> None:
    up, down = _at("stands up", 0.0), _at("stays down", 0.0)
    assert up.pelvis[1] - down.pelvis[1] > 0.10
    assert up.head[2] - down.head[2] > 0.05


def test_swaying_leaves_the_ball_behind() -> None:
    away, centred = _at("sways", -0.24), _at("centred", -0.24)
    assert centred.pelvis[0] - away.pelvis[0] > 0.10


def test_an_arms_only_swing_hardly_turns() -> None:
    short, far = _at("arms only", -0.255), _at("turns far", -0.255)
    turned = [float(np.degrees(np.arctan2(b.across[1], b.across[0]))) for b in (short, far)]
    assert turned[1] - turned[0] > 30


def test_a_pitch_that_gives_up_is_longer_back_than_through() -> None:
    gives_up = STYLES["gives up"].tracks()["arm"]
    even = STYLES["even pitch"].tracks()["arm"]
    assert abs(gives_up.min()) > 2 * gives_up.max()
    assert abs(even.min()) == pytest.approx(even.max(), abs=10)


@pytest.mark.parametrize("view", [FACE_ON, DOWN_THE_LINE])
def test_a_left_hander_is_the_mirror(view: str) -> None:
    right, left = (Camera(view, (540, 960), mirrored=m) for m in (False, True))
    point = np.array([0.3, 0.6, 1.1])
    assert right.look(point)[0] + left.look(point)[0] == pytest.approx(540)
    assert right.look(point)[1:] == left.look(point)[1:]


@pytest.mark.parametrize("scene", _SCENES, ids=lambda scene: scene.place)
def test_the_same_moment_is_the_same_picture(scene: Scene) -> None:
    one, other = (SwingArtist(scene, (54, 96)).picture(0.05, 0.008) for _ in range(2))
    assert one.tobytes() == other.tobytes()
    assert one.size == (54, 96)
