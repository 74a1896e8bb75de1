"""In which form each lesson's shots lie in its folder: no two alike, all of them understandable."""

from collections.abc import Mapping
from dataclasses import replace

from tests.samples.shot_tables import FOOT, KMH, MPH, YARD, Amount, TableFile, Words

_SHOT = Words("Shot", lambda shot: str(shot.number))
_CLUB = Words("Club", lambda shot: shot.club)
_CLOCK = Words("Time", lambda shot: f"{shot.time:%H:%M:%S}")
_STAMP = Words("Time", lambda shot: f"{shot.time:%Y-%m-%d %H:%M:%S}")
_STRIKE = Words("Strike", lambda shot: shot.tag)
_SPEED = Amount("Club Speed", lambda s: s.delivery.speed_mps)
_BALL = Amount("Ball Speed", lambda s: s.launch.ball_speed_mps)
_SMASH = Amount("Smash Factor", lambda s: s.launch.ball_speed_mps / s.delivery.speed_mps, places=2)
_ATTACK = Amount("Attack Angle", lambda s: s.delivery.attack_deg, unit="deg")
_PATH = Amount("Club Path", lambda s: s.delivery.path_deg, unit="deg")
_FACE = Amount("Face Angle", lambda s: s.delivery.face_deg, unit="deg")
_LOFT = Amount("Dynamic Loft", lambda s: s.delivery.loft_deg, unit="deg")
_ANGLE = Amount("Launch Angle", lambda s: s.launch.angle_deg, unit="deg")
_DIRECTION = Amount("Launch Direction", lambda s: s.launch.direction_deg, unit="deg")
_SPIN = Amount("Spin Rate", lambda s: s.launch.spin_rpm, places=0, unit="rpm")
_TILT = Amount("Spin Axis", lambda s: s.launch.tilt_deg, unit="deg")
_CARRY = Amount("Carry", lambda s: s.landing.carry_m, unit="m")
_SIDE = Amount("Carry Side", lambda s: s.landing.side_m, unit="m")
_APEX = Amount("Apex", lambda s: s.landing.apex_m, unit="m")


def _in(column: Amount, heading: str, per_unit: float = 1.0, unit: str = "") -> Amount:
    return replace(column, heading=heading, per_unit=per_unit, unit=unit)


def _phase(heading: str, said: Mapping[str, str]) -> Words:
    return Words(heading, lambda shot: said[shot.block])


def _sided(column: Amount, sides: str) -> Amount:
    return replace(column, sides=sides)


def _remark(remarks: Mapping[int, str]) -> Words:
    return Words("Remarks", lambda shot: remarks.get(shot.number, ""))


_MIRA_FIRST = TableFile(
    "range session.csv",
    columns=(
        _SHOT,
        _CLOCK,
        _CLUB,
        _in(_SPEED, "Club Speed", MPH, "mph"),
        _in(_BALL, "Ball Speed", MPH, "mph"),
        _SMASH,
        _ATTACK,
        _sided(_PATH, "suffix"),
        _sided(_FACE, "suffix"),
        _ANGLE,
        _sided(_DIRECTION, "suffix"),
        _SPIN,
        _CARRY,
        _sided(_SIDE, "suffix"),
        _STRIKE,
        _remark({8: "starts right, stays right", 29: "easy, and straight", 35: "held the stool"}),
    ),
    encoding="utf-8-sig",
    title="Session of 23 January 2027, bay 4",
    units_row=True,
    average=True,
    missing=frozenset({(30, "Club Path"), (30, "Face Angle"), (18, "Spin Rate")}),
)

_MIRA_SECOND = tuple(
    TableFile(
        name,
        columns=(
            _STAMP,
            _CLUB,
            _in(_SPEED, "Club Speed (mph)", MPH),
            _in(_BALL, "Ball Speed (mph)", MPH),
            _in(_PATH, "Club Path (deg)"),
            _in(_FACE, "Face Angle (deg)"),
            _in(_ATTACK, "Attack Angle (deg)"),
            _in(_ANGLE, "Launch Angle (deg)"),
            _in(_CARRY, "Carry (m)"),
            _in(_SIDE, "Carry Side (m)"),
        ),
        newline="\r\n",
    )
    for name in ("part one.csv", "part two.csv")
)

