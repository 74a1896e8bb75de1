"""The golfer as cut paper: discs joined into limbs, laid down from the farthest to the nearest."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw

from sample_making.camera import DOWN_THE_LINE, Camera
from sample_making.club_figure import club_layers
from sample_making.golfer import Body, Golfer
from sample_making.paper import Colour, Disc, Layer, Rgb, blob, shade
from sample_making.swing_poses import Floats

_UP = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True, slots=True)
class Outfit:
    shirt: Rgb
    trousers: Rgb
    cap: Rgb
    shoes: Rgb = (247, 244, 236)
    skin: Rgb = (222, 176, 142)
    hair: Rgb = (84, 62, 50)
    glove: Rgb = (250, 248, 242)
    long_sleeves: bool = False


def draw_golfer(
    picture: Image.Image, camera: Camera, golfer: Golfer, outfit: Outfit, moments: Sequence[float]
) -> None:
    """``moments`` are the instants of one exposure, the last one sharp; a fast club smears."""
    brush = ImageDraw.Draw(picture, "RGBA")
    bodies = [golfer.at(moment) for moment in moments]
    body = bodies[-1]
    _shadow(brush, camera, body)
    layers = [
        *_legs(camera, body, outfit),
        *_trunk(camera, body, outfit),
        *_arms(camera, body, outfit),
        _head(camera, body, outfit),
        *club_layers(camera, bodies, golfer.club),
    ]
    for _, lay_down in sorted(layers, key=lambda layer: -layer[0]):
        lay_down(brush)


def _shadow(brush: ImageDraw.ImageDraw, camera: Camera, body: Body) -> None:
    ground = np.array([body.pelvis[0] * 0.6, 0.06, 0.0])
    x, y, scale = camera.look(ground)
    wide, high = 0.46 * scale * camera.size, 0.060 * scale * camera.size
    brush.ellipse([x - wide, y - high, x + wide, y + high], fill=(30, 34, 24, 52))


def _limb(
    camera: Camera, ends: tuple[Floats, Floats], radii: tuple[float, float], colour: Colour
) -> Layer:
    discs = [camera.disc(end, radius) for end, radius in zip(ends, radii, strict=True)]
    depth = sum(camera.depth(end) for end in ends) / 2
    return depth, lambda brush: blob(brush, discs, colour)


def _legs(camera: Camera, body: Body, outfit: Outfit) -> list[Layer]:
    far = shade(outfit.trousers, 0.84)
    lead = far if camera.view == DOWN_THE_LINE else outfit.trousers
    trail = outfit.trousers if camera.view == DOWN_THE_LINE else shade(outfit.trousers, 0.93)
    layers: list[Layer] = []
    for hip, knee, ankle, heel, toe, colour in (
        (body.lead_hip, body.lead_knee, body.lead_ankle, body.lead_heel, body.lead_toe, lead),
        (body.trail_hip, body.trail_knee, body.trail_ankle, body.trail_heel, body.trail_toe, trail),
    ):
        shoe = shade(outfit.shoes, 0.88) if colour == far else outfit.shoes
        layers += [
            _shoe(camera, (heel, toe), shoe),
            _limb(camera, (knee, ankle + 0.02 * _UP), (0.062, 0.046), colour),
            _limb(camera, (hip, knee), (0.093, 0.063), colour),
        ]
    return layers


def _shoe(camera: Camera, ends: tuple[Floats, Floats], colour: Rgb) -> Layer:
    heel, toe = ends
    upper = [camera.disc(heel, 0.044), camera.disc(toe, 0.036)]
    sole = [camera.disc(heel - 0.014 * _UP, 0.044), camera.disc(toe - 0.012 * _UP, 0.036)]

    def lay_down(brush: ImageDraw.ImageDraw) -> None:
        blob(brush, sole, shade(colour, 0.76))
        blob(brush, upper, colour)

    return (camera.depth(heel) + camera.depth(toe)) / 2 + 0.05, lay_down


def _trunk(camera: Camera, body: Body, outfit: Outfit) -> list[Layer]:
    spine, across = body.spine, body.across
    waist = body.pelvis + 0.13 * spine
    seat = [
        camera.disc(body.lead_hip, 0.094),
        camera.disc(body.trail_hip, 0.094),
        camera.disc(waist, 0.112),
        camera.disc(body.pelvis - 0.05 * _UP, 0.095),
    ]
    hem = [camera.disc(waist + s * 0.045 * across + 0.005 * spine, 0.106) for s in (1, -1)]
    shirt = [
        camera.disc(body.lead_shoulder - 0.025 * across, 0.072),
        camera.disc(body.trail_shoulder + 0.025 * across, 0.072),
        camera.disc(body.pelvis + 0.36 * spine, 0.135),
        *(camera.disc(waist + s * 0.03 * across + 0.03 * spine, 0.108) for s in (1, -1)),
    ]
    neck = [
        camera.disc(body.neck + 0.02 * spine, 0.056),
        camera.disc(body.neck * 0.4 + body.head * 0.6, 0.052),
    ]
    collar = [camera.disc(body.neck + s * 0.03 * across + 0.012 * spine, 0.05) for s in (1, -1)]
    middle = camera.depth(body.pelvis + 0.3 * spine)

    def shirt_on(brush: ImageDraw.ImageDraw) -> None:
        blob(brush, neck, shade(outfit.skin, 0.90))
        blob(brush, hem, shade(outfit.shirt, 0.90))
        blob(brush, shirt, outfit.shirt)
        blob(brush, collar, shade(outfit.shirt, 0.90))

    return [
        (camera.depth(body.pelvis) - 0.02, lambda brush: blob(brush, seat, outfit.trousers)),
        (middle - 0.03, shirt_on),
    ]


def _arms(camera: Camera, body: Body, outfit: Outfit) -> list[Layer]:
    chest = camera.depth(body.pelvis + 0.3 * body.spine)
    layers: list[Layer] = []
    for shoulder, elbow, glove in (
        (body.lead_shoulder, body.lead_elbow, True),
        (body.trail_shoulder, body.trail_elbow, False),
    ):
        near = (camera.depth(shoulder) + camera.depth(elbow)) / 2 < chest
        layers += _arm(camera, body, outfit, (shoulder, elbow), near=near, glove=glove)
    return layers


def _arm(
    camera: Camera,
    body: Body,
    outfit: Outfit,
    bones: tuple[Floats, Floats],
    *,
    near: bool,
    glove: bool,
) -> list[Layer]:
    shoulder, elbow = bones
    tone = 0.93 if near else 0.82
    skin, cloth = shade(outfit.skin, tone + 0.05), shade(outfit.shirt, tone)
    sleeve_end = elbow if outfit.long_sleeves else shoulder + 0.62 * (elbow - shoulder)
    wrist = elbow + 0.88 * (body.hands - elbow)
    fist = body.hands + (0.02 if glove else 0.065) * body.shaft
    upper = [camera.disc(shoulder, 0.058), camera.disc(elbow, 0.043)]
    sleeve = [camera.disc(shoulder, 0.064), camera.disc(sleeve_end, 0.055)]
    fore = [camera.disc(elbow, 0.043), camera.disc(wrist, 0.032)]
    cuff = [camera.disc(elbow, 0.052), camera.disc(elbow + 0.8 * (wrist - elbow), 0.043)]
    hand = [camera.disc(wrist, 0.034), camera.disc(fist, 0.040)]
    hand_colour = outfit.glove if glove else skin

    def lay_down(brush: ImageDraw.ImageDraw) -> None:
        blob(brush, upper, skin)
        blob(brush, fore, skin)
        if outfit.long_sleeves:
            blob(brush, cuff, cloth)
        blob(brush, sleeve, cloth)

    depth = 0.5 * camera.depth(elbow) + 0.25 * (camera.depth(shoulder) + camera.depth(body.hands))
    held = camera.depth(body.hands) - (0.07 if glove else 0.08)
    return [
        (depth - 0.06, lay_down),
        (held, lambda brush: blob(brush, hand, hand_colour)),
    ]


def face_discs(camera: Camera, body: Body) -> tuple[list[Disc], list[Disc]]:
    """The skull's discs and the nose's, whichever way they look."""
    face, crown = _face_and_crown(body)
    at = body.head
    skull = [
        camera.disc(at + 0.005 * crown, 0.094),
        camera.disc(at - 0.03 * crown + 0.03 * face, 0.074),
    ]
    return skull, [camera.disc(at - 0.012 * crown + 0.085 * face, 0.020)]


def _face_and_crown(body: Body) -> tuple[Floats, Floats]:
    """Unit vectors: where the face looks, and up the head."""
    face = body.gaze * np.array([1.0, 1.0, 0.42])
    face = face / np.linalg.norm(face)
    crown = _UP - face * float(face @ _UP)
    return face, crown / np.linalg.norm(crown)


def _head(camera: Camera, body: Body, outfit: Outfit) -> Layer:
    face, crown = _face_and_crown(body)
    side = np.cross(face, crown)
    at = body.head
    skull, nose = face_discs(camera, body)
    hair = [
        camera.disc(at - 0.030 * face + 0.008 * crown, 0.092),
        camera.disc(at - 0.045 * face - 0.045 * crown, 0.058),
    ]
    cap = [
        camera.disc(at + 0.040 * crown + 0.014 * face, 0.090),
        camera.disc(at + 0.052 * crown - 0.022 * face, 0.086),
    ]
    brim = [
        camera.disc(at + 0.036 * crown + out * face + across * side, 0.013)
        for out, across in ((0.060, 0.070), (0.060, -0.070), (0.150, 0.042), (0.150, -0.042))
    ]
    ears = [(at + s * 0.088 * side - 0.014 * crown - 0.006 * face, s) for s in (1, -1)]
    turned_away = camera.depth(at + face) - camera.depth(at)

    def lay_down(brush: ImageDraw.ImageDraw) -> None:
        if turned_away > 0:
            blob(brush, brim, shade(outfit.cap, 0.90))
            blob(brush, nose, outfit.skin)
            blob(brush, skull, outfit.skin)
            blob(brush, hair, outfit.hair)
        else:
            blob(brush, hair, outfit.hair)
            blob(brush, skull, outfit.skin)
            blob(brush, nose, outfit.skin)
        for ear, s in ears:
            if camera.depth(at + s * side) < camera.depth(at) - 0.35 * camera.size:
                blob(brush, [camera.disc(ear, 0.020)], shade(outfit.skin, 0.88))
        blob(brush, cap, outfit.cap)
        if turned_away <= 0:
            blob(brush, brim, shade(outfit.cap, 0.90))

    return camera.depth(at) - 0.05, lay_down
