"""What the golf trade calls each number, and what such a number can be.

Plausible and impossible ranges follow the physics of impact and flight (reference bounds: club
head up to 75 m/s, ball up to 112 m/s, spin up to 18 000 rpm, ...). Outside the plausible range a
reading is flagged, outside the impossible one its row is left out.
"""

import difflib
import itertools
import re
import unicodedata
from collections.abc import Iterable, Mapping

from msgspec import Struct

from recapgen.golf.names_abroad import loose_names_abroad, names_abroad
from recapgen.model.quantity import Quantity

Range = tuple[float, float]


class Facts(Struct, frozen=True):
    """One quantity. Ranges and ``resolution`` (the step such readings come in) are inside units.

    ``confounders`` are keys of what else moves the number.
    """

    synonyms: tuple[str, ...]
    resolution: float
    plausible: Range
    impossible: Range
    confounders: tuple[str, ...] = ()


def _facts(
    synonyms: str,
    resolution: float,
    plausible: Range,
    impossible: Range,
    *,
    confounders: str = "",
) -> Facts:
    return Facts(
        tuple(s.strip() for s in synonyms.split(",")),
        resolution,
        plausible,
        impossible,
        tuple(confounders.split()),
    )


FACTS: Mapping[Quantity, Facts] = {
    Quantity.CLUB_SPEED: _facts(
        "club head speed, head speed, club velocity, clubhead velocity, swing speed, chs",
        0.1,
        (5, 62),
        (0, 75),
        confounders="warmth tiredness",
    ),
    Quantity.BALL_SPEED: _facts(
        "ball velocity, initial ball speed, launch speed, bs",
        0.1,
        (5, 90),
        (0, 112),
        confounders="ball strike",
    ),
    Quantity.SMASH_FACTOR: _facts(
        "smash, speed ratio, sf",
        0.01,
        (0.5, 1.52),
        (0, 1.75),
        confounders="strike ball",
    ),
    Quantity.ATTACK_ANGLE: _facts(
        "angle of attack, attack, vertical attack angle, aoa, aa",
        0.1,
        (-12, 10),
        (-25, 25),
        confounders="tee",
    ),
    Quantity.LOW_POINT: _facts(
        "low point distance, swing low point, low point position, bottom of arc, lp",
        0.005,
        (-0.3, 0.3),
        (-1.0, 1.0),
        confounders="tee",
    ),
    Quantity.DYNAMIC_LOFT: _facts(
        "delivered loft, loft at impact, impact loft, presented loft, effective loft",
        0.1,
        (0, 62),
        (-10, 80),
        confounders="strike",
    ),
    Quantity.SPIN_LOFT: _facts("spin loft angle", 0.1, (5, 62), (0, 80), confounders="strike"),
    Quantity.CLUB_PATH: _facts(
        "path, swing path, club path angle, horizontal path, clubhead path, path angle, "
        "club head direction",
        0.1,
        (-15, 15),
        (-35, 35),
        confounders="aim",
    ),
    Quantity.FACE_ANGLE: _facts(
        "face, club face, club face angle, face to target, clubface to target, "
        "face angle to target, club face to target",
        0.1,
        (-15, 15),
        (-35, 35),
        confounders="aim strike",
    ),
    Quantity.FACE_TO_PATH: _facts(
        "face path, face to path angle, club face to path, face relative to path, "
        "face minus path, ftp, f2p, face 2 path",
        0.1,
        (-15, 15),
        (-70, 70),
        confounders="strike",
    ),
    Quantity.LAUNCH_ANGLE: _facts(
        "launch, launch vertical, vertical launch, vertical launch angle, vertical angle, "
        "launch angle vertical, elevation angle, take off angle",
        0.1,
        (-2, 58),
        (-20, 85),
        confounders="strike tee",
    ),
    Quantity.LAUNCH_DIRECTION: _facts(
        "direction, launch horizontal, horizontal launch, horizontal launch angle, "
        "horizontal angle, start direction, starting direction, start line, ball direction, "
        "launch angle horizontal, azimuth, "
        "side angle, push pull, initial direction",
        0.1,
        (-15, 15),
        (-90, 90),
        confounders="aim strike",
    ),
    Quantity.SPIN_RATE: _facts(
        "spin, total spin, ball spin, launch spin, spin rate total, spin speed",
        10,
        (500, 12_500),
        (0, 18_000),
        confounders="ball wet",
    ),
    Quantity.SPIN_AXIS: _facts(
        "axis, spin axis tilt, spin tilt, axis tilt, spin axis angle, tilt axis",
        0.1,
        (-40, 40),
        (-90, 90),
        confounders="strike",
    ),
    Quantity.APEX: _facts(
        "height, max height, maximum height, peak height, apex height, peak, height apex, "
        "ball height, highest point",
        0.1,
        (0, 55),
        (-5, 120),
        confounders="wind air",
    ),
    Quantity.CURVE: _facts(
        "curvature, curve distance, shot curve, ball curve, bend",
        0.1,
        (-80, 80),
        (-420, 420),
        confounders="wind strike",
    ),
    Quantity.DESCENT_ANGLE: _facts(
        "descent, land angle, landing angle, angle of descent, angle of landing, landing ang",
        0.1,
        (0, 75),
        (-10, 90),
        confounders="wind air",
    ),
    Quantity.CARRY: _facts(
        "carry distance, carry length, carry dist",
        0.5,
        (0, 340),
        (0, 420),
        confounders="wind air ball",
    ),
    Quantity.CARRY_SIDE: _facts(
        "carry offline, side carry, carry deviation, carry lateral, lateral carry, offline carry, "
        "carry side distance, carry dispersion, carry off line",
        0.1,
        (-80, 80),
        (-420, 420),
        confounders="wind aim",
    ),
    Quantity.TOTAL: _facts(
        "total, total length, total dist, overall distance, full distance, carry and roll, "
        "carry plus roll, distance total",
        0.5,
        (0, 380),
        (0, 500),
        confounders="wind ground ball",
    ),
    Quantity.TOTAL_SIDE: _facts(
        "total offline, side total, total deviation, total lateral, lateral total, offline total, "
        "total side distance, final offline, total off line",
        0.1,
        (-90, 90),
        (-500, 500),
        confounders="wind aim ground",
    ),
    # Followed in pictures: the error met was a twentieth of the patch's width.
    Quantity.TRAVEL_ACROSS: _facts(
        "patch travel across, mark travel across, sideways travel",
        0.05,
        (-5, 5),
        (-20, 20),
        confounders="camera",
    ),
    Quantity.TRAVEL_UP: _facts(
        "patch travel up, mark travel up, vertical travel",
        0.05,
        (-5, 5),
        (-20, 20),
        confounders="camera",
    ),
    # Counted or paced off by whoever stands beside the ball.
    Quantity.ON_LINE: _facts(
        "started on line, starts on line, balls started on line, through the gate, gate",
        1, (0, 1), (0, 1), confounders="aim",
    ),
    Quantity.IN_CIRCLE: _facts(
        "circle, inside the circle, balls in the circle, landed in the circle, "
        "landing in the circle, landing within a circle, within the circle, "
        "landing zone, in the landing zone",
        1, (0, 1), (0, 1), confounders="ball",
    ),
    Quantity.HOLED: _facts(
        "holed putts, putts holed, balls holed, made, made putts, putts made",
        1, (0, 1), (0, 1), confounders="green",
    ),
    Quantity.UP_AND_DOWN: _facts(
        "up and downs, up and down saves, up & down, up down, scrambling",
        1, (0, 1), (0, 1), confounders="green",
    ),
    Quantity.GREEN_HIT: _facts(
        "greens hit, green, greens, green in regulation, greens in regulation, gir",
        1, (0, 1), (0, 1), confounders="wind",
    ),
    Quantity.FAIRWAY_HIT: _facts(
        "fairways hit, fairway, fairways", 1, (0, 1), (0, 1), confounders="wind"
    ),
    Quantity.DISTANCE_LEFT: _facts(
        "left to the hole, distance left to the hole, distance from the hole, leave, proximity, "
        "distance to hole",
        0.1, (0, 30), (0, 150), confounders="green",
    ),
    Quantity.PACE: _facts(
        "past the hole, distance past, distance past the hole, distance control, roll past",
        0.1, (-10, 10), (-40, 40), confounders="green",
    ),
}  # fmt: skip