_JONAS_FIRST = TableFile(
    "bay 2.csv",
    columns=(
        _SHOT,
        _phase("Block", {"before": "before", "drill": "drill", "after": "after"}),
        _CLUB,
        _in(_SPEED, "Club Speed [km/h]", KMH),
        _in(_BALL, "Ball Speed [km/h]", KMH),
        _in(_ATTACK, "Attack Angle [deg]"),
        _sided(_in(_PATH, "Club Path [deg]"), "prefix"),
        _in(_LOFT, "Dynamic Loft [deg]"),
        _in(_ANGLE, "Launch Angle [deg]"),
        _in(_SPIN, "Spin Rate [rpm]"),
        _in(_CARRY, "Carry [m]"),
        _sided(_in(_SIDE, "Carry Side [m]"), "prefix"),
    ),
    delimiter=";",
    decimal=",",
    missing=frozenset({(7, "Spin Rate [rpm]")}),
)

_JONAS_SECOND = replace(
    _JONAS_FIRST,
    name="2027-03-06 lawn.csv",
    columns=(
        _SHOT,
        _phase("Phase", {"warm-up": "warm-up", "before": "then", "after": "now"}),
        *_JONAS_FIRST.columns[2:],
    ),
    newline="\r\n",
    encoding="utf-8-sig",
    missing=frozenset({(22, "Attack Angle [deg]")}),
)

_JONAS_THIRD = TableFile(
    "eight iron.csv",
    columns=(
        _SHOT,
        _phase("Phase", {"before": "pre", "after": "post"}),
        _in(_SPEED, "Club Speed (km/h)", KMH),
        _in(_ATTACK, "Attack Angle (deg)"),
        _in(_ANGLE, "Launch Angle (deg)"),
        _in(_SPIN, "Spin Rate (rpm)"),
        _in(_CARRY, "Carry (m)"),
        _in(_SIDE, "Carry Side (m)"),
    ),
)

_JONAS_FOURTH = TableFile(
    "before breakfast.csv",
    columns=(
        _SHOT,
        _STAMP,
        _phase("Phase", {"before": "pre", "drill": "drill", "after": "post"}),
        _CLUB,
        _in(_SPEED, "Club Speed (km/h)", KMH),
        _in(_BALL, "Ball Speed (km/h)", KMH),
        _in(_ANGLE, "Launch Angle (deg)"),
        _in(_SPIN, "Spin Rate (rpm)"),
        _in(_CARRY, "Carry (m)"),
        _in(_SIDE, "Carry Side (m)"),
    ),
)

_PIA_FIRST = TableFile(
    "pitches.csv",
    columns=(
        _SHOT,
        _CLOCK,
        _CLUB,
        _in(_SPEED, "Club Speed (m/s)"),
        _in(_BALL, "Ball Speed (m/s)"),
        _in(_ANGLE, "Launch Angle (deg)"),
        _in(_SPIN, "Spin Rate (rpm)"),
        _in(_CARRY, "Carry (m)"),
        _in(_SIDE, "Carry Side (m)"),
        _STRIKE,
    ),
)

_PIA_SECOND = TableFile(
    "nine irons.csv",
    columns=(
        _phase("Phase", {"before": "before", "after": "after"}),
        _CLUB,
        _in(_SPEED, "Club Speed (m/s)"),
        _in(_BALL, "Ball Speed (m/s)"),
        _SMASH,
        _in(_ANGLE, "Launch Angle (deg)"),
        _in(_CARRY, "Carry (m)"),
    ),
    delimiter="\t",
    encoding="utf-16",
    newline="\r\n",
)

_PIA_THIRD = replace(
    _PIA_FIRST,
    name="pitches again.csv",
    columns=tuple(c for c in _PIA_FIRST.columns if c not in (_CLOCK, _STRIKE)),
    delimiter=";",
)

_GUNNAR_FIRST = TableFile(
    "hybrid.csv",
    columns=(
        _SHOT,
        _phase(
            "Phase",
            {"warm-up": "warm up", "before": "before", "drill": "drill", "after": "after"},
        ),
        _CLUB,
        replace(_in(_SPEED, "Club Speed (km/h)", KMH), group="Club"),
        replace(_in(_ATTACK, "Attack Angle (deg)"), group="Club"),
        replace(_sided(_in(_PATH, "Club Path (deg)"), "suffix"), group="Club"),
        replace(_in(_BALL, "Ball Speed (km/h)", KMH), group="Ball"),
        replace(_in(_ANGLE, "Launch Angle (deg)"), group="Ball"),
        replace(_in(_SPIN, "Spin Rate (rpm)"), group="Ball", thousands=True),
        replace(_in(_CARRY, "Carry (m)"), group="Flight"),
        replace(_sided(_in(_SIDE, "Carry Side (m)"), "suffix"), group="Flight"),
    ),
    newline="\r\n",
    groups=True,
)

