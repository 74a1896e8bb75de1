"""Impact and flight for the invented shots: just enough physics to make the numbers agree.

Frame: x to the target, y up, z right. SI, degrees and rpm. Kept apart from ``recapgen.golf``
on purpose, so that the samples do not test the tool with its own formulas.
"""

import math
from dataclasses import dataclass

_GRAVITY = 9.80665
_AIR_DENSITY = 1.204
_BALL_MASS_KG = 0.04593
_BALL_RADIUS_M = 0.021335
_AREA_OVER_TWICE_MASS = math.pi * _BALL_RADIUS_M**2 / (2 * _BALL_MASS_KG)
_SPIN_PER_SPEED = 320.0  # rpm for each m/s of club speed and unit of sin(spin loft)
_SPIN_DECAY = 2.0e-5
_STEP_S = 0.01

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class ClubHead:
    """``side_share`` is how far the start line leans from path to face; mass in kg."""

    name: str
    side_share: float
    restitution: float
    mass_kg: float


@dataclass(frozen=True, slots=True)
class Delivery:
    """The club at the ball; ``strike`` is 1 for the middle of the face, less for a mishit."""

    head: ClubHead
    speed_mps: float
    attack_deg: float
    path_deg: float
    face_deg: float
    loft_deg: float  # dynamic
    strike: float


@dataclass(frozen=True, slots=True)
class Launch:
    ball_speed_mps: float
    angle_deg: float
    direction_deg: float
    spin_rpm: float
    tilt_deg: float  # spin axis, plus curves right


@dataclass(frozen=True, slots=True)
class Landing:
    carry_m: float
    side_m: float
    apex_m: float
    descent_deg: float


def launch(delivery: Delivery) -> Launch:
    """The ball just after impact, from the usual near-elastic collision formulas."""
    spin_loft = math.radians(delivery.loft_deg - delivery.attack_deg)
    face_to_path = delivery.face_deg - delivery.path_deg
    true_spin_loft = math.hypot(spin_loft, math.radians(face_to_path))
    hard = (1 + delivery.head.restitution) / (1 + _BALL_MASS_KG / delivery.head.mass_kg)
    smash = math.hypot(hard * math.cos(true_spin_loft), 2 / 7 * math.sin(true_spin_loft))
    up_share = 0.82 - 0.16 * true_spin_loft
    side = delivery.head.side_share
    return Launch(
        ball_speed_mps=delivery.speed_mps * smash * delivery.strike,
        angle_deg=up_share * delivery.loft_deg + (1 - up_share) * delivery.attack_deg,
        direction_deg=side * delivery.face_deg + (1 - side) * delivery.path_deg,
        spin_rpm=_SPIN_PER_SPEED * delivery.speed_mps * math.sin(true_spin_loft),
        tilt_deg=math.degrees(math.atan2(math.radians(face_to_path), spin_loft)),
    )


def fly(ball: Launch) -> Landing:
    """Where it comes down on level ground, in still air at sea level (midpoint rule)."""
    up, across = math.radians(ball.angle_deg), math.radians(ball.direction_deg)
    speed = ball.ball_speed_mps
    v: Vector = (
        speed * math.cos(up) * math.cos(across),
        speed * math.sin(up),
        speed * math.cos(up) * math.sin(across),
    )
    tilt = math.radians(ball.tilt_deg)
    axis: Vector = (
        -math.cos(tilt) * math.sin(across),
        -math.sin(tilt),
        math.cos(tilt) * math.cos(across),
    )
    place: Vector = (0.0, 0.0, 0.0)
    spin = ball.spin_rpm * math.tau / 60
    apex = 0.0
    while True:
        half = _moved(v, _pull(v, axis, spin), _STEP_S / 2)
        after = _moved(place, half, _STEP_S)
        if after[1] < 0 and v[1] < 0:
            break
        v = _moved(v, _pull(half, axis, spin), _STEP_S)
        spin *= 1 - _SPIN_DECAY * math.hypot(*v) / _BALL_RADIUS_M * _STEP_S
        place = after
        apex = max(apex, place[1])
    return Landing(place[0], place[2], apex, math.degrees(math.atan2(-v[1], v[0])))


def _pull(v: Vector, axis: Vector, spin_radps: float) -> Vector:
    """Acceleration by drag, lift and weight; coefficients by spin ratio."""
    speed = math.hypot(*v)
    ratio = min(1.5, spin_radps * _BALL_RADIUS_M / speed)
    drag = 0.187 + 0.237 * ratio**2 / (ratio**2 + 0.0859) + 0.0745 * ratio
    lift = 0.550 * ratio / (ratio + 0.328) + 0.0343 * (1 - math.exp(-50 * ratio))
    air = _AIR_DENSITY * _AREA_OVER_TWICE_MASS * speed
    cross = (
        axis[1] * v[2] - axis[2] * v[1],
        axis[2] * v[0] - axis[0] * v[2],
        axis[0] * v[1] - axis[1] * v[0],
    )
    return (
        air * (-drag * v[0] + lift * cross[0]),
        air * (-drag * v[1] + lift * cross[1]) - _GRAVITY,
        air * (-drag * v[2] + lift * cross[2]),
    )


def _moved(start: Vector, rate: Vector, seconds: float) -> Vector:
    return (
        start[0] + rate[0] * seconds,
        start[1] + rate[1] * seconds,
        start[2] + rate[2] * seconds,
    )
