"""In which form each lesson's shots lie in its folder: no two alike, all of them understandable."""

from collections.abc import Mapping
from dataclasses import replace

from sample_making.shot_tables import FOOT, KMH, MPH, YARD, Amount, TableFile, Words

_SHOT = Words("Ball no.", lambda shot: str(shot.number))
_CLUB = Words("Club", lambda shot: shot.club)
_CLOCK = Words("Clock", lambda shot: f"{shot.time:%H:%M:%S}")
_STAMP = Words("Hit at", lambda shot: f"{shot.time:%Y-%m-%d %H:%M:%S}")
_STRIKE = Words("Off the middle", lambda shot: shot.tag)
_SPEED = Amount("swing speed", lambda s: s.delivery.speed_mps)
_BALL = Amount("ball speed", lambda s: s.launch.ball_speed_mps)
_SMASH = Amount("smash", lambda s: s.launch.ball_speed_mps / s.delivery.speed_mps, places=2)
_ATTACK = Amount("attack", lambda s: s.delivery.attack_deg, unit="deg")
_PATH = Amount("path", lambda s: s.delivery.path_deg, unit="deg")
_FACE = Amount("face", lambda s: s.delivery.face_deg, unit="deg")
_LOFT = Amount("delivered loft", lambda s: s.delivery.loft_deg, unit="deg")
_ANGLE = Amount("launch", lambda s: s.launch.angle_deg, unit="deg")
_DIRECTION = Amount("start line", lambda s: s.launch.direction_deg, unit="deg")
_SPIN = Amount("spin", lambda s: s.launch.spin_rpm, places=0, unit="rpm")
_TILT = Amount("axis tilt", lambda s: s.launch.tilt_deg, unit="deg")
_CARRY = Amount("carry", lambda s: s.landing.carry_m, unit="m")
_SIDE = Amount("side carry", lambda s: s.landing.side_m, unit="m")
_APEX = Amount("peak height", lambda s: s.landing.apex_m, unit="m")


def _in(column: Amount, heading: str, per_unit: float = 1.0, unit: str = "") -> Amount:
    return replace(column, heading=heading, per_unit=per_unit, unit=unit)


def _phase(heading: str, said: Mapping[str, str]) -> Words:
    return Words(heading, lambda shot: said[shot.block])


def _sided(column: Amount, sides: str) -> Amount:
    return replace(column, sides=sides)


def _remark(remarks: Mapping[int, str]) -> Words:
    return Words("Seen", lambda shot: remarks.get(shot.number, ""))


_MIRA_FIRST = TableFile(
    "range session.csv",
    columns=(
        _SHOT,
        _CLOCK,
        _CLUB,
        replace(_SPEED, per_unit=MPH, unit="mph"),
        replace(_BALL, per_unit=MPH, unit="mph"),
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
    title="Saturday morning, second mat from the door",
    units_row=True,
    average=True,
    missing=frozenset({(30, "path"), (30, "face"), (18, "spin")}),
)

_MIRA_SECOND = tuple(
    TableFile(
        name,
        columns=(
            _STAMP,
            _CLUB,
            _in(_SPEED, "swing speed mph", MPH),
            _in(_BALL, "ball speed mph", MPH),
            _in(_PATH, "path deg"),
            _in(_FACE, "face deg"),
            _in(_ATTACK, "attack deg"),
            _in(_ANGLE, "launch deg"),
            _in(_CARRY, "carry m"),
            _in(_SIDE, "side carry m"),
        ),
        newline="\r\n",
    )
    for name in ("part one.csv", "part two.csv")
)

_JONAS_FIRST = TableFile(
    "bay 2.csv",
    columns=(
        _SHOT,
        _phase("Part", {"before": "before", "drill": "drill", "after": "after"}),
        _CLUB,
        _in(_SPEED, "swing speed [km/h]", KMH),
        _in(_BALL, "ball speed [km/h]", KMH),
        _in(_ATTACK, "attack [deg]"),
        _sided(_in(_PATH, "path [deg]"), "prefix"),
        _in(_LOFT, "delivered loft [deg]"),
        _in(_ANGLE, "launch [deg]"),
        _in(_SPIN, "spin [rpm]"),
        _in(_CARRY, "carry [m]"),
        _sided(_in(_SIDE, "side carry [m]"), "prefix"),
    ),
    delimiter=";",
    decimal=",",
    missing=frozenset({(7, "spin [rpm]")}),
)

_JONAS_SECOND = replace(
    _JONAS_FIRST,
    name="2027-03-06 lawn.csv",
    columns=(
        _SHOT,
        _phase("Part", {"warm-up": "warm-up", "before": "then", "after": "now"}),
        *_JONAS_FIRST.columns[2:],
    ),
    newline="\r\n",
    encoding="utf-8-sig",
    missing=frozenset({(22, "attack [deg]")}),
)

_JONAS_THIRD = TableFile(
    "eight iron.csv",
    columns=(
        _SHOT,
        _phase("Stage", {"before": "pre", "after": "post"}),
        _in(_SPEED, "swing speed [km/h]", KMH),
        _in(_ATTACK, "attack [deg]"),
        _in(_ANGLE, "launch [deg]"),
        _in(_SPIN, "spin [rpm]"),
        _in(_CARRY, "carry [m]"),
        _in(_SIDE, "side carry [m]"),
    ),
)

_JONAS_FOURTH = TableFile(
    "before breakfast.csv",
    columns=(
        _SHOT,
        _STAMP,
        _phase("Stage", {"before": "pre", "drill": "drill", "after": "post"}),
        _CLUB,
        _in(_SPEED, "swing speed [km/h]", KMH),
        _in(_BALL, "ball speed [km/h]", KMH),
        _in(_ANGLE, "launch [deg]"),
        _in(_SPIN, "spin [rpm]"),
        _in(_CARRY, "carry [m]"),
        _in(_SIDE, "side carry [m]"),
    ),
)

_PIA_FIRST = TableFile(
    "pitches.csv",
    columns=(
        _SHOT,
        _CLOCK,
        _CLUB,
        _in(_SPEED, "swing speed_m/s"),
        _in(_BALL, "ball speed_m/s"),
        _in(_ANGLE, "launch_deg"),
        _in(_SPIN, "spin_rpm"),
        _in(_CARRY, "carry_m"),
        _in(_SIDE, "side carry_m"),
        _STRIKE,
    ),
)

_PIA_SECOND = TableFile(
    "nine irons.csv",
    columns=(
        _phase("Stage", {"before": "before", "after": "after"}),
        _CLUB,
        _in(_SPEED, "swing speed_m/s"),
        _in(_BALL, "ball speed_m/s"),
        _SMASH,
        _in(_ANGLE, "launch_deg"),
        _in(_CARRY, "carry_m"),
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
            "Stage",
            {"warm-up": "warm up", "before": "before", "drill": "drill", "after": "after"},
        ),
        _CLUB,
        replace(_in(_SPEED, "swing speed, km/h", KMH), group="Club"),
        replace(_in(_ATTACK, "attack, deg"), group="Club"),
        replace(_sided(_in(_PATH, "path, deg"), "suffix"), group="Club"),
        replace(_in(_BALL, "ball speed, km/h", KMH), group="Ball"),
        replace(_in(_ANGLE, "launch, deg"), group="Ball"),
        replace(_in(_SPIN, "spin, rpm"), group="Ball", thousands=True),
        replace(_in(_CARRY, "carry, m"), group="Flight"),
        replace(_sided(_in(_SIDE, "side carry, m"), "suffix"), group="Flight"),
    ),
    newline="\r\n",
    groups=True,
)