_SIDE = (Quantity.CARRY_SIDE, Quantity.TOTAL_SIDE)
_LENGTH = (Quantity.CARRY, Quantity.TOTAL)
_LOOSE: Mapping[str, tuple[Quantity, ...]] = {
    "speed, velocity": (Quantity.CLUB_SPEED, Quantity.BALL_SPEED),
    "distance, length, range": _LENGTH,
    "side, offline, off line, lateral, deviation, dispersion, miss": _SIDE,
    "lateral distance, side distance, offline distance, off target, left right": _SIDE,
    "loft": (Quantity.DYNAMIC_LOFT, Quantity.SPIN_LOFT),
    "angle": (Quantity.LAUNCH_ANGLE, Quantity.ATTACK_ANGLE),
    "impact angle": (Quantity.ATTACK_ANGLE, Quantity.DESCENT_ANGLE),
}

_SHORT: Mapping[str, tuple[str, ...]] = {
    "speed": ("speed", "spd", "sp", "vel"),
    "velocity": ("velocity", "vel"),
    "angle": ("angle", "ang", "angl"),
    "direction": ("direction", "dir"),
    "distance": ("distance", "dist", "dst"),
    "height": ("height", "hgt", "ht"),
    "maximum": ("maximum", "max"),
    "dynamic": ("dynamic", "dyn"),
    "vertical": ("vertical", "vert", "v"),
    "horizontal": ("horizontal", "horiz", "hor", "h"),
    "launch": ("launch", "lnch"),
    "lateral": ("lateral", "lat"),
    "deviation": ("deviation", "dev"),
    "factor": ("factor", "fact", "fac"),
    "total": ("total", "tot", "ttl"),
    "attack": ("attack", "atk", "att"),
    "landing": ("landing", "land"),
    "descent": ("descent", "desc"),
    "rate": ("rate", "rt"),
    "club": ("club", "clb"),
}
_ACCENTS = re.compile("[\u0300-\u036f]")
_FILLERS = frozenset({"the", "of", "at", "measured", "calc", "calculated", "est", "estimated"})