_GUNNAR_SECOND = TableFile(
    "seven iron.csv",
    columns=(
        _SHOT,
        _STAMP,
        _phase("Phase", {"before": "before", "after": "after"}),
        _CLUB,
        _in(_SPEED, "Club Speed (km/h)", KMH),
        _in(_BALL, "Ball Speed (km/h)", KMH),
        _SMASH,
        _in(_ATTACK, "Attack Angle (deg)"),
        _in(_CARRY, "Carry (m)"),
        _STRIKE,
    ),
    average=True,
)

_GUNNAR_THIRD = replace(_GUNNAR_SECOND, name="tea tray.csv", delimiter=";", decimal=",")

_LENE_FIRST = TableFile(
    "driver 27 feb.csv",
    columns=(
        Words("Shot #", lambda shot: str(shot.number)),
        _in(_SPEED, "Club Speed (mph)", MPH),
        _in(_BALL, "Ball Speed (mph)", MPH),
        _in(_ATTACK, "Attack Angle (deg)"),
        _in(_LOFT, "Dynamic Loft (deg)"),
        _in(_ANGLE, "Launch Angle (deg)"),
        _in(_SPIN, "Spin Rate (rpm)"),
        _in(_CARRY, "Carry (yd)", YARD),
        _sided(_in(_SIDE, "Offline (yd)", YARD), "plus is left"),
        _in(_APEX, "Apex (ft)", FOOT),
    ),
    newline="\r\n",
    average=True,
)

_LENE_SECOND = TableFile(
    "wedges.csv",
    columns=(
        _SHOT,
        _CLUB,
        _in(_SPEED, "Club Speed", MPH, "mph"),
        _in(_BALL, "Ball Speed", MPH, "mph"),
        _ANGLE,
        replace(_SPIN, thousands=True),
        _in(_CARRY, "Carry", YARD, "yd"),
        _in(_SIDE, "Carry Side", YARD, "yd"),
    ),
    units_row=True,
)

_LENE_THIRD = TableFile(
    "street of poles.csv",
    columns=(
        _SHOT,
        _STAMP,
        _CLUB,
        _in(_SPEED, "Club Speed (mph)", MPH),
        _in(_BALL, "Ball Speed (mph)", MPH),
        _sided(_in(_PATH, "Club Path (deg)"), "suffix"),
        _sided(_in(_DIRECTION, "Launch Direction (deg)"), "suffix"),
        _in(_ANGLE, "Launch Angle (deg)"),
        _sided(_in(_TILT, "Spin Axis (deg)"), "suffix"),
        _in(_CARRY, "Carry (yd)", YARD),
        _sided(_in(_SIDE, "Carry Side (yd)", YARD), "suffix"),
    ),
    missing=frozenset({(28, "Launch Direction (deg)")}),
)

_OTTO = TableFile("six balls.csv", columns=(_SHOT, _in(_CARRY, "Carry (m)")))

EXPORTS: Mapping[str, tuple[TableFile, ...]] = {
    "mira/2027-01-23 driver": (_MIRA_FIRST,),
    "mira/2027-02-20": _MIRA_SECOND,
    "jonas/2027-01-30": (_JONAS_FIRST,),
    "jonas/2027-03-06": (_JONAS_SECOND,),
    "jonas/2027-05-08": (_JONAS_THIRD,),
    "jonas/2027-06-12": (_JONAS_FOURTH,),
    "pia/2027-02-06 pitching": (_PIA_FIRST,),
    "pia/2027-03-20": (_PIA_SECOND,),
    "pia/2027-05-15 pitching again": (_PIA_THIRD,),
    "gunnar/2027-02-13": (_GUNNAR_FIRST,),
    "gunnar/2027-03-27": (_GUNNAR_SECOND,),
    "gunnar/2027-05-01": (_GUNNAR_THIRD,),
    "lene/2027-02-27": (_LENE_FIRST,),
    "lene/2027-04-10 wedges": (_LENE_SECOND,),
    "lene/2027-05-22": (_LENE_THIRD,),
    "otto/2027-03-13": (_OTTO,),
}

# The second lesson of two files: the device was switched off and on again in between.
SPLIT_AFTER: Mapping[str, int] = {"mira/2027-02-20": 14}
