"""Five quiet places to hit a ball, as layers of flat paper."""

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np
from PIL import Image, ImageDraw

from sample_making.camera import FACE_ON, Camera
from sample_making.paper import Rgb, between

Brush = ImageDraw.ImageDraw

_HORIZON = 0.545  # of the picture's height


def paint(place: str, camera: Camera) -> Image.Image:
    """The still picture behind and under the golfer, at the camera's size."""
    picture = Image.new("RGB", camera.pixels, (240, 236, 226))
    _PLACES[place](ImageDraw.Draw(picture), camera)
    return picture


def _sky(brush: Brush, camera: Camera, top: Rgb, low: Rgb) -> None:
    width, height = camera.pixels
    for y in range(round(height * _HORIZON) + 1):
        share = y / (height * _HORIZON)
        brush.line([0, y, width, y], fill=between(top, low, share))


def _ground(brush: Brush, camera: Camera, far: Rgb, near: Rgb) -> None:
    width, height = camera.pixels
    start = round(height * _HORIZON)
    for y in range(start, height):
        brush.line(
            [0, y, width, y], fill=between(far, near, ((y - start) / (height - start)) ** 0.7)
        )


def _hills(brush: Brush, camera: Camera, rise: float, colour: Rgb, phase: float) -> None:
    """A wavering edge that stands ``rise`` of the picture's height above the horizon."""
    width, height = camera.pixels
    base = height * _HORIZON
    edge = [
        (
            float(x),
            base
            - height
            * rise
            * (
                0.62
                + 0.25 * math.sin(x / width * 5.1 + phase)
                + 0.13 * math.sin(x / width * 11 + 2 * phase)
            ),
        )
        for x in range(0, width + 12, 12)
    ]
    brush.polygon([(0.0, base + 2), *edge, (float(width), base + 2)], fill=colour)


def _trees(brush: Brush, camera: Camera, colour: Rgb, seed: int, size: float = 1.0) -> None:
    width, height = camera.pixels
    base = height * _HORIZON
    rng = np.random.default_rng(seed)
    for _ in range(17):
        x = float(rng.uniform(-0.05, 1.05)) * width
        r = float(rng.uniform(0.018, 0.040)) * height * size
        tone = float(rng.uniform(0.94, 1.05))
        brush.ellipse(
            [x - r * 0.95, base - r * 1.45, x + r * 0.95, base + r * 0.5],
            fill=between((0, 0, 0), colour, min(tone, 1.0)) if tone < 1 else colour,
        )
    brush.rectangle(
        [0, base - 0.006 * height, width, base + 2], fill=between((0, 0, 0), colour, 0.95)
    )


def _floor_shape(
    brush: Brush, camera: Camera, corners: tuple[float, float, float, float], colour: Rgb
) -> None:
    """A rectangle on the ground: x from, y from, x to, y to, in the golfer's frame."""
    nearest = 0.75 * camera.distance_m / camera.size  # the rest is behind the lens
    x0, y0, x1, y1 = corners
    x0, y1 = (x0, min(y1, nearest)) if camera.view == FACE_ON else (max(x0, -nearest), y1)
    spots = [
        camera.look(np.array([x, y, 0.0]))[:2] for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    ]
    brush.polygon(spots, fill=colour)


def _mat(brush: Brush, camera: Camera, rim: Rgb, top: Rgb) -> None:
    _floor_shape(brush, camera, (-0.80, -0.44, 0.80, 1.18), rim)
    _floor_shape(brush, camera, (-0.75, -0.39, 0.75, 1.13), top)


