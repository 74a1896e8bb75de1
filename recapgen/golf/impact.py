"""What the strike alone says: club head and face against the ball, in vectors.

The club's velocity c and the face's normal n span the D-plane; the ball starts between them
and spins about the axis perpendicular to both (Jorgensen, The Physics of Golf, 2nd ed. 1999).
All of it holds for strikes from the middle of the face; off it, gear effect adds to the spin
axis. Arrays are (n,) in degrees, plus is right or up; plain numbers do as well.
"""

from collections.abc import Mapping

import numpy as np
from msgspec import Struct

from recapgen.golf.air import Floats
from recapgen.golf.ball import MASS_KG, RAD_PER_S_PER_RPM, RADIUS_M
from recapgen.golf.clubs import Family
from recapgen.model.people import Hand

FACE_SHARE_DOUBT = 0.08
_FACE_SHARE: Mapping[Family, float] = {
    Family.DRIVER: 0.80,
    Family.WOOD: 0.80,
    Family.HYBRID: 0.79,
    Family.IRON: 0.79,
    Family.WEDGE: 0.74,
    Family.PUTTER: 0.80,
}
UNKNOWN_CLUB_SHARE = 0.79
ONE_DIRECTION = 1e-9

ARC_RADIUS_M = 1.6
ARC_RADIUS_DOUBT_M = 0.3
ARC_PLANE_DEG = 55.0
ARC_PLANE_DOUBT_DEG = 8.0
LEAN_DOUBT_DEG = 3.0
SPIN_DOUBT = 0.25  # from how the club met the ball
SPIN_FROM_LAUNCH_DOUBT = 0.30

# How the head bounces off the ball, and its mass over the ball's.
Bounce = tuple[float, float]
LIVELIEST_BOUNCE: Bounce = (0.86, 0.210 / MASS_KG)
SPEED_READING_DOUBT = 0.02  # readings, and a toe that is faster than the middle of the head
_BOUNCE: Mapping[Family, Bounce] = {
    Family.DRIVER: (0.80, 0.200 / MASS_KG),
    Family.WOOD: (0.80, 0.200 / MASS_KG),
    Family.WEDGE: (0.65, 0.300 / MASS_KG),
}
IRON_BOUNCE: Bounce = (0.76, 0.250 / MASS_KG)
# How steeply a club is usually swung, where only the ball was seen; plus is up.
_USUAL_ATTACK_DEG: Mapping[Family, float] = {
    Family.DRIVER: 2.0,
    Family.WOOD: -1.5,
    Family.WEDGE: -5.0,
}
USUAL_IRON_ATTACK_DEG = -3.5


class Delivery(Struct, frozen=True):
    """How the club meets the ball, at the spot that strikes."""

    attack_deg: Floats
    path_deg: Floats
    dynamic_loft_deg: Floats
    face_deg: Floats


class DPlane(Struct, frozen=True):
    """What a delivery does to the ball.

    ``spin_loft_deg`` is the true angle between c and n; the plain difference of loft and attack
    is never larger. ``axis_deg`` tilts about the launch direction.
    """

    face_to_path_deg: Floats
    spin_loft_deg: Floats
    axis_deg: Floats
    launch_angle_deg: Floats
    launch_direction_deg: Floats


class Estimate(Struct, frozen=True):
    """A value that other things confound, with how far off it may well be."""

    value: Floats
    doubt: Floats


def face_share(family: Family | None) -> float:
    """How far from the club's direction toward the face the ball starts, +-0.08.

    Along the arc between the two. Seen from above a lofted club's ball lies less far toward the
    face: a wedge's some .66 of the way from path to face where this is .74.
    From a ball that ends impact rolling (Daish 1972; Penner 2001); measured over clubs 61 to
    83% (Wood, Henrikson & Broadie, Proceedings 2 (2018) 249).
    """
    return _FACE_SHARE.get(family, UNKNOWN_CLUB_SHARE) if family else UNKNOWN_CLUB_SHARE


def d_plane(delivery: Delivery, share: Floats | float) -> DPlane:
    """``share`` from ``face_share``; the launch lies on the great circle from c to n.

    True spin loft: cos SL = c.n. Axis: w = c x n, tan tilt = -(w.u)/(w.r) about the launch l,
    with r level and to the right of l and u = r x l.
    """
    club = _unit(delivery.attack_deg, delivery.path_deg)
    face = _unit(delivery.dynamic_loft_deg, delivery.face_deg)
    spin_loft = np.arccos(np.clip((club * face).sum(axis=0), -1.0, 1.0))
    # The two weights tend to 1 - share and share as the two directions become one.
    sine = np.sin(spin_loft)
    apart = sine > ONE_DIRECTION
    sine = np.where(apart, sine, 1.0)
    to_face = np.where(apart, np.sin(share * spin_loft) / sine, share)
    to_club = np.where(apart, np.sin((1 - share) * spin_loft) / sine, 1 - share)
    x, y, z = launch = to_face * face + to_club * club
    level = np.hypot(x, z)
    right = np.array([-z / level, np.zeros_like(y), x / level])
    upright = np.cross(right, launch, axis=0)
    axis = np.cross(club, face, axis=0)
    tilt = np.arctan2(-(axis * upright).sum(axis=0), (axis * right).sum(axis=0))
    return DPlane(
        face_to_path_deg=np.asarray(delivery.face_deg - delivery.path_deg),
        spin_loft_deg=np.degrees(spin_loft),
        axis_deg=np.degrees(np.where(apart, tilt, 0.0)),
        launch_angle_deg=np.degrees(np.arctan2(y, level)),
        launch_direction_deg=np.degrees(np.arctan2(z, x)),
    )