_GUNNAR_SECOND = TableFile(
    "seven iron.csv",
    columns=(
        _SHOT,
        _STAMP,
        _phase("Stage", {"before": "before", "after": "after"}),
        _CLUB,
        _in(_SPEED, "swing speed, km/h", KMH),
        _in(_BALL, "ball speed, km/h", KMH),
        _SMASH,
        _in(_ATTACK, "attack, deg"),
        _in(_CARRY, "carry, m"),
        _STRIKE,
    ),
    average=True,
)

_GUNNAR_THIRD = replace(_GUNNAR_SECOND, name="tea tray.csv", delimiter=";", decimal=",")

_LENE_FIRST = TableFile(
    "driver 27 feb.csv",
    columns=(
        Words("No.", lambda shot: str(shot.number)),
        _in(_SPEED, "swing speed {mph}", MPH),
        _in(_BALL, "ball speed {mph}", MPH),
        _in(_ATTACK, "attack {deg}"),
        _in(_LOFT, "delivered loft {deg}"),
        _in(_ANGLE, "launch {deg}"),
        _in(_SPIN, "spin {rpm}"),
        _in(_CARRY, "carry {yd}", YARD),
        _sided(_in(_SIDE, "landed aside {yd}", YARD), "plus is left"),
        _in(_APEX, "peak height {ft}", FOOT),
    ),
    newline="\r\n",
    average=True,
)

_LENE_SECOND = TableFile(
    "wedges.csv",
    columns=(
        _SHOT,
        _CLUB,
        replace(_SPEED, per_unit=MPH, unit="mph"),
        replace(_BALL, per_unit=MPH, unit="mph"),
        _ANGLE,
        replace(_SPIN, thousands=True),
        replace(_CARRY, per_unit=YARD, unit="yd"),
        replace(_SIDE, per_unit=YARD, unit="yd"),
    ),
    units_row=True,
)

_LENE_THIRD = TableFile(
    "street of poles.csv",
    columns=(
        _SHOT,
        _STAMP,
        _CLUB,
        _in(_SPEED, "swing speed {mph}", MPH),
        _in(_BALL, "ball speed {mph}", MPH),
        _sided(_in(_PATH, "path {deg}"), "suffix"),
        _sided(_in(_DIRECTION, "start line {deg}"), "suffix"),
        _in(_ANGLE, "launch {deg}"),
        _sided(_in(_TILT, "axis tilt {deg}"), "suffix"),
        _in(_CARRY, "carry {yd}", YARD),
        _sided(_in(_SIDE, "side carry {yd}", YARD), "suffix"),
    ),
    missing=frozenset({(28, "start line {deg}")}),
)

_OTTO = TableFile("six balls.csv", columns=(_SHOT, _in(_CARRY, "carry m")))

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