def _flag(brush: Brush, camera: Camera, colour: Rgb, place: float) -> None:
    if camera.view == FACE_ON:
        return
    width, height = camera.pixels
    x, base = width * (1 - place if camera.mirrored else place), height * (_HORIZON + 0.008)
    tall = 0.055 * height
    brush.line([x, base - tall, x, base], fill=(250, 247, 240), width=max(2, width // 260))
    brush.polygon(
        [(x, base - tall), (x + 0.55 * tall, base - 0.83 * tall), (x, base - 0.66 * tall)],
        fill=colour,
    )


def _morning_meadow(brush: Brush, camera: Camera) -> None:
    _sky(brush, camera, (206, 221, 226), (244, 238, 222))
    _hills(brush, camera, 0.085, (196, 207, 196), 0.4)
    _hills(brush, camera, 0.045, (170, 189, 162), 2.1)
    _trees(brush, camera, (134, 160, 128), 4)
    _ground(brush, camera, (174, 193, 138), (128, 158, 104))
    _floor_shape(brush, camera, (-2.6, -6.0, 2.6, 6.0), (140, 170, 112))
    _flag(brush, camera, (192, 82, 56), 0.66)


def _indoor_bay(brush: Brush, camera: Camera) -> None:
    width, height = camera.pixels
    base = round(height * _HORIZON)
    for y in range(base + 1):
        brush.line([0, y, width, y], fill=between((224, 216, 204), (212, 202, 188), y / base))
    brush.rectangle([0, base - round(0.17 * height), width, base], fill=(186, 170, 150))
    brush.rectangle(
        [0, base - round(0.175 * height), width, base - round(0.168 * height)], fill=(160, 143, 122)
    )
    for k in range(9):
        x = width * k / 8
        brush.line([x, base - 0.168 * height, x, base], fill=(176, 159, 138), width=3)
    if camera.view != FACE_ON:
        brush.rectangle(
            [width * 0.10, height * 0.11, width * 0.90, base - 0.035 * height], fill=(238, 233, 223)
        )
        brush.rectangle(
            [width * 0.10, height * 0.085, width * 0.90, height * 0.11], fill=(120, 106, 90)
        )
    else:
        x, r = width * 0.82, 0.030 * height
        brush.line([x, 0, x, 0.10 * height], fill=(120, 106, 90), width=4)
        brush.pieslice(
            [x - r, 0.10 * height - r * 0.2, x + r, 0.10 * height + r * 1.8],
            180,
            360,
            fill=(150, 92, 60),
        )
    _ground(brush, camera, (150, 134, 114), (128, 112, 94))
    _mat(brush, camera, (78, 92, 88), (96, 116, 108))


def _winter_green(brush: Brush, camera: Camera) -> None:
    _sky(brush, camera, (222, 228, 232), (242, 240, 234))
    _hills(brush, camera, 0.060, (208, 214, 212), 1.3)
    _trees(brush, camera, (170, 180, 168), 9, 0.8)
    width, height = camera.pixels
    base = height * _HORIZON
    brush.rectangle([0, base - 0.030 * height, width, base + 2], fill=(126, 146, 118))
    _ground(brush, camera, (178, 196, 152), (142, 170, 120))
    _floor_shape(brush, camera, (-2.6, -6.0, 2.6, 6.0), (152, 179, 128))
    if camera.view != FACE_ON:
        for place, colour in (
            (0.60, (206, 150, 62)),
            (0.74, (96, 128, 160)),
            (0.86, (190, 88, 66)),
        ):
            x = width * (1 - place if camera.mirrored else place)
            y, r = base + 0.020 * height, 0.011 * height
            brush.polygon(
                [(x - r, y - r), (x + r, y - r), (x + 0.7 * r, y + r), (x - 0.7 * r, y + r)],
                fill=colour,
            )


def _coast(brush: Brush, camera: Camera) -> None:
    _sky(brush, camera, (198, 212, 222), (236, 234, 226))
    width, height = camera.pixels
    base = height * _HORIZON
    brush.rectangle([0, base - 0.055 * height, width, base + 2], fill=(142, 170, 182))
    brush.rectangle([0, base - 0.020 * height, width, base + 2], fill=(156, 182, 190))
    x, y = width * 0.24, base - 0.056 * height
    brush.polygon(
        [(x, y - 0.05 * height), (x, y - 0.004 * height), (x + 0.035 * height, y - 0.008 * height)],
        fill=(246, 242, 232),
    )
    brush.polygon(
        [
            (x - 0.018 * height, y),
            (x + 0.028 * height, y),
            (x + 0.02 * height, y + 0.008 * height),
            (x - 0.012 * height, y + 0.008 * height),
        ],
        fill=(120, 92, 76),
    )
    _ground(brush, camera, (196, 196, 148), (162, 172, 120))
    _mat(brush, camera, (70, 96, 78), (92, 124, 98))
    _flag(brush, camera, (176, 72, 60), 0.70)


def _evening_field(brush: Brush, camera: Camera) -> None:
    _sky(brush, camera, (176, 184, 206), (250, 214, 176))
    width, height = camera.pixels
    base = height * _HORIZON
    r = 0.036 * height
    x = width * 0.80
    brush.ellipse(
        [x - r, base - 0.13 * height - r, x + r, base - 0.13 * height + r], fill=(254, 236, 204)
    )
    _hills(brush, camera, 0.080, (196, 170, 168), 3.0)
    _hills(brush, camera, 0.040, (150, 142, 136), 0.9)
    _trees(brush, camera, (112, 120, 104), 15, 0.8)
    _ground(brush, camera, (158, 164, 112), (112, 132, 88))
    _floor_shape(brush, camera, (-2.6, -6.0, 2.6, 6.0), (128, 148, 98))
    _flag(brush, camera, (226, 110, 66), 0.64)


_PLACES: Mapping[str, Callable[[Brush, Camera], None]] = MappingProxyType(
    {
        "morning meadow": _morning_meadow,
        "indoor bay": _indoor_bay,
        "winter green": _winter_green,
        "coast": _coast,
        "evening field": _evening_field,
    }
)
