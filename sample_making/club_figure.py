"""The club: a grip in the hands, a shaft that smears while it is fast, a head."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from PIL import ImageDraw

from sample_making.camera import Camera
from sample_making.golfer import Body, Club, Golfer
from sample_making.paper import Colour, Layer, blob
from sample_making.swing_poses import Floats

_SWING_WAY = np.array([1.0, 0.0, 0.0])
_OUT_AND_UP = np.array([0.0, 1.0, 0.35])
_LIE_DEG = 58.0
_BLUR_STEP_PX = 9.0
_GRIP = (-0.11, 0.15)  # metres along the shaft from the middle of the hands


def exposure(camera: Camera, golfer: Golfer, moment: float, open_s: float) -> tuple[float, ...]:
    """Enough instants of one open shutter that the fan of the club has no gaps."""
    ends = [camera.look(golfer.at(t).club_head) for t in (moment - open_s, moment)]
    travel = math.hypot(ends[0][0] - ends[1][0], ends[0][1] - ends[1][1])
    steps = min(max(round(travel / _BLUR_STEP_PX), 1), 16)
    return tuple(moment - open_s * (1 - k / steps) for k in range(1, steps + 1))


def club_layers(camera: Camera, bodies: Sequence[Body], club: Club) -> list[Layer]:
    """``bodies`` at the instants of one exposure; the last stays the clearest."""
    now = bodies[-1]
    blurred = len(bodies) > 1

    def grip(brush: ImageDraw.ImageDraw) -> None:
        ends = [camera.look(now.hands + along * now.shaft) for along in _GRIP]
        width = max(4, round(0.026 * camera.size * ends[0][2]))
        brush.line([*ends[0][:2], *ends[1][:2]], fill=(46, 45, 48, 255), width=width)

    def shaft_and_head(brush: ImageDraw.ImageDraw) -> None:
        if blurred:
            _fan(brush, camera, bodies)
            for body in bodies[:-1]:
                _head(brush, camera, body, club, round(230 / len(bodies)))
        top = camera.look(now.hands + _GRIP[1] * now.shaft)
        end = camera.look(now.club_head)
        width = max(3, round(0.012 * camera.size * top[2]))
        steel: Colour = (88, 94, 102, 150 if blurred else 255)
        brush.line([*top[:2], *end[:2]], fill=steel, width=width)
        _head(brush, camera, now, club, 200 if blurred else 255)

    middle = now.hands + 0.45 * club.length_m * now.shaft
    return [
        (camera.depth(now.hands) - 0.03, grip),
        (camera.depth(middle) - 0.02, shaft_and_head),
    ]


def _fan(brush: ImageDraw.ImageDraw, camera: Camera, bodies: Sequence[Body]) -> None:
    steps = [
        (camera.look(b.hands + _GRIP[1] * b.shaft)[:2], camera.look(b.club_head)[:2])
        for b in bodies
    ]
    for (grip, head), (next_grip, next_head) in pairwise(steps):
        brush.polygon([grip, head, next_head, next_grip], fill=(70, 74, 80, 38))


def _head(brush: ImageDraw.ImageDraw, camera: Camera, body: Body, club: Club, alpha: int) -> None:
    toe = _toe_way(body.shaft)
    at = body.club_head
    if club.head == "wood":
        discs = [camera.disc(at - 0.030 * toe, 0.026), camera.disc(at + 0.028 * toe, 0.034)]
        blob(brush, discs, (54, 57, 66, alpha))
    else:
        discs = [camera.disc(at - 0.034 * toe, 0.013), camera.disc(at + 0.028 * toe, 0.022)]
        blob(brush, discs, (104, 110, 118, alpha))


def _toe_way(shaft: Floats) -> Floats:
    """From heel to toe: level when the club stands at its lie."""
    square = np.cross(shaft, _SWING_WAY)
    length = float(np.linalg.norm(square))
    if length < 0.05:
        square = np.array([0.0, 1.0, 0.0])
    elif float(square @ _OUT_AND_UP) < 0:
        square = -square / length
    else:
        square = square / length
    lie = math.radians(_LIE_DEG)
    toe: Floats = math.cos(lie) * shaft + math.sin(lie) * square
    return toe
