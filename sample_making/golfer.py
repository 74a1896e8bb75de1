"""From tracks to a body: joints, feet, head and club at any moment of a swing."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sample_making.swing_poses import Floats, SwingStyle, Tempo

_X = np.array([1.0, 0.0, 0.0])
_Y = np.array([0.0, 1.0, 0.0])
_Z = np.array([0.0, 0.0, 1.0])

_SPINE = 0.50
_HALF_SHOULDERS = 0.175
_HALF_HIPS = 0.105
_UPPER_ARM, _FOREARM = 0.325, 0.315  # to the middle of the grip
_THIGH, _SHIN = 0.44, 0.42
_ANKLE_Z = 0.085
_SOFT_M = 0.010  # of a leg that is nearly straight
_SOLE_Z = 0.03
_STRIKE_Z = 0.03  # of the middle of the club head on the ground
_BALL_X = (-0.02, 0.11)  # where a ball is put, from the middle of the stance
_ADDRESS_GAP_M = 0.045  # the club waits a little behind the ball


@dataclass(frozen=True, slots=True)
class Club:
    """``length_m`` from the middle of the grip to the head; ``half_stance_m`` to each ankle."""

    length_m: float
    half_stance_m: float
    head: str  # "wood" or "iron"
    tee_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Body:
    """One moment; every point is (3,)."""

    lead_shoulder: Floats
    trail_shoulder: Floats
    lead_elbow: Floats
    trail_elbow: Floats
    hands: Floats
    lead_hip: Floats
    trail_hip: Floats
    lead_knee: Floats
    trail_knee: Floats
    lead_ankle: Floats
    trail_ankle: Floats
    lead_heel: Floats
    lead_toe: Floats
    trail_heel: Floats
    trail_toe: Floats
    pelvis: Floats
    neck: Floats
    spine: Floats  # unit
    across: Floats  # unit, trail to lead shoulder
    head: Floats
    gaze: Floats  # unit
    shaft: Floats  # unit, grip to head
    club_head: Floats


class Golfer:
    """``at(seconds from impact)``; the club meets the ball at 0."""

    def __init__(self, style: SwingStyle, club: Club) -> None:
        self.tempo = Tempo(style)
        self.club = club
        self._lie_deg = (0.0, 0.0)
        start = self.tempo.moment("address")
        self._lie_deg = (self._lie_at(start), self._lie_at(0.0))
        free = self._posed(0.0, np.zeros(3)).club_head
        place = min(max(float(free[0]), _BALL_X[0]), _BALL_X[1])
        self.ball = np.array([place, float(free[1]), 0.022 + club.tee_m])
        self._to_ball = self.ball - free + 0.008 * _Z
        behind = self.ball - _ADDRESS_GAP_M * _X
        behind[2] = _STRIKE_Z
        self._to_address = behind - self._posed(start, np.zeros(3)).club_head

    def _lie_at(self, seconds: float) -> float:
        """Degrees to add to the club's plane so that its head just meets the ground."""
        height = float(self._posed(seconds, np.zeros(3)).hands[2]) - _STRIKE_Z
        shaft_in_plane = math.cos(math.radians(self.tempo.at(seconds)["club"]))
        lean = math.asin(min(height / self.club.length_m / shaft_in_plane, 1.0))
        return math.degrees(lean) - self.tempo.at(seconds)["club_plane"]

    def _waiting(self, seconds: float) -> float:
        """1 at address, falling softly to 0 in the takeaway."""
        leaving = min(max((seconds - self.tempo.moment("start")) / 0.30, 0.0), 1.0)
        return 1 - leaving * leaving * (3 - 2 * leaving)

    def at(self, seconds: float) -> Body:
        """The pose, with the hands nudged so that the head finds the ball and its own place."""
        still = self._waiting(seconds)
        striking = math.exp(-((seconds / 0.07) ** 2))
        breath = 0.001 * math.sin(seconds * 4.2) * _Z
        return self._posed(seconds, still * (self._to_address + breath) + striking * self._to_ball)

    def _posed(self, seconds: float, nudge: Floats) -> Body:
        pose = self.tempo.at(seconds)
        feet = _feet(pose["heel"], self.club.half_stance_m)
        hip_line = _turned(_X, _Z, -pose["hips"])
        pelvis = _on_its_legs(
            np.array([pose["hips_x"], pose["hips_y"], pose["hips_z"]]),
            hip_line,
            (feet["lead_ankle"], feet["trail_ankle"]),
        )
        spine = _tilted(pose["bend"], pose["side"])
        neck = pelvis + _SPINE * spine
        across = _turned(_unit(_X - spine * spine[0]), spine, -pose["chest"])
        lead_shoulder = neck + _HALF_SHOULDERS * across - 0.03 * spine
        trail_shoulder = neck - _HALF_SHOULDERS * across - 0.03 * spine
        hands = lead_shoulder + pose["reach"] * _swung(pose["arm"], pose["arm_plane"]) + nudge
        hands = _within_reach(hands, (lead_shoulder, trail_shoulder))
        at_address, at_ball = self._lie_deg
        lie = at_ball + self._waiting(seconds) * (at_address - at_ball)
        shaft = _swung(pose["club"], pose["club_plane"] + lie)
        facing = np.cross(_Z, across)
        folding = min(max((pose["chest"] - 40) / 50, 0.0), 1.0)  # of the lead arm, past the ball
        lead_hip, trail_hip = pelvis + _HALF_HIPS * hip_line, pelvis - _HALF_HIPS * hip_line
        trail_out = min(max(pose["hips"], 0.0) / 90, 1.0)
        return Body(
            lead_shoulder=lead_shoulder,
            trail_shoulder=trail_shoulder,
            lead_elbow=_bent(
                lead_shoulder,
                hands,
                (_UPPER_ARM, _FOREARM),
                (0.6 - 0.4 * folding) * across - _Z + (0.35 + 0.75 * folding) * facing,
            ),
            trail_elbow=_bent(
                trail_shoulder,
                hands,
                (_UPPER_ARM, _FOREARM),
                -0.3 * across - _Z + (0.5 * folding - 0.05) * facing,
            ),
            hands=hands,
            lead_hip=lead_hip,
            trail_hip=trail_hip,
            lead_knee=_bent(lead_hip, feet["lead_ankle"], (_THIGH, _SHIN), _Y + 0.15 * _X),
            trail_knee=_bent(
                trail_hip, feet["trail_ankle"], (_THIGH, _SHIN), _Y + (1.1 * trail_out - 0.15) * _X
            ),
            pelvis=pelvis,
            neck=neck,
            spine=spine,
            across=across,
            head=neck + 0.07 * spine + 0.155 * _unit(_Z + 0.55 * spine) + 0.02 * _Y,
            gaze=_gaze(pose["look"]),
            shaft=shaft,
            club_head=hands + self.club.length_m * shaft,
            **feet,
        )