def words_of(text: str) -> list[str]:
    """The words of a heading, lower case, no accents: "ClubSpeed_mph" -> club, speed, mph."""
    apart = re.sub(r"(?<=[a-z])(?=[A-Z])|(?<=[A-Z])(?=[A-Z][a-z])", " ", text)
    bare = _ACCENTS.sub("", unicodedata.normalize("NFD", apart.casefold()))
    return re.findall(r"[^\W_]+", unicodedata.normalize("NFC", bare))


def key_of(text: str) -> str:
    """What two spellings of one name share: no case, blanks, punctuation or filler words."""
    words = words_of(text)
    return "".join(w for w in words if w not in _FILLERS) or "".join(words)


def _spellings(name: str) -> Iterable[str]:
    choices = [_SHORT.get(word, (word,)) for word in words_of(name) if word not in _FILLERS]
    return ("".join(choice) for choice in itertools.product(*choices))


_NAMES: Mapping[str, Quantity] = {
    spelling: quantity
    for quantity, facts in FACTS.items()
    for name in (*facts.synonyms, quantity.value, *names_abroad(quantity))
    for spelling in _spellings(name)
}
_UNSURE: Mapping[str, tuple[Quantity, ...]] = {
    spelling: quantities
    for name, quantities in (
        *((name, meant) for names, meant in _LOOSE.items() for name in names.split(", ")),
        *loose_names_abroad(),
    )
    for spelling in _spellings(name)
}


def quantity_named(text: str) -> Quantity | None:
    """The quantity that a common spelling stands for ("AoA", "ball_speed", "Clubhead speed")."""
    return _NAMES.get(key_of(text))


def quantities_perhaps(text: str) -> tuple[Quantity, ...]:
    """The quantities that a loose word may stand for ("offline": carry side or total side)."""
    key = key_of(text)
    return () if key in _NAMES else _UNSURE.get(key, ())


def nearest_quantity(text: str) -> Quantity | None:
    """The quantity whose name is nearest to a misspelt one, for "did you mean"; None if none is."""
    near = difflib.get_close_matches(key_of(text), _NAMES, n=1, cutoff=0.75)
    return _NAMES[near[0]] if near else None
