"""Every picture of an invented swing: scenery, golfer, ball; ``--sheet`` for a look at them."""

import argparse
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from sample_making.camera import DOWN_THE_LINE, FACE_ON, Camera
from sample_making.club_figure import exposure
from sample_making.figure import Outfit, draw_golfer, face_discs
from sample_making.golfer import Club, Golfer
from sample_making.scenery import paint
from sample_making.swing_poses import STYLES

FINER = 2  # supersampling
_BALL_RADIUS_M = 0.0214
_GRAVITY = 9.81


@dataclass(frozen=True, slots=True)
class Scene:
    """One golfer with one habit, seen from one side; ``start_mps`` is the ball's (x, z)."""

    style: str
    view: str
    club: Club
    outfit: Outfit
    place: str
    left_handed: bool = False
    size: float = 1.0
    start_mps: tuple[float, float] = (52.0, 12.0)
    screen_m: float | None = None  # indoors the ball ends there


def _seen_m(scene: Scene) -> float:
    """The phone goes nearer to a small golfer and a step back for a long club."""
    return 2.85 * (0.3 + 0.7 * scene.size) + (0.2 if scene.club.length_m > 1 else 0.0)


class SwingArtist:
    """Draws moments of one scene; the still parts are painted once."""

    def __init__(self, scene: Scene, pixels: tuple[int, int]) -> None:
        self._scene = scene
        self._pixels = pixels
        width, height = pixels
        self._camera = Camera(
            scene.view,
            (width * FINER, height * FINER),
            mirrored=scene.left_handed,
            size=scene.size,
            seen_m=_seen_m(scene),
            middle_m=0.98 * (0.5 + 0.5 * scene.size),
        )
        self._still = paint(scene.place, self._camera)
        self.golfer = Golfer(STYLES[scene.style], scene.club)

    def picture(self, moment: float, open_s: float) -> Image.Image:
        """At ``moment`` seconds from impact, the shutter open for ``open_s`` before it."""
        picture = self._still.copy()
        far_ball = moment > 0 and self._scene.view == DOWN_THE_LINE
        if far_ball:
            self._ball(picture, moment)
        instants = exposure(self._camera, self.golfer, moment, open_s)
        draw_golfer(picture, self._camera, self.golfer, self._scene.outfit, instants)
        if not far_ball:
            self._ball(picture, moment)
        return picture.reduce(FINER)

    def ball_place(self) -> tuple[float, float]:
        """Where the ball lies before it is struck, as shares of the picture."""
        x, y, _ = self._camera.look(self.golfer.ball)
        return x / self._camera.pixels[0], y / self._camera.pixels[1]

    def face_place(self, moment: float) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of skull and nose, as shares of the picture."""
        skull, nose = face_discs(self._camera, self.golfer.at(moment))
        (width, height), discs = self._camera.pixels, [*skull, *nose]
        return (
            min(x - radius for x, _, radius in discs) / width,
            min(y - radius for _, y, radius in discs) / height,
            max(x + radius for x, _, radius in discs) / width,
            max(y + radius for _, y, radius in discs) / height,
        )

    def _ball(self, picture: Image.Image, moment: float) -> None:
        brush = ImageDraw.Draw(picture, "RGBA")
        tee = self._scene.club.tee_m
        rest = self.golfer.ball
        if tee > 0:
            foot, top = rest.copy(), rest.copy()
            foot[2], top[2] = 0.0, rest[2] - 0.02
            x, y, scale = self._camera.look(foot)
            brush.line(
                [x, y, *self._camera.look(top)[:2]],
                fill=(214, 182, 132),
                width=max(3, round(0.008 * scale)),
            )
        flown = max(moment, 0.0)
        out, up = self._scene.start_mps
        at = rest + np.array([out * flown, 0.0, up * flown - _GRAVITY / 2 * flown**2])
        stopped = self._scene.screen_m is not None and float(at[0]) > self._scene.screen_m
        if stopped or self._camera.distance_m + self._camera.depth(at) < 0.5:
            return
        x, y, radius = self._camera.disc(at, _BALL_RADIUS_M / self._scene.size)
        radius = max(radius, 1.5 * FINER)
        if moment <= 0:
            brush.ellipse(
                [x - radius * 1.2, y + radius * 0.6, x + radius * 1.2, y + radius * 1.3],
                fill=(30, 34, 24, 60),
            )
        brush.ellipse([x - radius, y - radius, x + radius, y + radius], fill=(255, 254, 250, 255))


def frames(artist: SwingArtist, moments: tuple[float, ...], open_s: float) -> Iterator[Image.Image]:
    for moment in moments:
        yield artist.picture(moment, open_s)


def contact_sheet(artist: SwingArtist, moments: tuple[float, ...]) -> Image.Image:
    """All moments side by side, as the film would show them."""
    pictures = list(frames(artist, moments, 0.004))
    wide, high = pictures[0].size
    sheet = Image.new("RGB", (wide * len(pictures), high))
    for place, picture in enumerate(pictures):
        sheet.paste(picture, (wide * place, 0))
    return sheet


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("sheet", type=Path, help="the picture to write")
    parser.add_argument("--style", default="stays down", choices=sorted(STYLES))
    parser.add_argument("--view", default=FACE_ON, choices=[FACE_ON, DOWN_THE_LINE])
    parser.add_argument("--place", default="morning meadow")
    parser.add_argument(
        "--at", type=float, nargs="+", default=[-1.2, -0.4, -0.24, -0.05, 0, 0.1, 0.5]
    )
    chosen = parser.parse_args()
    scene = Scene(
        chosen.style,
        chosen.view,
        Club(0.80, 0.21, "iron"),
        Outfit((176, 84, 60), (62, 70, 82), (244, 240, 230)),
        chosen.place,
    )
    contact_sheet(SwingArtist(scene, (360, 640)), tuple(chosen.at)).save(chosen.sheet)


if __name__ == "__main__":
    main()