def _on_its_legs(pelvis: Floats, hip_line: Floats, ankles: tuple[Floats, Floats]) -> Floats:
    """Let down until both legs are long enough, softly, so that no knee snaps straight."""
    for side, ankle in zip((1, -1), ankles, strict=True):
        out = pelvis[:2] + side * _HALF_HIPS * hip_line[:2] - ankle[:2]
        highest = float(ankle[2]) + math.sqrt((_THIGH + _SHIN) ** 2 - float(out @ out)) - 0.004
        over = (float(pelvis[2]) - highest) / _SOFT_M
        pelvis = pelvis - _SOFT_M * math.log1p(math.exp(over)) * _Z
    return pelvis


def _feet(heel_up: float, half_stance: float) -> Mapping[str, Floats]:
    """The lead foot stands; the trail foot rolls up onto its toe."""
    lead = np.array([half_stance, 0.0, _ANKLE_Z])
    trail = np.array([-half_stance, 0.0, _ANKLE_Z])
    lifted = trail + heel_up * np.array([0.42, 0.30, 0.85])
    flare = _turned(_Y, _Z, -20)
    roll = min(heel_up / 0.17, 1.0)
    toe_way = _turned(_Y, _Z, 8 - 48 * roll)
    toe = trail + 0.165 * _turned(_Y, _Z, 8 - 20 * roll)
    toe[2] = _SOLE_Z + 0.01
    heel = lifted - 0.065 * toe_way
    heel[2] = lifted[2] - 0.045 + 0.02 * roll
    return {
        "lead_ankle": lead,
        "trail_ankle": lifted,
        "lead_heel": np.array([lead[0], lead[1], 0.04]) - 0.06 * flare,
        "lead_toe": np.array([lead[0], lead[1], 0.04]) + 0.17 * flare,
        "trail_heel": heel,
        "trail_toe": toe,
    }


def _tilted(bend: float, side: float) -> Floats:
    """Up, bent forward to the ball and sideways away from the target."""
    forward, away = math.radians(bend), math.radians(side)
    return np.array(
        [-math.sin(away), math.sin(forward) * math.cos(away), math.cos(forward) * math.cos(away)]
    )


def _swung(angle: float, plane: float) -> Floats:
    """A lever at ``angle`` in the plane that leans ``plane`` degrees below the level."""
    turn, lean = math.radians(angle), math.radians(plane)
    down = np.array([0.0, math.cos(lean), -math.sin(lean)])
    return math.sin(turn) * _X + math.cos(turn) * down


def _gaze(look: float) -> Floats:
    """At the ball, then up and round to the target (``look`` 90)."""
    seen = max(look, 0.0) / 90
    return _turned(_unit(_Y - (1.0 - 0.95 * seen) * _Z), _Z, -look)


def _turned(vector: Floats, axis: Floats, degrees: float) -> Floats:
    angle = math.radians(degrees)
    along = axis * float(vector @ axis)
    turned: Floats = (
        along + (vector - along) * math.cos(angle) + np.cross(axis, vector) * math.sin(angle)
    )
    return turned


def _unit(vector: Floats) -> Floats:
    length = float(np.linalg.norm(vector))
    return vector / length


def _within_reach(hands: Floats, shoulders: tuple[Floats, Floats]) -> Floats:
    """Pulled in until both arms are long enough; a few rounds settle it."""
    longest = (_UPPER_ARM + _FOREARM) * 0.995
    for _ in range(4):
        for shoulder in shoulders:
            away = hands - shoulder
            far = float(np.linalg.norm(away))
            if far > longest:
                hands = shoulder + away * (longest / far)
    return hands


def _bent(root: Floats, tip: Floats, bones: tuple[float, float], towards: Floats) -> Floats:
    """The joint between two bones that reach from ``root`` to ``tip``."""
    upper, lower = bones
    span = tip - root
    length = min(float(np.linalg.norm(span)), (upper + lower) * 0.9995)
    way = _unit(span)
    along = (upper**2 - lower**2 + length**2) / (2 * length)
    out = math.sqrt(max(upper**2 - along**2, 0.0))
    bow = _unit(towards - way * float(towards @ way))
    joint: Floats = root + along * way + out * bow
    return joint