def planar_spin_loft_deg(dynamic_loft_deg: Floats, attack_deg: Floats) -> Floats:
    """Loft less attack, as some devices call spin loft; the true one only where face is path."""
    return np.asarray(dynamic_loft_deg - attack_deg)


def _unit(elevation_deg: Floats, azimuth_deg: Floats) -> Floats:
    """Unit vectors (3, n), or (3,) of plain numbers."""
    up, heading = np.radians(elevation_deg), np.radians(azimuth_deg)
    return np.array(
        [np.cos(up) * np.cos(heading), np.sin(up) + 0 * heading, np.cos(up) * np.sin(heading)]
    )


def spin_loft_deg(attack_deg: Floats, dynamic_loft_deg: Floats, face_to_path_deg: Floats) -> Floats:
    """The true spin loft; only the difference of face and path matters to it."""
    club = _unit(attack_deg, np.zeros_like(face_to_path_deg))
    face = _unit(dynamic_loft_deg, face_to_path_deg)
    return np.asarray(np.degrees(np.arccos(np.clip((club * face).sum(axis=0), -1.0, 1.0))))


def smash_factor(ball_speed_mps: Floats, club_speed_mps: Floats) -> Floats:
    """Ball speed over the speed of the spot that strikes; NaN where the club stood still."""
    moving = np.where(np.asarray(club_speed_mps) > 0, club_speed_mps, np.nan)
    return np.asarray(ball_speed_mps / moving)


def smash_ceiling(loft_deg: Floats | float) -> Floats:
    """The most that a strike of this spin loft can give, allowing for the readings.

    sqrt[((1 + e) / (1 + m/M) cos SL)^2 + (2/7 sin SL)^2] of a slow, heavy, lively head.
    """
    return np.asarray((1 + SPEED_READING_DOUBT) * _smash(loft_deg, LIVELIEST_BOUNCE))


def _smash(loft_deg: Floats | float, bounce: Bounce) -> Floats:
    restitution, mass_ratio = bounce
    loft = np.radians(loft_deg)
    straight = (1 + restitution) / (1 + 1 / mass_ratio) * np.cos(loft)
    return np.hypot(straight, 2 / 7 * np.sin(loft))


def low_point(
    attack_deg: Floats,
    plane_deg: float = ARC_PLANE_DEG,
    radius_m: float = ARC_RADIUS_M,
    plane_doubt_deg: float = ARC_PLANE_DOUBT_DEG,
) -> Estimate:
    """Metres by which the lowest point of the arc lies ahead of the ball.

    d = -R sin A / sin(plane) of a circle on a tilted plane (near-planar impact arc: Coleman &
    Anderson 2007; Kwon et al., Sports Biomech. 11 (2012) 127).
    """
    plane = np.radians(plane_deg)
    ahead_m = np.asarray(-radius_m * np.sin(np.radians(attack_deg)) / np.sin(plane))
    doubt = np.hypot(ARC_RADIUS_DOUBT_M / radius_m, np.radians(plane_doubt_deg) / np.tan(plane))
    return Estimate(ahead_m, np.abs(ahead_m) * doubt)


def path_deg(
    swing_direction_deg: Floats, attack_deg: Floats, plane_deg: float, hand: Hand
) -> Floats:
    """The path of a head on its arc: hitting down turns it in-to-out.

    sin A = -sin(phi) sin(plane), h tan(P - direction) = tan(phi) cos(plane); NaN where no
    point of the arc is so steep.
    """
    plane, sign = np.radians(plane_deg), 1 if hand is Hand.RIGHT else -1
    sine = -np.sin(np.radians(attack_deg)) / np.sin(plane)
    phi = np.arcsin(np.where(np.abs(sine) <= 1, sine, np.nan))
    turned = np.degrees(np.arctan(np.tan(phi) * np.cos(plane)))
    return np.asarray(swing_direction_deg + sign * turned)


def shaft_lean_deg(dynamic_loft_deg: float, club_loft_deg: float) -> float:
    """Handle ahead of the head at impact: an estimate within ``LEAN_DOUBT_DEG``, for trends only.

    Static less dynamic loft. Shaft droop and flex, an open or closed face, lie, the height of
    the strike and a dynamic loft that was itself worked out all hide in it.
    """
    return club_loft_deg - dynamic_loft_deg


def spin_from_strike(club_speed_mps: Floats, loft_deg: Floats) -> Estimate:
    """Spin in rpm of a ball that ends impact rolling: w r = 5/7 V sin SL. +-25%."""
    surface_mps = 5 / 7 * club_speed_mps * np.sin(np.radians(loft_deg))
    rpm = np.asarray(surface_mps / (RADIUS_M * RAD_PER_S_PER_RPM))
    return Estimate(rpm, SPIN_DOUBT * rpm)


def spin_from_launch(
    ball_speed_mps: Floats, launch_angle_deg: Floats, family: Family | None
) -> Estimate:
    """Spin in rpm where only the ball was seen: the strike worked back from the launch. +-30%.

    Takes the family's usual attack; a wood or iron of no known family passes for an iron.
    """
    share, attack_deg = face_share(family), USUAL_IRON_ATTACK_DEG
    bounce = IRON_BOUNCE
    if family is not None:
        attack_deg = _USUAL_ATTACK_DEG.get(family, USUAL_IRON_ATTACK_DEG)
        bounce = _BOUNCE.get(family, IRON_BOUNCE)
    loft_deg = np.clip((np.asarray(launch_angle_deg) - attack_deg) / share, 0.0, 80.0)
    rpm = spin_from_strike(np.asarray(ball_speed_mps) / _smash(loft_deg, bounce), loft_deg).value
    return Estimate(rpm, SPIN_FROM_LAUNCH_DOUBT * rpm)
